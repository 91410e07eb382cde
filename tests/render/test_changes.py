"""What changed between two proposals, in a couple's words and in the florist's."""

import datetime as dt
import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import usual_picks
from sitegen.price.event import price_event
from sitegen.records.difference import difference, sums_of
from sitegen.records.journal import Record
from sitegen.records.revisions import Sent
from sitegen.records.shown import Shown
from sitegen.records.snapshot import Snapshot, snapshot
from sitegen.render.changes import since, still_agreed, tell, voice_of
from sitegen.render.compare import studio_changes
from sitegen.render.compare_text import NoSuchRevision, compare
from sitegen.render.couple import Since
from tests import make
from tests.render import sample

DAY = dt.date(2031, 5, 3)


def of(*pieces: Mapping[str, Any], studio: dict[str, Any] | None = None, **more: Any) -> Snapshot:
    return snapshot(price_event(sample.shared(**(studio or {})), sample.event(*map(dict, pieces), **more)))


def told(was: Snapshot, now: Snapshot) -> dict[str, tuple[str, str]]:
    """Rows by name: what is said, and the money."""
    found = since(was.shown, now.shown, DAY)
    assert found is not None
    return {row.name: (row.what, row.money) for row in found.rows}


def bouquets(**more: Any) -> dict[str, Any]:
    return {**sample.BOUQUETS, **more}


PLAIN = bouquets(choices=[], second_place=None, photos=[])
del PLAIN["second_place"]


def test_six_instead_of_five() -> None:
    """Worked by hand: one bouquet is 3 × 3.00 + 2 × 1.20 + ⅔ × 0.60 + 0.5 yd × 1.00 = 12.30, at cost."""
    few = {**PLAIN, "quantity": {"usual": "5", "from": "4", "to": "7"}}
    many = {**PLAIN, "quantity": {"usual": "6", "from": "4", "to": "7"}}
    bare: dict[str, Any] = {"charges": [], "tax": {"rates": []}, "discount": None, "payments": []}
    del bare["discount"]
    was, now = (snapshot(price_event(make_shared(bare), sample.event(one))) for one in (few, many))
    found = since(was.shown, now.shown, DAY)
    assert found is not None
    assert found.title == "What changed since May 3, 2031"
    (row,) = found.rows
    assert (row.href, row.name, row.what, row.money) == (
        "#piece-1", "Attendants' bouquets", "six instead of five", "+$12.30",
    )  # fmt: skip
    assert (found.total, found.was) == ("As we suggest: $73.80", "it was $61.50")


def make_shared(terms: dict[str, Any]) -> Any:
    return make.shared(stems=sample.STEMS, goods=sample.GOODS, **terms)


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ({}, {"piece": "Bouquets"}, "was called Attendants' bouquets"),
        ({}, {"quantity": {"usual": "5", "from": "2", "to": "9"}}, "you may have from 2 to 9"),
        ({}, {"quantity": "5"}, "the count is fixed now"),
        ({"price": "50.00"}, {"price": "60.00"}, "$60 each instead of $50"),
        ({"quantity": "1", "price": "50.00"}, {"quantity": "1", "price": "60.00"}, "$60 instead of $50"),
        (
            {"price": "50.00"},
            {"price": "50.00", "recipe": {"rose-blush": "5", "larkspur": "1.5", "olive": "2/3"}},
            "2 more of Garden rose, blush; ½ fewer of Larkspur",
        ),
        (
            {"price": "50.00"},
            {"price": "50.00", "recipe": {"rose-cream": "3", "larkspur": "2", "olive": "2/3"}},
            "Garden rose, cream in place of Garden rose, blush",
        ),
        (
            {"price": "50.00"},
            {"price": "50.00", "recipe": {"rose-blush": "3", "olive": "2/3", "lily": "1"}},
            "without Larkspur; 1 more of Lily, white",
        ),
        ({}, {"optional": "yes"}, "you may now leave it out"),
        ({"optional": "yes"}, {}, "no longer to leave out"),
        ({}, {"extra": "2"}, "another number of spares"),
        ({}, {"wearers": ["Bea"]}, "the names of who wears them have changed"),
        ({}, {"place": "barn"}, "in another place"),
        ({}, {"group": "Bridal"}, "stands in another part"),
        ({}, {"photos": ["a.jpg"]}, "new pictures"),
        ({}, {"varied": {"alike": "0.6"}}, "shared out in another way"),
        ({}, {"cautions": ["sharps"]}, "its cautions have changed"),
        ({}, {"second_place": {"place": "barn"}}, "what becomes of it afterwards has changed"),
        ({"price": "50.00"}, {"price": "50.00", "made_by": "couple"}, "you put it together, from stems we prepare"),
        ({}, {"taxable": "no"}, "small corrections"),
    ],
)  # fmt: skip
def test_what_is_said_of_a_piece(was: dict[str, Any], now: dict[str, Any], said: str) -> None:
    rows = told(of({**PLAIN, **was}), of({**PLAIN, **now}))
    name = now.get("piece", PLAIN["piece"])
    assert rows[name][0] == said


FULLNESS = make.choice(
    "fullness", {"id": "shown", "label": "As shown"}, {"id": "fuller", "label": "Fuller", "add": "10.00"}
)
DEARER = make.choice(
    "fullness", {"id": "shown", "label": "As shown"}, {"id": "fuller", "label": "Fuller", "add": "12.50"}
)
SMALLER = make.choice("fullness", {"id": "shown", "label": "As shown"}, {"id": "less", "label": "Smaller"})
OTHER_USUAL = make.choice(
    "fullness",
    {"id": "shown", "label": "As shown"},
    {"id": "fuller", "label": "Fuller", "add": "10.00", "usual": "yes"},
)


@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ([], [FULLNESS], "a new question: fullness?"),
        ([FULLNESS], [], "no longer asked: fullness?"),
        ([FULLNESS], [DEARER], "“Fuller”: +$12.50 instead of +$10"),
        ([FULLNESS], [SMALLER], "“Fuller” is no longer offered; new to choose: “Smaller”"),
        (
            [FULLNESS],
            [OTHER_USUAL],
            "$60 each instead of $50; we now suggest “Fuller”",
        ),
    ],
)
def test_what_is_said_of_the_choices(was: list[Any], now: list[Any], said: str) -> None:
    plain = {"id": "p", "piece": "A piece", "group": "Tables", "quantity": "5", "recipe": {"lily": "25"}}
    rows = told(of({**plain, "choices": was}), of({**plain, "choices": now}))
    assert rows["A piece"][0] == said


def test_pieces_that_are_new_and_gone() -> None:
    rows = told(of(sample.ARCH, sample.TABLES), of(sample.TABLES, PLAIN))
    assert rows["Arch"][0] == "no longer in it"
    assert rows["Attendants' bouquets"] == ("new", "+$61.50")
    assert "Low bowls" not in rows
    found = since(of(sample.ARCH, sample.TABLES).shown, of(sample.TABLES, PLAIN).shown, DAY)
    assert found is not None
    assert {row.name: row.href for row in found.rows}["Arch"] == ""
    assert {row.name: row.href for row in found.rows}["Attendants' bouquets"] == "#piece-2"


def test_a_file_of_another_name_is_still_the_same_piece() -> None:
    rows = told(of(PLAIN), of({**PLAIN, "id": "maids"}))
    assert rows == {"Attendants' bouquets": ("small corrections", "")}


@pytest.mark.parametrize(
    ("now", "name", "said"),
    [
        ({"for": "Ada and Bo"}, "Your names", "Ada and Bo"),
        ({"day": "2031-06-15"}, "The date", "June 15, 2031"),
        ({"places": [*sample.EVENT["places"][:1], {**sample.EVENT["places"][1], "starts": "19:00"}]}, "The day",
         "places or times have changed"),
        ({"note": "Dear both"}, "Our letter to you", "is new"),
        ({"mind": ["cats"]}, "What you asked us to mind", "the notes beside the stems have changed"),
        ({"payments": [{"label": "All", "rest": "yes", "due": "approval"}]}, "Payments", "parts or dates have changed"),
        ({"studio": {"contact": {"name": "Una New"}}}, "How to reach us", "has changed"),
        ({"studio": {"show_stems": "no"}}, "What is in it", "stems are listed in another way"),
        ({"studio": {"show_stems": "names"}}, "What is in it", "stems are listed in another way"),
        ({"valid": "20 days"}, "How long prices hold", "for 20 days"),
        ({"changes_close": "21 days before"}, "Changes", "Counts and choices can change until May 24, 2031"),
        ({"least": "1200.00"}, "Events we take on", "from $1,200"),
    ],
)  # fmt: skip
def test_what_is_said_of_the_event(now: dict[str, Any], name: str, said: str) -> None:
    rows = told(of(), of(**now))
    assert rows[name] == (said, "")
    if "day" not in now:  # another day moves the days that are counted from it
        assert list(rows) == [name]


def test_pieces_in_another_order() -> None:
    assert told(of(PLAIN, sample.ARCH), of(sample.ARCH, PLAIN)) == {
        "The order of the pieces": ("has changed", "")
    }


def test_a_stem_s_new_name_is_a_small_correction() -> None:
    stems = {**sample.STEMS, "lily": {**sample.STEMS["lily"], "name": "Lily, pure white"}}
    shared = replace(sample.shared(), stems=make.shared(stems=stems).stems)
    assert told(of(), snapshot(price_event(shared, sample.event()))) == {"Small corrections": ("", "")}


def test_charges_discount_and_tax() -> None:
    charges = [
        {**sample.TERMS["charges"][0], "percent": "15%"},
        {"id": "hire", "label": "Van", "amount": "80.00"},
    ]
    rows = told(of(), of(charges=charges, discount={"percent": "6%", "label": "Weekday"}))
    assert rows["Delivery"][0] == "on other terms"
    assert rows["Van"] == ("new", "+$80")
    assert rows["Late collection"] == ("on other terms", "")  # optional, and gone: nobody was asked for it
    assert rows["Weekday"][0] == "on other terms"
    assert rows["Sales tax"][0] == "follows the pieces"


def test_tax_that_the_prices_come_to_hold() -> None:
    tax = sample.TERMS["tax"]
    rows = told(of(), of(tax={**tax, "included": "yes"}))
    assert rows["Sales tax"][0] == "no longer asked"
    was = sums_of(of().shown)
    assert rows["Sales tax"][1] == voice_of(of().shown).money.change(-was.tax[0])
    held = {**tax, "included": "yes"}
    rows = told(of(PLAIN, tax=held), of({**PLAIN, "quantity": "6"}, tax=held))
    assert rows["Sales tax"] == ("contained in the prices", "")


def test_nothing_is_said_where_nothing_changed() -> None:
    assert since(of().shown, of().shown, DAY) is None
    assert since(of().shown, of(private="a note", budget="900.00").shown, DAY) is None


quantities = st.sampled_from([{"quantity": "5"}, {"quantity": "6"}, {"quantity": {"usual": "5", "to": "8"}}])
parts = st.sampled_from(
    [
        {}, {"piece": "Posies"}, {"price": "40.00"}, {"extra": "3"}, {"taxable": "no"}, {"optional": "yes"},
        {"recipe": {"lily": "2", "olive": "1/3"}}, {"choices": [FULLNESS]}, {"choices": [DEARER]}, {"id": "q"},
        {"group": "Bar"}, {"minutes": "20"},
    ]
)  # fmt: skip
piece = st.builds(lambda one, other: {**PLAIN, **one, **other}, quantities, parts)
events = st.sampled_from(
    [
        {}, {"valid": "9 days"}, {"tax": {"rates": []}}, {"day": "2031-06-20"}, {"private": "x"},
        {"tax": {**sample.TERMS["tax"], "included": "yes"}}, {"charges": []}, {"discount": {"amount": "5.00"}},
        {"payments": []}, {"charges": [{"id": "late", "label": "Late", "amount": "70.00"}]},
        {"tax": {"rates": [{"label": "State", "rate": "6%"}, {"label": "State", "rate": "1%"}], "rounding": "line"}},
        {"studio": {"show_stems": "names"}}, {"studio": {"show_stems": "no"}}, {"studio": {"language": "de-DE"}},
    ]
)  # fmt: skip
others = st.lists(
    st.sampled_from([sample.ARCH, sample.TABLES]), max_size=2, unique_by=lambda one: str(one["id"])
)
proposals = st.builds(lambda one, rest, more: of(one, *rest, **more), piece, others, events)


@given(proposals, proposals)
def test_laws_of_a_difference(was: Snapshot, now: Snapshot) -> None:
    """Something is said if and only if something differs, and the money of the rows is all that the total moved."""
    found = difference(was.shown, now.shown)
    assert found.empty == (was.shown == now.shown)
    rows = list(tell(found, now.shown, voice_of(now.shown)))
    assert bool(rows) == (was.shown != now.shown)
    assert sum(row.moved for row in rows) == sums_of(now.shown).total - sums_of(was.shown).total
    assert all(row.name and (row.what or row.name == "Small corrections") for row in rows)
    changes = studio_changes(was, now)
    assert sum(row.line for row in changes.rows) == changes.total.now - changes.total.was
    # Costs are rounded piece by piece in the rows, and once in the sum.
    exact = changes.cost.now - changes.cost.was
    assert abs(sum(row.cost for row in changes.rows) - exact) <= 2 * len(was.shown.pieces + now.shown.pieces)
    compare(records_of(was), (), now)


def test_the_couples_view_is_made_from_what_they_were_shown_alone() -> None:
    assert set(Since.__slots__) == {"title", "rows", "total", "was", "agreed"}
    was, now = of(PLAIN), of({**PLAIN, "price": "50.00", "minutes": "71"})
    other = replace(now, kept=replace(now.kept, pieces=()))
    assert since(was.shown, now.shown, DAY) == since(was.shown, other.shown, DAY)
    assert isinstance(now.shown, Shown)


def test_a_count_that_they_chose_stays_and_ours_is_a_suggestion() -> None:
    was, now = (of(bouquets(quantity={"usual": n, "from": "4", "to": "7"})) for n in "47")
    picks = usual_picks(was.shown.table)
    six = replace(picks, pieces=(replace(picks.pieces[0], quantity=6),))
    found = since(was.shown, now.shown, DAY, six)
    assert found is not None
    assert found.rows[0].what == "we now suggest seven instead of four; you chose six, and that stays"
    seven = replace(picks, pieces=(replace(picks.pieces[0], quantity=7),))
    found = since(was.shown, now.shown, DAY, seven)
    assert found is not None
    assert found.rows[0].what == "seven, as you chose, instead of the four that we suggested"
    found = since(was.shown, now.shown, DAY, picks)
    assert found is not None
    assert found.rows[0].what == "seven instead of four"


def test_what_still_comes_to_the_same_is_said_so() -> None:
    voice = voice_of(of(PLAIN).shown)
    assert "what you chose still comes to that. Until" in still_agreed(DAY, 235418, 235418, voice)
    assert "what you chose comes to $2,355.00. Until" in still_agreed(DAY, 235418, 235500, voice)


def records_of(*snapshots: Snapshot) -> Sequence[Record]:
    return [Record(i, "revision", DAY, "", Sent(i, one), "") for i, one in enumerate(snapshots, 1)]


DEAR = {**sample.STEMS, "rose-blush": {**sample.STEMS["rose-blush"], "offers": [
    {"supplier": "farm", "bunch": "1", "price": "4.00"}]}}  # fmt: skip


def dear(one: dict[str, Any]) -> Snapshot:
    shared = replace(sample.shared(), stems=make.shared(stems=DEAR).stems)
    return snapshot(price_event(shared, sample.event(one)))


def test_the_florist_sees_what_no_couple_does() -> None:
    """Three stems dearer by 1.00 each in six bouquets, the spare among them: 18.00 of cost, no price."""
    fixed = {**PLAIN, "price": "50.00"}
    was, now = of(fixed), dear({**fixed, "minutes": "12"})
    assert since(was.shown, now.shown, DAY) is None
    changes = studio_changes(was, now)
    (row,) = changes.rows
    assert (row.piece, row.what, row.line, row.cost, row.left) == (
        "bouquets", "12 minutes instead of 0", 0, 1800, -1800,
    )  # fmt: skip
    assert changes.left.now - changes.left.was == -1800
    assert studio_changes(was, dear(fixed)).rows[0].what == "its materials cost otherwise"


def test_the_florist_sees_whole_recipes_where_the_couple_see_none() -> None:
    studio = {"show_stems": "no"}
    was, now = (of({**PLAIN, "price": "50.00", "recipe": {"rose-blush": n}}, studio=studio) for n in "34")
    assert since(was.shown, now.shown, DAY) is None
    assert studio_changes(was, now).rows[0].what == "1 more of Garden rose, blush"


def test_compare_as_text_and_data() -> None:
    fixed = {**PLAIN, "price": "50.00"}
    records = records_of(of(fixed), of({**fixed, "quantity": "6"}))
    done = compare(records, (), dear({**fixed, "quantity": "6"}))
    assert list(done.lines) == [
        "Revision 2 of 2031-05-03 against the content now",
        "",
        "Attendants' bouquets: its materials cost otherwise",
        "    cost +$21, left −$21",
        "",
        "                                       was      now",
        "Total as suggested                 $405.94  $405.94",
        "Before tax                         $375.00  $375.00",
        "Cost of what is made                $86.10  $107.10  +$21",
        "Left after what is in the recipes  $288.90  $267.90  −$21",
    ]
    assert done.data["changes"] == [
        {
            "piece": "bouquets",
            "name": "Attendants' bouquets",
            "what": "its materials cost otherwise",
            "price": "0.00",
            "cost": "21.00",
        }
    ]
    assert done.data["from"] == {"revision": 2, "at": "2031-05-03"}
    assert done.data["to"] == {"revision": None, "at": None}
    assert done.data["cost"] == {"was": "86.10", "now": "107.10"}
    json.dumps(done.data)


def test_compare_two_revisions() -> None:
    records = records_of(of(PLAIN), of({**PLAIN, "quantity": "6"}))
    done = compare(records, (1, 2), None)
    assert done.lines[0] == "Revision 1 of 2031-05-03 against revision 2 of 2031-05-03"
    assert "Attendants' bouquets: six instead of five; the count is fixed now" in done.lines
    assert "Nothing has changed." in compare(records, (2, 2), None).lines
    assert done.lines != compare(records, (2, 1), None).lines


@pytest.mark.parametrize("numbers", [(3,), (0,), (1, 3)])
def test_a_revision_that_is_not_there_is_told(numbers: tuple[int, ...]) -> None:
    with pytest.raises(NoSuchRevision, match="there are 1, 2"):
        compare(records_of(of(), of()), numbers, of())


def test_there_must_be_something_to_compare() -> None:
    with pytest.raises(NoSuchRevision, match="nothing was sent yet"):
        compare([], (), of())
    with pytest.raises(ValueError, match="no content"):
        compare(records_of(of()), (), None)
