"""The snapshot of a revision: exact on the way to the disk and back, enough to price and order from, and private."""

import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from itertools import product
from typing import Any, get_args, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.table import Table, table
from sitegen.choices.totals import totals
from sitegen.order.order import portions as ordered
from sitegen.pictures.head import PhotoHead
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.records.plain import plain, restore
from sitegen.records.shown import Shown
from sitegen.records.snapshot import (
    Snapshot,
    changed_for_couple,
    couple_digest,
    couple_part,
    portions,
    snapshot,
)
from tests import make
from tests.laws.drawn import picks_of, tables
from tests.reading import DEMO, read_content
from tests.render import sample


def again(one: Snapshot) -> Snapshot:
    return restore(Snapshot, json.loads(json.dumps(plain(one))))


@pytest.fixture(scope="module")
def demo() -> list[PricedEvent]:
    shared, folders = read_content(DEMO)
    return [price_event(shared, folder) for folder in folders]


def test_the_demo_comes_back_as_it_went(demo: list[PricedEvent]) -> None:
    for priced in demo:
        taken = snapshot(priced)
        back = again(taken)
        assert back == taken
        assert json.dumps(plain(back)) == json.dumps(plain(taken))
        assert back.shown.table == table(priced)


@given(tables())
def test_any_table_comes_back_as_it_went(drawn: Table) -> None:
    assert restore(Table, json.loads(json.dumps(plain(drawn)))) == drawn


@given(st.data())
def test_a_reply_is_priced_and_ordered_from_the_snapshot_as_from_the_content(data: st.DataObject) -> None:
    priced = sample.priced()
    back = again(snapshot(priced))
    picks = data.draw(picks_of(table(priced)))
    assert totals(back.shown.table, picks) == totals(table(priced), picks)
    assert portions(back, picks) == ordered(priced, picks)


def test_the_whole_demo_is_ordered_from_the_snapshot_as_from_the_content(demo: list[PricedEvent]) -> None:
    for priced in demo:
        back = again(snapshot(priced))
        usual = usual_picks(back.shown.table)
        assert portions(back, usual) == ordered(priced, usual)
        for i, piece in enumerate(back.shown.table.pieces):
            for answers in product(*map(range, piece.answers)):
                pick = Pick(answers, piece.most)
                picks = Picks((*usual.pieces[:i], pick, *usual.pieces[i + 1 :]))
                assert portions(back, picks) == ordered(priced, picks)


def test_every_name_that_a_snapshot_uses_stands_in_it(demo: list[PricedEvent]) -> None:
    for priced in demo:
        taken = snapshot(priced)
        stems = {named.id for named in taken.shown.stems}
        assert {id_ for piece in taken.shown.pieces for recipe in piece.recipes for id_, _ in recipe} == stems
        goods = {named.id for named in taken.kept.goods}
        assert {id_ for piece in taken.kept.pieces for lines in piece.goods for id_, _ in lines} == goods
        assert {named.id for named in taken.shown.goods} <= goods


def test_the_same_content_is_the_same_snapshot_in_the_same_bytes() -> None:
    one, other = snapshot(sample.priced()), snapshot(sample.priced())
    assert json.dumps(plain(one)) == json.dumps(plain(other))
    assert couple_digest(one) == couple_digest(other)


# Changes that only the studio knows of: none of them asks for a new revision.
PRIVATE: dict[str, Mapping[str, Any]] = {
    "a budget": {"budget": "5000.00"},
    "a note to self": {"private": "7.131 ask again"},
    "money that came in": {"paid": [{"date": "2031-01-09", "amount": "100.00"}]},
    "the crew": {"crew": {"hands": "3", "pay": "22.00"}},
    "that it was declined": {"closed": "declined"},
}
# Changes that the couple can see or pay.
PUBLIC: dict[str, Mapping[str, Any]] = {
    "their names": {"for": "Ada and Bo"},
    "the day": {"day": "2031-06-15"},
    "how long prices hold": {"valid": "20 days"},
    "when changes close": {"changes_close": "21 days before"},
    "the least": {"least": "1000.00"},
    "what they mind": {"mind": ["cats"]},
    "the note": {"note": "Dear both,\n\nOnce more."},
    "a place's hour": {"places": [{**sample.EVENT["places"][0], "starts": "15:00"}, sample.EVENT["places"][1]]},
    "a discount": {"discount": {"percent": "6%"}},
    "a payment's day": {"payments": [{"label": "All", "rest": "yes", "due": "7 days before"}]},
}  # fmt: skip


@pytest.mark.parametrize("what", PRIVATE)
def test_what_only_the_studio_knows_asks_for_no_revision(what: str) -> None:
    before, after = snapshot(sample.priced()), snapshot(sample.priced(**PRIVATE[what]))
    assert not changed_for_couple(before, after)
    assert couple_digest(before) == couple_digest(after)


@pytest.mark.parametrize("what", PUBLIC)
def test_what_the_couple_see_or_pay_asks_for_a_revision(what: str) -> None:
    more = {"day": "2031-06-14", **PUBLIC[what]}
    before = snapshot(price_event(sample.shared(), sample.event()))
    after = snapshot(price_event(sample.shared(), sample.event(**more)))
    assert changed_for_couple(before, after)
    assert couple_digest(before) != couple_digest(after)


PIECES: dict[str, tuple[bool, Mapping[str, Any]]] = {
    "minutes without labour": (False, {"minutes": "30"}),
    "pins that no answer speaks of": (False, {"goods": {"ribbon": "0.5 yd", "candle": "0"}}),
    "the bench": (False, {"bench": "2"}),
    "the length of stems": (False, {"stem_length": "7 in"}),
    "a note to self": (False, {"private": "7.131"}),
    "what matters": (False, {"matters": "5"}),
    "its name": (True, {"piece": "Bouquets"}),
    "a spare": (True, {"extra": "2"}),
    "one stem more": (True, {"recipe": {"rose-blush": "3", "larkspur": "3", "olive": "2/3"}}),
    "the order of stems": (True, {"recipe": {"olive": "2/3", "rose-blush": "3", "larkspur": "2"}}),
    "where it moves": (True, {"second_place": {"place": "barn", "spot": "Bar", "from": "16:30", "vessel": "cup"}}),
    "who wears it": (True, {"wearers": ["Bea"]}),
    "a photo's words": (True, {"photos": [{"file": "a.jpg", "alt": "Three"}, {"file": "b.jpg", "kind": "inspiration"}]}),
    "how it is shared out": (True, {"varied": {"keep": ["olive"]}}),
    "that they may leave it": (True, {"optional": "yes"}),
    "that tax is due": (True, {"taxable": "no"}),
}  # fmt: skip


@pytest.mark.parametrize("what", PIECES)
def test_what_changes_in_a_piece_for_the_couple(what: str) -> None:
    seen, change = PIECES[what]
    before = snapshot(sample.priced(sample.BOUQUETS))
    after = snapshot(sample.priced({**sample.BOUQUETS, **change}))
    assert changed_for_couple(before, after) is seen


def test_a_cost_that_leaves_the_price_alone_asks_for_no_revision() -> None:
    piece = {**sample.TABLES, "price": "50.00"}
    dear = {
        **sample.STEMS,
        "rose-cream": make.stem("9.00", name="Garden rose, cream", colour="#f5ead0", bloom="3 in"),
    }
    before = sample.priced(piece)
    after = price_event(replace(sample.shared(), stems=make.shared(stems=dear).stems), sample.event(piece))
    assert snapshot(before).kept != snapshot(after).kept
    assert not changed_for_couple(snapshot(before), snapshot(after))


@pytest.mark.parametrize("show", ["counts", "names", "no"])
def test_a_recipe_is_shown_as_far_as_the_studio_shows_it(show: str) -> None:
    def of(**more: Any) -> Snapshot:
        recipe = {"rose-blush": "3", "larkspur": "2", "olive": "2/3", **more}
        piece = {**sample.BOUQUETS, "recipe": recipe, "price": "99.00", "choices": []}
        return snapshot(sample.priced(piece, studio={"show_stems": show}, mind=[]))

    assert changed_for_couple(of(), of(larkspur="3")) is (show == "counts")
    assert changed_for_couple(of(), of(lily="1")) is (show != "no")
    assert again(of()) == of()
    if show != "counts":
        assert "2/3" not in json.dumps(plain(couple_part(of())))
        assert "2/3" in json.dumps(plain(of().kept))


def test_another_picture_of_the_same_name_is_known_by_its_bytes() -> None:
    heads = [
        {"a.jpg": PhotoHead("JPEG", 10, 10, digest, (size, 0, 0, 0))}
        for digest, size in (("a", 1), ("a", 2), ("b", 1))
    ]
    one, touched, other = (snapshot(sample.priced(), of) for of in heads)
    assert not changed_for_couple(one, touched)
    assert changed_for_couple(one, other)


def test_nothing_private_is_in_the_couples_part() -> None:
    """Canaries in every private field of the content; each of them would be found in the couple's part."""
    stems = {
        name: {**stem, "private": "canary-stem", "loss": "7.131%", "offers": [
            {"supplier": "farm", "bunch": "7", "price": "71.31", "sold_as": "canary-sold-as"}]}
        for name, stem in sample.STEMS.items()
    }  # fmt: skip
    goods = {
        name: {
            **good,
            "private": "canary-good",
            **({"replace": "71.31", "owned": "7131"} if "hire" in good else {}),
        }
        for name, good in sample.GOODS.items()
    }
    piece = {
        **sample.BOUQUETS,
        "private": "canary-piece",
        "minutes": "7131",
        "price": "50.00",
        "matters": "5",
    }
    shared = make.shared(stems=stems, goods=goods, **sample.TERMS, private="canary-studio",
                         pricing={"markup": {"fresh": "7.131"}, "target": "71.31%"})  # fmt: skip
    event = sample.event(piece, private="canary-event", budget="7131.00", crew={"pay": "71.31"})
    taken = snapshot(price_event(shared, event))
    shown = json.dumps(plain(couple_part(taken)))
    assert "canary" not in json.dumps(plain(taken))
    assert "7131" not in shown
    assert "71.31" not in shown
    assert "7131" in json.dumps(plain(taken.kept))
    cost = taken.kept.pieces[0].cost[0]
    assert str(cost) not in shown


def test_the_couples_part_has_no_field_for_what_is_private() -> None:
    """Every field of every type that the couple's part can hold, by name."""
    private = {
        "cost",
        "costs",
        "supplier",
        "margin",
        "markup",
        "budget",
        "private",
        "minutes",
        "loss",
        "kept",
        "offer",
    }
    seen: set[Any] = set()

    def walk(kind: Any) -> None:
        if is_dataclass(kind) and kind not in seen:
            seen.add(kind)
            assert not private & {field.name for field in fields(kind)}
            for part in get_type_hints(kind).values():
                walk(part)
        for part in get_args(kind):
            walk(part)

    walk(Shown)
    assert len(seen) > 10


def test_amounts_are_exact() -> None:
    piece = {**sample.BOUQUETS, "recipe": {"rose-blush": "1/3"}, "choices": []}
    taken = again(snapshot(sample.priced(piece)))
    assert taken.kept.pieces[0].recipes == ((("rose-blush", Fraction(1, 3)),),)
    assert taken.kept.pieces[0].cost == (
        Fraction(1) + Fraction(1, 2),
    )  # a third of 3.00, half a yard at 1.00
