"""The florist's page of one event, against figures worked out by hand."""

import datetime as dt
import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from babel import Locale
from babel.numbers import format_percent
from bs4 import BeautifulSoup
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.model.content import EventFolder, Shared
from sitegen.model.event import Paid
from sitegen.order.order import order
from sitegen.order.work import hours
from sitegen.price.event import price_event
from sitegen.render.desk import EVENT_TEMPLATE, THEME, DeskEvent, PieceRow
from sitegen.render.desk_event import Around, event_view
from sitegen.render.desk_figures import figures_for
from sitegen.render.desk_left import left_of
from sitegen.render.desk_progress import DRAFT, Progress
from sitegen.render.pages import florist_page
from sitegen.theme import SHIPPED, find_theme
from sitegen.values.money import Currency
from tests import make
from tests.reading import DEMO, read_content

MILLRACE = Path(__file__).parents[1] / "golden" / "millrace"
TODAY = dt.date(2031, 6, 1)
FILES = ("proposal.html", "order.html", "agreed.html", "order-thread-box.csv", "figures.json")
USD = Currency("USD", 2)
APPROVED = Progress("approved", 1, approved=dt.date(2031, 5, 1), settled=True)


def view_of(
    shared: Shared,
    folder: EventFolder,
    *warnings: str,
    picks: Picks | None = None,
    today: dt.date = TODAY,
    progress: Progress = DRAFT,
) -> DeskEvent:
    priced = price_event(shared, folder)
    prices = table(priced)
    picked = picks or usual_picks(prices)
    sums = totals(prices, picked)
    around = Around(warnings, FILES, progress)
    return event_view(priced, picked, sums, order(priced, picked, today), today, around)


@pytest.fixture(scope="module")
def millrace() -> DeskEvent:
    shared, (folder,) = read_content(MILLRACE)
    return view_of(shared, folder)


def lines(view: DeskEvent) -> dict[str, str]:
    return {line.label: line.amount for line in (*view.sums, *view.left)}


def one_piece(view: DeskEvent) -> PieceRow:
    (piece,) = view.pieces
    return piece


def of_one(piece: dict[str, Any], *, price: str = "10.00", **studio: Any) -> DeskEvent:
    """An event of one piece whose single rose costs *price*."""
    shared = make.shared(stems={"rose": make.stem(price, name="Rose")}, **studio)
    return view_of(shared, make.event({"recipe": {"rose": "1"}, **piece}))


def test_the_sums_of_a_worked_event(millrace: DeskEvent) -> None:
    assert lines(millrace) == {
        "Pieces, 2": "395.00",
        "Discount, 5%": "−19.75",
        "Delivery and set-up, 12%": "90.00",
        "State, 6.25%": "29.08",
        "County, 1%": "4.65",
        "Total": "498.98",
        "Their budget": "900.00",
        "under it": "401.02",
        "Proposal, before tax": "465.25",
        "Stems": "−103.25",
        "Hard goods": "−42.50",
        "Deliveries, 2 suppliers": "−17.50",
        "Left after materials": "302.00 · 65%",
    }


def test_the_pieces_of_a_worked_event(millrace: DeskEvent) -> None:
    told = [
        (row.name, row.picked, row.quantity, row.margin.each, row.line, row.margin.cost, row.margin.left)
        for row in millrace.pieces
    ]
    assert told == [
        ("Hand-tied bouquet", "As we suggest", "1", "120.00", "120.00", "28.25", "91.75"),
        ("Low bowls", "As we suggest", "5", "55.00", "275.00", "12.13", "42.87"),
    ]
    # 42.87 of 55.00 is 77.945 percent.
    assert (millrace.pieces[1].margin.share, millrace.pieces[1].margin.bar) == ("77.9%", "77.9")
    folded = [(one.answers, one.margin.each, one.picked) for one in millrace.pieces[1].combinations]
    assert folded == [("Airy", "38.00", False), ("Full", "55.00", True), ("Lush", "81.00", False)]


def test_the_groups_share_the_subtotal(millrace: DeskEvent) -> None:
    # 120 and 275 of 395: 30.38 and 69.62 percent, laid end to end.
    told = [(share.name, share.amount, share.share, share.start, share.width) for share in millrace.shares]
    assert told == [
        ("Personal flowers", "120.00", "30%", "0.0", "30.4"),
        ("Tables", "275.00", "70%", "30.4", "69.6"),
    ]


def test_payments_with_their_dates(millrace: DeskEvent) -> None:
    assert [(one.label, one.when.replace("\u00a0", " "), one.amount) for one in millrace.payments] == [
        ("Retainer, 30%", "due approval", "149.69"),
        ("Balance", "due Sat, Aug 23", "349.29"),
    ]


def test_money_received_stays_and_the_rest_is_still_to_come() -> None:
    rest = [{"label": "All", "rest": "yes", "due": "approval"}]
    shared = make.shared(stems={"rose": make.stem("10.00")}, payments=rest)
    paid = [
        {"date": "2031-02-01", "amount": "4.00", "how": "transfer"},
        {"date": "2031-03-01", "amount": "1.50"},
    ]
    view = view_of(shared, make.event({"recipe": {"rose": "1"}}, paid=paid))
    assert [(one.label, one.amount) for one in view.payments] == [
        ("All", "10.00"),
        ("Received", "−4.00"),
        ("Received", "−1.50"),
        ("Still to come", "4.50"),
    ]
    over = make.event({"recipe": {"rose": "1"}}, paid=[{"date": "2031-02-01", "amount": "12.00"}])
    assert view_of(shared, over).payments[-1].label == "Received above the total"


def test_what_is_due_on_approval_is_overdue_after_that_day() -> None:
    shared, (folder,) = read_content(MILLRACE)

    def told(today: dt.date, folder: EventFolder) -> list[tuple[str, str]]:
        view = view_of(shared, folder, today=today, progress=APPROVED)
        return [(one.when.replace("\u00a0", " "), one.kind) for one in view.payments[:2]]

    balance = ("due Sat, Aug 23", "")
    assert told(dt.date(2031, 5, 1), folder) == [("due Thu, May 1", ""), balance]
    assert told(dt.date(2031, 5, 2), folder) == [("overdue since Thu, May 1", "late"), balance]
    first = view_of(shared, folder, today=dt.date(2031, 5, 2), progress=APPROVED).todo[0]
    assert (first.what, first.late) == ("Retainer $149.69 not received", True)
    assert first.command == "{date: 2031-05-02, amount: 149.69}"
    came = Paid.model_validate({"date": "2031-05-01", "amount": "149.69"})
    paid = replace(folder, event=folder.event.model_copy(update={"paid": (came,)}))
    assert told(dt.date(2031, 5, 2), paid) == [("received", ""), balance]


def test_contained_tax_is_not_left_to_the_studio() -> None:
    # 110.00 holds a tenth on top of 100.00; the rose costs 110.00.
    tax = {"rates": [{"label": "Tax", "rate": "10%"}], "included": "yes"}
    told = lines(of_one({"price": "110.00"}, price="30.00", tax=tax))
    assert (told["Total"], told["of it Tax, 10%"], told["Proposal, before tax"]) == (
        "110.00",
        "10.00",
        "100.00",
    )
    assert told["Left after materials"] == "70.00 · 70%"


def test_hands_are_paid_for_all_they_do() -> None:
    # (3 + 1 extra) × 30 min + 3 × 2 hands × 10 min + 3 × 2 hands × 5 min = 120 + 60 + 30 min = 3.5 h;
    # four bunches, four pieces to pull and a van to load: 4 × 6 + 4 × 4 + 20 min = 1 h.
    places = [{"id": "barn", "name": "Barn"}]
    piece = {
        "recipe": {"rose": "1"},
        "quantity": "3",
        "extra": "1",
        "minutes": "30",
        "site": {"minutes": "10", "hands": "2"},
        "second_place": {"place": "barn", "minutes": "5", "hands": "2"},
    }
    shared = make.shared(
        stems={"rose": make.stem("10.00")},
        crew={"pay": "20.00"},
        work={"bunch": "6", "pull": "4", "load": "20"},
    )
    told = lines(view_of(shared, make.event(piece, places=places)))
    assert told["Hands, 4.5 h × 20.00"] == "−90.00"
    # Three at 10.00 are sold, four roses are bought.
    assert (told["Left after materials"], told["Left after hands"]) == ("−10.00 · −33%", "−100.00")


def test_without_pay_nothing_is_said_of_hands(millrace: DeskEvent) -> None:
    assert not [line for line in millrace.left if "hands" in line.label]


def test_what_the_couple_make_takes_no_building_and_what_is_left_out_takes_no_hands() -> None:
    shared = make.shared(stems={"rose": make.stem("10.00")}, work={"bunch": "0", "pull": "6", "load": "30"})
    priced = price_event(
        shared,
        make.event(
            {"recipe": {"rose": "1"}, "minutes": "60", "made_by": "couple"},
            {"recipe": {"rose": "1"}, "minutes": "60", "optional": "yes"},
            {"recipe": {"rose": "1"}, "minutes": "60", "extra": "2"},
        ),
    )
    picks = usual_picks(table(priced))
    # What the couple make is pulled as one; the van is loaded for the rest.
    assert hours(order(priced, picks, TODAY)) == 1 + 3 + Fraction(5 * 6 + 30, 60)
    out = Picks((picks.pieces[0], Pick((), 1, out=True), Pick((), 0)))
    assert hours(order(priced, out, TODAY)) == Fraction(6, 60)


@given(st.lists(st.fractions(Fraction(1, 300), 50, max_denominator=999), min_size=1, max_size=6))
def test_the_parts_of_the_order_add_up_to_what_it_takes(prices: list[Fraction]) -> None:
    stems = {f"s{i}": make.stem(f"{price.numerator}/{price.denominator}") for i, price in enumerate(prices)}
    shared = make.shared(stems=stems)
    priced = price_event(shared, make.event({"recipe": dict.fromkeys(stems, "1")}))
    picks = usual_picks(table(priced))
    worked = order(priced, picks, TODAY)
    left = left_of(totals(table(priced), picks), worked)
    taken = left.stems + left.goods + left.deliveries
    assert taken == USD.units(worked.cost)
    assert left.after_materials == left.before_tax - taken


@pytest.mark.parametrize(
    ("cost", "price", "target", "share", "short"),
    [
        ("30.00", "100.00", "70%", "70.0%", ""),
        ("30.01", "100.00", "70%", "69.9%", "below target"),
        ("30.50", "100.00", "70%", "69.5%", "below target"),
        ("100.00", "100.00", None, "0.0%", ""),
        ("100.01", "100.00", None, "−0.1%", "below cost"),
        ("130.00", "100.00", "70%", "−30.0%", "below cost"),
    ],
)
def test_what_falls_short_is_marked_and_never_reads_as_reached(
    cost: str, price: str, target: str | None, share: str, short: str
) -> None:
    pricing = {"markup": {"fresh": "1"}, **({"target": target} if target else {})}
    margin = one_piece(of_one({"price": price}, price=cost, pricing=pricing)).margin
    assert (margin.share, margin.short) == (share, short)
    assert 0 <= Decimal(margin.bar) <= 100


def test_a_combination_that_falls_short_is_counted_while_it_is_folded_in() -> None:
    answers = make.choice(
        "size", {"id": "shown", "usual": "yes"}, {"id": "more", "recipe": {"rose": "9"}, "add": "-80.00"}
    )
    pricing = {"markup": {"fresh": "4"}, "target": "70%"}
    row = one_piece(of_one({"choices": [answers]}, pricing=pricing))
    assert (row.summary, row.short, row.margin.short) == ("2 combinations", "1 falls short", "")


def test_a_piece_that_costs_nothing_has_no_share() -> None:
    row = one_piece(view_of(make.shared(), make.event({"recipe": {}, "goods": {}})))
    assert (row.margin.share, row.margin.short, row.picked) == ("–", "", "–")


def test_picks_are_shown_by_their_labels_and_left_out_pieces_say_so() -> None:
    shared, (folder,) = read_content(MILLRACE)

    other = Picks((Pick((0,), 1, out=True), Pick((2,), 6)))
    bouquet, bowls = view_of(shared, folder, picks=other).pieces
    assert (bouquet.picked, bouquet.quantity, bouquet.line) == ("Left out", "–", "–")
    picked = ("Lush · 6, instead of 5", "6", "81.00", "486.00")
    assert (bowls.picked, bowls.quantity, bowls.margin.each, bowls.line) == picked


def test_where_only_the_count_differs_that_is_what_was_picked() -> None:
    bowls = {"recipe": {"rose": "3"}, "quantity": {"usual": "5", "to": "9"}}
    shared = make.shared(stems={"rose": make.stem("100", "3")})
    row = one_piece(view_of(shared, make.event(bowls), picks=Picks((Pick((), 6),))))
    assert (row.picked, row.quantity) == ("6, instead of 5", "6")


def test_what_to_do_comes_in_order_and_ends_with_the_day() -> None:
    shared, (folder,) = read_content(MILLRACE)
    told = [(todo.what, todo.command) for todo in view_of(shared, folder).todo]
    assert told[0] == ("Send the proposal", "sitegen send 2031-09-13-millrace")
    assert told[1] == ("Order Thread Box", "sitegen order 2031-09-13-millrace")
    assert view_of(shared, folder, today=dt.date(2031, 9, 14)).todo == ()


def test_a_closed_event_asks_for_nothing_and_a_low_total_comes_first() -> None:
    shared = make.shared(stems={"rose": make.stem("10.00")})
    low = {"least": "50.00", "changes_close": "28 days before"}
    first, then, *_ = view_of(shared, make.event({"recipe": {"rose": "1"}}, day="2031-09-13", **low)).todo
    assert (first.what, first.late) == ("Below the least of $50.00", True)
    assert then.when.replace("\u00a0", " ") == "before Sat, Aug 16"
    closed = make.event({"recipe": {"rose": "1"}}, closed="cancelled", **low)
    assert view_of(shared, closed).todo == ()


def test_the_days_of_an_event_stand_in_order() -> None:
    shared = make.shared(
        stems={"rose": make.stem("10.00")},
        payments=[
            {"label": "First", "percent": "50%", "due": "2031-05-01"},
            {"label": "Last", "rest": "yes", "due": "14 days before"},
        ],
    )
    event = make.event(
        {"piece": "Bowls", "recipe": {"rose": "1"}, "bench": "2"},
        {"piece": "Arch", "recipe": {"rose": "1"}, "bench": "on-site"},
        day="2031-06-30",
        changes_close="28 days before",
        hire_back="2031-07-01 12:00",
        collect={"at": "2031-06-29 17:00", "where": "the studio"},
    )
    told = [
        (date.day.iso, date.what.replace("\u202f", " "), date.past) for date in view_of(shared, event).dates
    ]
    assert told == [
        ("2031-05-01", "First $10.00", True),
        ("2031-06-02", "Changes close", False),
        ("2031-06-16", "Last $10.00", False),
        ("2031-06-28", "Order A farm", False),
        ("2031-06-28", "Delivery: A farm", False),
        ("2031-06-28", "Bench: Bowls", False),
        ("2031-06-29", "They collect at 5:00 PM, the studio", False),
        ("2031-06-30", "The day itself", False),
        ("2031-07-01", "Rental pieces back by 12:00 PM", False),
    ]


def test_notes_to_self_are_gathered_once_and_only_of_what_is_made() -> None:
    shared = make.shared(
        stems={
            "rose": make.stem("1.00", name="Rose", private="sulks"),
            "gum": make.stem("1.00", private="unused"),
        },
        goods={"pin": {**make.pack("1.00", pieces="10"), "name": "Pin", "private": "sharp"}},
    )
    size = make.choice("size", {"id": "usual", "private": "most take it"}, {"id": "other", "private": "rare"})
    view = view_of(
        shared,
        make.event(
            {"piece": "Bowl", "recipe": {"rose": "1"}, "private": "for Ada", "choices": [size]},
            {"piece": "Jug", "recipe": {"rose": "1"}, "goods": {"pin": "1"}},
            private="they may move",
        ),
    )
    assert [(note.about, note.text) for note in view.notes] == [
        ("", "they may move"),
        ("Bowl", "for Ada"),
        ("Bowl: usual", "most take it"),
        ("Rose", "sulks"),
        ("Pin", "sharp"),
    ]


def test_links_go_to_the_files_beside_the_page(millrace: DeskEvent) -> None:
    assert [link.href for link in millrace.links] == [
        "proposal.html",
        "order.html",
        "agreed.html",
        "figures.json",
    ]


def page_of(view: DeskEvent) -> BeautifulSoup:
    theme, problems = find_theme(THEME, SHIPPED)
    assert theme is not None, problems
    return BeautifulSoup(florist_page(EVENT_TEMPLATE, view, view.language, theme), "html.parser")


def test_every_event_of_the_demo_renders_whole() -> None:
    shared, folders = read_content(DEMO)
    for folder in folders:
        page = page_of(view_of(shared, folder, today=dt.date(2027, 4, 19)))
        heads = [row.get_text() for row in page.select(".pieces > tbody > tr > th.name > span")]
        assert heads == [file.piece.piece for file in folder.pieces]
        assert not [
            part for part in page.select("[href],[src]") if "//" in str(part.get("href") or part.get("src"))
        ]


def test_a_warning_is_folded_behind_its_first_line() -> None:
    shared, (folder,) = read_content(MILLRACE)
    page = page_of(view_of(shared, folder, "stems.yaml:1:2: warning: odd\n  | x\nfix:  mend it", "one line"))
    assert [part.get_text() for part in page.select(".warning summary")] == [
        "stems.yaml:1:2: warning: odd",
        "one line",
    ]
    assert page.select(".warning pre")[0].get_text() == "  | x\nfix:  mend it"


def test_hostile_words_reach_the_page_inert() -> None:
    bad = '"><script>alert(1)</script><i>'
    shared = make.shared(stems={"rose": make.stem("10.00", name=bad, private=bad)}, studio=bad)
    piece = {"piece": bad, "group": bad, "recipe": {"rose": "1"}, "private": bad}
    event = make.event(piece, {**piece, "group": "other"}, private=bad, **{"for": bad, "event": bad})
    page = page_of(view_of(shared, event, f"{bad}\n{bad}"))
    assert len(page.find_all("script")) == 1
    assert page.find("i") is None


@pytest.mark.parametrize("language", ["en-US", "de-DE", "fr-FR", "tr-TR", "hi-IN"])
@given(tenths=st.integers(0, 1000))
def test_percentages_are_printed_as_babel_prints_them(language: str, tenths: int) -> None:
    # Babel stands for the Unicode locale data; one decimal is put into its pattern.
    locale = Locale.parse(language, sep="-")
    pattern = locale.percent_formats[None].pattern.replace("0%", "0.0%").replace("0\u00a0%", "0.0\u00a0%")
    printed = format_percent(Decimal(tenths) / 1000, format=pattern, locale=locale)
    if language == "tr-TR":
        printed = f"%{tenths // 10},{tenths % 10}"  # its pattern has the sign in front
    assert figures_for(language, USD, TODAY).tenths(tenths) == printed


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_text_stands_out_from_what_is_behind_it(scheme: str) -> None:
    # 4.5:1 is asked for by WCAG 2.2, success criterion 1.4.3; the ratio by the reference library is its own formula.
    css = (SHIPPED[-1] / "desk" / "desk.css").read_text("utf-8")
    blocks = re.findall(r":root \{(.*?)\}", css, re.DOTALL)
    tokens = dict(re.findall(r"--([a-z]+): (#[0-9a-f]{3,6})", blocks[0 if scheme == "light" else 1]))
    for text in ("ink", "soft", "link", "late"):
        for ground in ("ground", "field"):
            assert Color(tokens[text]).contrast(tokens[ground], method="wcag21") >= 4.5, (text, ground)


@pytest.mark.parametrize(
    ("stage", "what", "command"),
    [
        ("sent", "Read their reply", "sitegen reply"),
        ("answered", "Approve what you agreed on", "sitegen approve 2031-09-13-millrace"),
        ("approved", "Order Thread Box", "sitegen order 2031-09-13-millrace"),
    ],
)
def test_whose_turn_it_is(stage: str, what: str, command: str) -> None:
    shared, (folder,) = read_content(MILLRACE)
    first = view_of(shared, folder, progress=Progress(stage, 1)).todo[0]
    assert (first.what, first.command) == (what, command)


def test_an_approved_event_says_which_payment_is_overdue() -> None:
    shared, (folder,) = read_content(MILLRACE)
    late = view_of(shared, folder, today=dt.date(2031, 8, 24), progress=Progress("approved", 1)).todo[0]
    assert (late.what, late.late) == ("Balance $349.29 not received", True)
    assert (
        not view_of(shared, folder, today=dt.date(2031, 8, 23), progress=Progress("approved", 1)).todo[0].late
    )
    paid = folder.event.model_copy(
        update={"paid": (Paid.model_validate({"date": "2031-08-01", "amount": "400"}),)}
    )
    some = replace(folder, event=paid)
    # 498.98 less 400.00, which covers the retainer of 149.69 and a part of the balance.
    late = view_of(shared, some, today=dt.date(2031, 8, 24), progress=Progress("approved", 1)).todo[0]
    assert late.what == "Balance $98.98 not received"
    whole = folder.event.model_copy(
        update={"paid": (Paid.model_validate({"date": "2031-08-01", "amount": "498.98"}),)}
    )
    all_in = view_of(
        shared, replace(folder, event=whole), today=dt.date(2031, 8, 24), progress=Progress("approved", 1)
    )
    assert not any("received" in todo.what for todo in all_in.todo)
