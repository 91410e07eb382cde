"""What has moved since an approval, and what it does to what is left, against sums by hand."""

import datetime as dt
from dataclasses import replace
from typing import Any

from sitegen.build.moved import moved, moved_problem
from sitegen.choices.picks import Pick, Picks
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.records.agreed import Approval, Approved
from sitegen.records.journal import sealed
from sitegen.records.snapshot import snapshot
from sitegen.render.desk_progress import Moved
from tests import make
from tests.render import sample

WAS = sample.priced()
# Fuller bouquets (five roses), seven of them and one extra; no arch.
CHOSEN = Picks((Pick((1, 0, 0), 7), Pick((), 1, out=True), Pick((), 12)))


def dearer(**prices: str) -> PricedEvent:
    stems = sample.STEMS | {name: make.stem(price, name=name) for name, price in prices.items()}
    shared = make.shared(stems=stems, goods=sample.GOODS, **sample.TERMS)
    return price_event(shared, sample.event())


def since(content: PricedEvent) -> Moved:
    was = snapshot(WAS)
    agreed = Approval(1, CHOSEN, totals(was.shown.table, CHOSEN).total)
    record = sealed(2, "approval", dt.date(2031, 5, 3), "", agreed)
    return moved(Approved(record, agreed), was, snapshot(content), content)


def test_nothing_moves_while_nothing_changes() -> None:
    found = since(WAS)
    assert (found.moves, found.was) == ((), found.now)


def test_a_dearer_stem_leaves_less_of_each_piece_that_takes_it() -> None:
    content = dearer(**{"rose-blush": "4.00"})
    found = since(content)
    # One more for each of five roses in eight bouquets; the stem has no loss.
    lost = {move.name: move.left for move in found.moves}
    assert lost["Attendants' bouquets"] == -4000
    assert sum(lost.values()) == found.now - found.was == -4000
    agreed = totals(snapshot(WAS).shown.table, CHOSEN)
    cost = sum(
        one.cost * copies for one, copies in ((WAS.pieces[0].at((1, 0, 0)), 8), (WAS.pieces[2].at(()), 12))
    )
    assert found.was == agreed.total - sum(agreed.tax) - round(100 * cost)


def test_the_warning_says_a_difference_only_where_there_is_one() -> None:
    content = dearer(**{"rose-blush": "4.00"})
    found = since(content)
    (told,) = moved_problem(found, content)
    assert "what is in its recipes costs $40.00 more" in told.why
    (told,) = moved_problem(replace(found, now=found.was), content)
    assert "costs no more and no less today" in told.why


def test_what_is_gone_costs_what_it_did_and_what_is_new_costs_nothing() -> None:
    jug: dict[str, Any] = {"id": "jug", "piece": "Jug", "group": "Ceremony", "recipe": {"lily": "9"}}
    found = since(sample.priced(sample.BOUQUETS, sample.ARCH, jug))
    assert {move.name for move in found.moves} >= {"Low bowls", "Jug"}
    assert found.was == found.now
    assert all(not move.left for move in found.moves)
