"""The order's sheets: what stands on them, what never does, and that content reaches them inert."""

import datetime as dt
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup, Tag
from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.catalogue import InHand, Supplier
from sitegen.model.content import EventFolder, Shared
from sitegen.order.order import order
from sitegen.price.event import price_event
from sitegen.render.order_page import OrderPage
from sitegen.render.order_view import Stage, order_view
from sitegen.render.order_voice import parted
from sitegen.render.pages import florist_page
from sitegen.render.paper import css_text, named_and_dated, shorten
from sitegen.theme import SHIPPED, find_theme
from tests import make
from tests.reading import DEMO, read_content

TODAY = dt.date(2031, 5, 1)
SHEETS = ("buying", "cost", "goods", "hire", "pull", "cards", "days", "run", "pack")
APPROVED = Stage(revision=4, approved=dt.date(2031, 4, 2))


def shared_of(**more: Any) -> Shared:
    """A studio with a rose at a price that occurs nowhere else, ribbon on short rolls, and vases for hire."""
    stems = {
        "rose": make.stem(
            "71.31", "10", name="Garden rose, blush", cautions=["thorns"], opens="2-3", arrive="2-4"
        ),
        "gum": make.stem("5.00", "~8", role="foliage", name="Eucalyptus, silver", cautions=["cats", "sap"]),
    }
    goods = {
        "silk": make.pack("9.00", length="5 yd") | {"name": "Silk, ivory", "loss": "5%"},
        "pin": make.pack("6.50", pieces="144") | {"name": "Pins", "cautions": ["sharps"]},
        "cup": {"name": "Brass cup", "hire": "4.00", "replace": "18.00", "owned": "6"},
    }
    farm = Supplier.model_validate(
        {
            "name": "A farm",
            "order_days": "5",
            "closed": "Sun",
            "delivers": "Tue Thu",
            "phone": "555-0100",
            "brings": "no",
            "where": "Stand 4",
            "hours": "05:00-08:00",
            "customer": "77",
            "minimum": "200.00",
        }
    )
    return replace(make.shared(stems=stems, goods=goods, **more), suppliers={"farm": farm})


def event_of(**more: Any) -> EventFolder:
    bouquets = {
        "id": "bouquets",
        "piece": "Attendants' bouquets",
        "quantity": "5",
        "extra": "1",
        "recipe": {"rose": "3", "gum": "1/2"},
        "goods": {"silk": "1.5 yd", "pin": "2"},
        "cautions": ["flame"],
        "wearers": ["Bea", "Cleo", "Dot"],
        "place": "garden",
        "second_place": {"place": "barn", "vessel": "cup"},
    }
    urn = {"id": "urn", "piece": "Welcome urn", "recipe": {"rose": "12"}, "bench": "on-site"}
    places = [
        {"id": "garden", "name": "Walled garden"},
        {"id": "barn", "name": "Long barn", "clear": "01:00"},
    ]
    return make.event(bouquets, urn, places=places, hire_back="2031-06-16 12:00", **more)


def page_of(
    shared: Shared | None = None,
    folder: EventFolder | None = None,
    stage: Stage = APPROVED,
    today: dt.date = TODAY,
) -> OrderPage:
    priced = price_event(shared or shared_of(), folder or event_of())
    return order_view(order(priced, usual_picks(table(priced)), today), stage, today, 123_400)


def html_of(page: OrderPage) -> BeautifulSoup:
    theme, problems = find_theme("sheets", SHIPPED)
    assert theme is not None, problems
    return BeautifulSoup(florist_page("order.html", page, page.language, theme), "html.parser")


def sheet(soup: BeautifulSoup, name: str) -> str:
    found = soup.find(id=name)
    assert isinstance(found, Tag)
    return " ".join(found.get_text(" ").split())


def test_the_sheets_stand_in_order() -> None:
    soup = html_of(page_of())
    assert [one["id"] for one in soup.select("section.sheet")] == list(SHEETS)


def test_prices_stand_on_the_cost_sheet_alone() -> None:
    # 18 roses and 12 more, with no loss: 30, so 3 bunches at 71.31 = 213.93.
    soup = html_of(page_of())
    assert "71.31" in sheet(soup, "cost")
    assert "213.93" in sheet(soup, "cost")
    for name in (name for name in SHEETS if name != "cost"):
        assert "71.31" not in sheet(soup, name)
        assert "213.93" not in sheet(soup, name)
        assert "$" not in sheet(soup, name).replace("Replace $", "")


def test_a_buying_block_tells_the_driver_everything() -> None:
    # The event is Sat 14 Jun: roses 2 to 4 days before come on Thu 12 Jun, ordered five days earlier, on
    # Sat 7 Jun; pins and ribbon too.
    page = page_of()
    assert page.buying is not None
    (block,) = page.buying.blocks
    assert block.day.replace("\u00a0", " ") == "Thu, Jun 12"
    assert block.order_by.replace("\u00a0", " ") == "Sat, Jun 7"
    assert block.comes == "Fetch: Stand 4, 05:00–08:00 · customer 77"
    assert [(row.packs, row.holds, row.sold_as) for row in block.rows[:2]] == [
        ("3", "of 10", "Garden rose, blush"),
        ("1", "of about 8", "Eucalyptus, silver"),
    ]
    assert block.rows[0].ours == "take tight: opens in 2–3 days"
    assert block.foot == "4 bunches, 38 stems, 3 packs"


@pytest.mark.parametrize(
    ("brings", "buying", "days"),
    [
        (True, "They bring it, 05:00–08:00 · customer 77", "A farm comes"),
        (False, "Fetch: Stand 4, 05:00–08:00 · customer 77", "Fetch from A farm"),
        (None, "Stand 4, 05:00–08:00 · customer 77", "From A farm"),
    ],
)
def test_who_brings_it_is_told_only_where_it_was_written(brings: bool | None, buying: str, days: str) -> None:
    one = shared_of()
    farm = one.suppliers["farm"].model_copy(update={"brings": brings})
    page = page_of(replace(one, suppliers={"farm": farm}))
    assert page.buying
    assert page.days
    assert page.buying.blocks[0].comes == buying
    assert days in {row.what for block in page.days.blocks for row in block.rows}


def test_a_day_on_which_they_are_closed_is_told() -> None:
    one = shared_of()
    farm = one.suppliers["farm"].model_copy(update={"order_days": 4})
    page = page_of(replace(one, suppliers={"farm": farm}))
    assert page.buying is not None
    block = page.buying.blocks[0]
    assert (block.order_by, block.after_due) == ("Sat,\u00a0Jun\u00a07", "(Sun,\u00a0Jun\u00a08 is closed)")


def test_what_comes_too_late_is_told() -> None:
    page = page_of(today=dt.date(2031, 6, 10))
    assert page.buying is not None
    assert "as if there were no lead days" in page.buying.notes[0]
    assert page.buying.blocks[0].passed
    assert "that day has passed" in sheet(html_of(page), "buying")


def test_cost_is_set_against_the_quote_and_the_proposal() -> None:
    # Roses 213.93, eucalyptus 5.00, ribbon 2 × 9.00 (6 × 1.5 yd, three to a roll of 5 yd), pins 6.50: 243.43.
    # The quote: roses 30 × 7.131 = 213.93, eucalyptus 3 × 0.625 = 1.875, ribbon 9 × 1.80, pins 12 × 6.50 / 144.
    page = page_of()
    assert page.cost is not None
    sums = [(one.label, one.amount) for one in (*page.cost.order, *page.cost.left)]
    assert sums == [
        ("Stems", "218.93"),
        ("Hard goods", "24.50"),
        ("Deliveries", "0.00"),
        ("Order", "243.43"),
        ("The quote counted", "232.55"),
        ("Over it, by whole bunches, packs and delivery", "10.88"),
        ("Agreed, before tax", "1,234.00"),
        ("Less the order", "−243.43"),
        ("Left after materials", "990.57"),
    ]
    assert page.cost.notes == ()


def test_the_quote_is_set_against_the_hands_too() -> None:
    # Six bouquets of 10 minutes are the least the hands do; what they cost is taken off last.
    page = page_of(shared_of(crew={"hands": "2", "hours": "8", "pay": "20.00"}))
    assert page.cost is not None
    said = [(one.label, one.amount) for one in page.cost.left]
    (label, hands), (last, left) = said[-2:]
    assert label.startswith("Hands, ")
    assert label.endswith(" h × 20.00")
    assert last == "Left after hands"
    hours = Fraction(hands.removeprefix("−").replace(",", "")) / 20
    assert hours >= 1
    assert Fraction(left.replace(",", "")) == Fraction("990.57") - hours * 20


def test_what_is_in_hand_is_told_and_cut_first() -> None:
    stock = {
        "silk": InHand.model_validate({"length": "7 yd"}),
        "pin": InHand.model_validate({"pieces": "18"}),
    }
    page = page_of(replace(shared_of(), stock=stock))
    assert page.goods is not None
    assert page.buying is not None
    # 6 × 1.5 yd with 5 % are 9.45 yd: with 7 yd in hand one roll of 5 yd is bought. All pins are there.
    assert [row.buy.replace("\u00a0", " ") for row in page.goods.rows[:2]] == [
        "1 × 5 yd + 7 yd in hand",
        "12 in hand",
    ]
    assert [roll.title.replace("\u00a0", " ") for roll in page.goods.rolls] == [
        "Silk, ivory · in hand, 7 yd",
        "Silk, ivory · roll 1 of 1, 5 yd",
    ]
    (note,) = page.buying.notes
    assert note.replace("\u00a0", " ") == "In hand, and not on the list: 7 yd Silk, ivory; 12 Pins."


def test_what_is_to_spare_is_bought_above_the_need() -> None:
    one = shared_of(pricing={"markup": {"fresh": "1"}, "loss": "10%"})
    page = page_of(one)
    assert page.cost is not None
    # 30 roses, with 10 % 33: 4 bunches, 7 to spare and 10 above the 30 that are pulled. Of eucalyptus 3, with 10 %
    # 4: a bunch of 8, 4 to spare, 5 above those that are pulled.
    assert [(row.stem, row.over, row.pieces) for row in page.cost.over] == [
        ("Garden rose, blush", "7", "Attendants' bouquets, Welcome urn"),
        ("Eucalyptus, silver", "4", "Attendants' bouquets"),
    ]
    rows = [(row.name, row.bought, row.pulled, row.over) for row in page.cost.groups[0].rows]
    assert rows[:2] == [("Garden rose, blush", "40", "30", "10"), ("Eucalyptus, silver", "8", "3", "5")]


def test_ribbon_lies_roll_by_roll_with_its_wearers() -> None:
    page = page_of()
    assert page.goods is not None
    first, second = page.goods.rolls
    assert first.title == "Silk, ivory · roll 1 of 2, 5\u00a0yd"
    assert [cell.text for cell in first.cells] == ["1½", "1½", "1½", ""]
    assert sum(Fraction(cell.width) for cell in first.cells) == 516
    assert [(row.count, row.small, row.ticks) for row in (*first.cuts, *second.cuts)] == [
        ("3\u00a0×\u00a01½\u00a0yd", "54\u00a0in", ("Bea", "Cleo", "Dot")),
        ("3\u00a0×\u00a01½\u00a0yd", "54\u00a0in", ("4", "5", "spare")),
    ]


def test_a_cut_longer_than_its_roll_is_told() -> None:
    folder = make.event({"piece": "Garland", "goods": {"silk": "6 yd"}})
    page = page_of(folder=folder)
    assert page.goods is not None
    assert page.goods.remarks == ("Silk, ivory: 6\u00a0yd for Garland is longer than a roll.",)


def test_hire_goes_out_and_comes_back() -> None:
    page = page_of()
    assert page.hire is not None
    (row,) = page.hire.rows
    assert (row.out, row.where, row.replace) == ("6", "Long barn", "18.00")
    assert (row.under, row.shelf) == ("Attendants' bouquets", "none left on the shelf")
    assert row.back.replace("\u202f", " ") == "clear by 1:00 AM"
    assert (
        page.hire.back.replace("\u202f", " ").replace("\u00a0", " ") == "All back by Mon, Jun 16, 12:00 PM."
    )


def test_pull_blocks_are_numbered_and_summed() -> None:
    page = page_of()
    assert page.pull is not None
    told = [
        (block.title, block.times, block.together, block.meta, block.sum, block.boxes)
        for block in page.pull.blocks
    ]
    assert told == [
        (
            "Attendants' bouquets\u00a01\u2060–\u20606",
            "×6",
            "",
            "bench Fri,\u00a0Jun\u00a013",
            "3",
            ("1", "2", "3", "4", "5", "6"),
        ),
        (
            "Attendants' bouquets",
            "",
            "all 6 in one vase, spare counted in",
            "bench Fri,\u00a0Jun\u00a013",
            "3",
            (),
        ),
        ("Welcome urn", "", "", "built at the place", "12", ()),
    ]
    assert page.pull.blocks[1].rows[0].each == "½\u00a0each"


def test_cautions_name_the_thing_and_who_decides() -> None:
    soup = html_of(page_of())
    assert "Care. Thorns: Garden rose. Your workplace rules say" in sheet(soup, "buying")
    assert "Care. Listed as harmful to cats: Eucalyptus. In doubt a poison line, a vet" in sheet(soup, "pull")
    goods = sheet(soup, "goods")
    assert "Pins, wire, blades: Pins." in goods
    assert "Near open flame: Attendants' bouquets. The venue and the local fire code decide" in goods


def test_a_caution_in_words_of_her_own_is_printed_too() -> None:
    folder = make.event({"piece": "Arch", "recipe": {"rose": "1"}, "cautions": ["deep water {names}"]})
    assert "deep water {names}: Arch. Who answers for the place decides." in sheet(
        html_of(page_of(folder=folder)), "pull"
    )


def test_a_draft_says_so_on_every_sheet() -> None:
    soup = html_of(page_of(stage=Stage()))
    sheets = soup.select("section.sheet")
    assert [one.select_one(".draft-line") is not None for one in sheets] == [True] * len(SHEETS)
    assert "DRAFT" not in html_of(page_of()).get_text()
    assert "DRAFT" not in str(html_of(page_of()).style)


def test_two_printouts_can_be_told_apart() -> None:
    assert page_of(stage=Stage(3)).made == "Revision 3, not approved · figures of May 1, 2031 · Test Studio"
    assert page_of().made == "Revision 4, approved April 2, 2031 · figures of May 1, 2031 · Test Studio"


def test_nothing_ordered_gives_a_page_that_says_so() -> None:
    page = page_of(folder=make.event())
    assert page.heads == ()
    assert "There is nothing to order." in html_of(page).get_text()


EVIL = '</style></title><script>alert(1)</script><img src=x onerror="alert(2)">{{ 7*7 }}'


def test_markup_in_any_name_is_inert() -> None:
    one = shared_of(studio=EVIL)
    stems = {name: stem.model_copy(update={"name": EVIL}) for name, stem in one.stems.items()}
    goods = {name: good.model_copy(update={"name": EVIL}) for name, good in one.goods.items()}
    farm = one.suppliers["farm"].model_copy(update={"name": EVIL, "where": EVIL, "phone": EVIL})
    shared = replace(one, stems=stems, goods=goods, suppliers={"farm": farm})
    folder = event_of(event=EVIL)
    pieces = tuple(
        replace(piece, piece=piece.piece.model_copy(update={"piece": EVIL})) for piece in folder.pieces
    )
    soup = html_of(page_of(shared, replace(folder, pieces=pieces)))
    assert not soup.select("script, img, [onerror]")
    assert len(soup.select("style")) == 1
    assert soup.get_text().count("alert(1)") > 10
    assert "49" not in soup.get_text()


@given(st.text())
def test_a_text_for_the_margin_can_end_nothing(text: str) -> None:
    said = str(css_text(text))
    inside = said[1:-1]
    assert (said[0], said[-1]) == ('"', '"')
    assert not set(inside) & set('"<>&\n\r\f{}@')
    back = re.sub(r"\\([0-9a-f]+) ", lambda match: chr(int(match[1], 16)), inside)
    assert back == text


def test_names_are_cut_for_the_margin_and_parted_at_the_comma() -> None:
    assert (len(shorten("x" * 99)), shorten("short")) == (34, "short")
    assert shorten("花" * 99) == "花" * 16 + "…"
    assert named_and_dated("Fern\u202e and Reed", "June 12") == "Fern and Reed · June 12"
    assert [(name.kind, name.rest) for name in map(parted, ("Rose, blush, 50 cm", "Olive"))] == [
        ("Rose", ", blush, 50 cm"),
        ("Olive", ""),
    ]


def test_days_and_amounts_follow_the_language() -> None:
    page = page_of(shared_of(language="de-DE", currency="EUR"))
    assert page.buying is not None
    assert page.cost is not None
    assert page.buying.blocks[0].day.replace("\u00a0", " ") == "Do., 12. Juni"
    assert page.cost.groups[0].rows[0].cost == "213,93"
    assert page.cost.symbol == "€"


def test_the_same_input_gives_the_same_bytes() -> None:
    assert str(html_of(page_of())) == str(html_of(page_of()))


def test_every_sheet_of_the_demo_s_large_wedding() -> None:
    shared, folders = read_content(Path(DEMO))
    folder = max(folders, key=lambda one: len(one.pieces))
    page = page_of(shared, folder, today=folder.event.date - dt.timedelta(days=60))
    assert tuple(head.id for head in page.heads) == SHEETS
    assert page.pull is not None
    titles = {block.title.split("\u00a0")[0] for block in page.pull.blocks}
    names = {wearer.name for piece in folder.pieces if piece.piece.varied for wearer in piece.piece.wearers}
    assert names
    assert names < titles <= names | {piece.piece.piece for piece in folder.pieces}


def pull_blocks(**more: Any) -> list[tuple[str, str, str, str, str]]:
    """The pull list of a set of bouquets: title, times, meta, sum with its label, boxes."""
    bouquets = {
        "id": "bouquets",
        "piece": "Bouquets",
        "quantity": "3",
        "recipe": {"rose": "2", "gum": "2"},
        "varied": {},
        **more,
    }
    page = page_of(folder=make.event(bouquets))
    assert page.pull is not None
    return [
        (block.title.replace("\u00a0", " ").replace("\u2060", ""), block.times, block.meta.replace("\u00a0", " "),
         f"{block.sum} {block.sum_label}", " ".join(block.boxes))
        for block in page.pull.blocks
    ]  # fmt: skip


def test_each_of_a_varied_set_is_pulled_under_its_wearer_s_name() -> None:
    assert pull_blocks(wearers=["Bea", "Cleo"], quantity="2", extra="1") == [
        ("Bea", "", "Bouquets, 1 of 3 · bench Fri, Jun 13", "4 stems in all", ""),
        ("Cleo", "", "Bouquets, 2 of 3 · bench Fri, Jun 13", "4 stems in all", ""),
        ("Spare", "", "Bouquets, 3 of 3 · bench Fri, Jun 13", "4 stems in all", ""),
    ]


def test_versions_of_a_set_are_ticked_by_name_or_number() -> None:
    assert [one[0] for one in pull_blocks()] == ["Bouquets 1", "Bouquets 2", "Bouquets 3"]
    first, _ = pull_blocks(quantity="4", varied={"versions": "2"})
    assert first == ("Bouquets 1–2", "×2", "bench Fri, Jun 13", "4 stems in each", "1 2")
    named = pull_blocks(quantity="4", varied={"versions": "2"}, wearers=["Bea", "Cleo", "Dot"])
    assert [one[4] for one in named] == ["Bea Cleo", "Dot 4"]


def test_halves_name_those_they_are_for() -> None:
    stems = {
        "rose": make.stem("2.00", "10"),
        "gum": make.stem("1.00", "10", role="foliage", name="Eucalyptus, silver"),
        "ivy": make.stem("1.00", "10", role="foliage", name="Ivy"),
    }
    piece = {
        "piece": "Bouquets",
        "quantity": "2",
        "recipe": {"rose": "8", "gum": "1", "ivy": "1"},
        "varied": {"keep": ["rose"], "alike": "0.9"},
        "wearers": ["Bea", "Cleo"],
    }
    page = page_of(make.shared(stems=stems), make.event(piece))
    assert page.pull is not None
    block = page.pull.blocks[-1]
    assert (block.title, block.together) == ("Bouquets", "cut in halves")
    assert [row.each for row in block.rows] == ["½\u00a0each for Bea and Cleo"] * 2


def test_one_stem_is_one_stem() -> None:
    assert [one[3] for one in pull_blocks(recipe={"rose": "1"}, varied=None)] == ["1 stem in each"]
    assert [one[3] for one in pull_blocks(recipe={"rose": "1"}, varied=None, quantity="1")] == [
        "1 stem in all"
    ]
