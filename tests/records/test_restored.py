"""An event put together from a snapshot is what was sent, whatever became of the content since."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.order.order import sets_at
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.records.restored import gone, restored
from sitegen.records.restored_piece import as_agreed
from sitegen.records.restored_terms import with_charges
from sitegen.records.snapshot import Snapshot, snapshot
from tests import make
from tests.records.test_snapshot import again
from tests.render import sample

DEAR = {
    name: {**stem, "offers": [{**stem["offers"][0], "price": "99.00"}]} for name, stem in sample.STEMS.items()
}
FEWER = {**sample.BOUQUETS, "recipe": {"rose-blush": "1"}, "choices": [], "quantity": "2", "extra": "0"}
RENAMED = {**sample.ARCH, "piece": "Gate", "group": "Somewhere", "optional": "no", "taxable": "no"}


def other(*pieces: dict[str, Any], stems: Any = None, **studio: Any) -> PricedEvent:
    shared = replace(
        make.shared(stems=stems or sample.STEMS, goods=sample.GOODS, **(sample.TERMS | studio)),
        terms=sample.shared().terms,
    )
    return with_photos(price_event(shared, sample.event(*pieces)))


def with_photos(event: PricedEvent) -> PricedEvent:
    """The photos that any of its pieces may show lie in its folder."""
    photos = {name: Path(name) for name in ("a.jpg", "b.jpg", "c.jpg")}
    return replace(event, folder=replace(event.folder, photos=photos))


CONTENTS = {
    "as it was": with_photos(sample.priced()),
    "dearer": other(stems=DEAR),
    "another recipe": other(FEWER, sample.ARCH, sample.TABLES),
    "renamed": other(sample.BOUQUETS, RENAMED, sample.TABLES),
    "pieces gone and turned round": other(sample.TABLES, sample.ARCH),
    "another piece first": other({**sample.TABLES, "id": "new"}, sample.BOUQUETS),
    "other terms": other(charges=[], discount={"amount": "1.00"}, tax={"rates": []}, payments=[]),
    "tax contained, by the line": other(
        tax={"rates": [{"label": "VAT", "rate": "20%"}], "included": "yes", "rounding": "line"}
    ),
    "names alone": other(show_stems="names"),
}


def agreed_part(of: Snapshot) -> Any:
    """What an approval freezes: all but the day, its places and hours, and what is told around the pieces."""
    shown = of.shown
    words = (shown.pieces, shown.labels, shown.table, shown.terms, shown.stems, shown.goods, shown.show_stems)
    return words, of.kept


@pytest.mark.parametrize("name", CONTENTS)
def test_whatever_the_content_says_now(name: str) -> None:
    sent = snapshot(sample.priced())
    again = snapshot(restored(sent, CONTENTS[name]))
    assert agreed_part(again) == agreed_part(sent)


def test_the_days_work_is_as_it_is_now() -> None:
    sent = snapshot(sample.priced())
    later = other({**sample.BOUQUETS, "bench": "3", "private": "mind"}, stems=DEAR)
    found = restored(sent, later)
    assert found.pieces[0].file.piece.bench.days_before == 3
    assert found.shared.stems["olive"].offers == later.shared.stems["olive"].offers
    assert found.folder.event == later.folder.event


def test_what_left_the_catalogue_is_named_and_stands_without_an_offer() -> None:
    sent = snapshot(sample.priced())
    stems = {name: stem for name, stem in sample.STEMS.items() if name != "larkspur"}
    now = other(sample.ARCH, stems=stems)
    assert gone(sent, now.shared) == ("Larkspur",)
    found = restored(sent, now)
    assert (found.shared.stems["larkspur"].name, found.shared.stems["larkspur"].offers) == ("Larkspur", ())
    assert agreed_part(snapshot(found)) == agreed_part(sent)


def test_an_agreed_event_comes_to_the_same_and_leaves_nothing_to_choose() -> None:
    event = sample.priced()
    prices = table(event)
    picks = Picks((Pick((1, 1, 1), 7), *usual_picks(prices).pieces[1:]), frozenset({1}))
    both = zip(event.pieces, picks.pieces, strict=True)
    pieces = tuple(as_agreed(piece, pick.answers, pick.quantity) for piece, pick in both)
    folder = replace(event.folder, pieces=tuple(piece.file for piece in pieces))
    fixed = with_charges(replace(event, pieces=pieces, folder=folder), picks.charges)
    rows = table(fixed)
    assert totals(rows, usual_picks(rows)).total == totals(prices, picks).total
    assert [(piece.least, piece.most, piece.optional) for piece in rows.pieces[:2]] == [
        (7, 7, False),
        (1, 1, False),
    ]
    assert not any(charge.optional for charge in rows.charges)
    assert {len(piece.combinations) for piece in fixed.pieces} == {1}


SET: dict[str, Any] = {
    **sample.BOUQUETS,
    "recipe": {"rose-blush": "3", "larkspur": "2", "olive": "2", "rose-cream": "1"},
    "choices": [
        make.choice("colour", {"id": "shown", "usual": "yes"}, {"id": "soft", "swap": {"rose-blush": "lily"}})
    ],
    "varied": {"keep": ["rose-blush"], "alike": "0.5", "versions": "3"},
}


@pytest.mark.parametrize("answer", [0, 1])
@pytest.mark.parametrize(
    "now",
    [
        {"stems": DEAR},
        {"varied": {"keep": ["olive"]}},
        {"varied": None},
        {"choices": []},
    ],
    ids=["dearer", "kept otherwise", "no set", "no choice"],
)
def test_a_set_is_dealt_as_it_was_whatever_the_content_says_now(answer: int, now: dict[str, Any]) -> None:
    before = sample.priced(SET)
    picks = Picks((Pick((answer,), 5),), frozenset())
    sent = sets_at(before, picks)
    stems = now.get("stems")
    piece = {**SET, **{key: value for key, value in now.items() if key != "stems"}}
    found = restored(again(snapshot(before)), other(piece, stems=stems))
    assert sets_at(found, picks) == sent
    assert list(sent["bouquets"].kept) == [("rose-blush", "lily")[answer]]
    agreed = as_agreed(found.pieces[0], (answer,), 5)
    fixed = replace(found, pieces=(agreed,), folder=replace(found.folder, pieces=(agreed.file,)))
    assert sets_at(fixed, usual_picks(table(fixed))) == sent


def test_a_record_from_before_sets_were_dealt_is_dealt_with_what_is_kept() -> None:
    taken = snapshot(sample.priced(SET))
    piece = replace(taken.kept.pieces[0], same=(), same_of=())
    old = Snapshot(taken.shown, replace(taken.kept, pieces=(piece,), worths=()))
    found = restored(again(old), sample.priced(SET))
    picks = Picks((Pick((0,), 5),), frozenset())
    assert sets_at(found, picks)["bouquets"].kept == {"rose-blush": 3}
