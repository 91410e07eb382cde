"""The page's script against Python, to the last unit and letter, in a real browser."""

import json
from dataclasses import asdict
from pathlib import Path
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page

from sitegen.choices.picks import picks_json, usual_picks
from sitegen.choices.table import table_json
from sitegen.choices.totals import lines_of, total_of, totals, totals_json
from sitegen.render.money import money_format
from sitegen.render.scripts import joined
from sitegen.values.money import Currency
from tests.browser.drawn import a_table, some_picks

pytestmark = pytest.mark.browser

VECTORS = sorted((Path(__file__).parents[1] / "vectors" / "totals").glob("*.json"))
EVENTS = 2000
PLACES = [
    ("en-US", Currency("USD", 2)),
    ("de-DE", Currency("EUR", 2)),
    ("fr-FR", Currency("EUR", 2)),
    ("en-IN", Currency("INR", 2)),
    ("es-ES", Currency("EUR", 2)),
    ("ja-JP", Currency("JPY", 0)),
    ("ar-BH", Currency("BHD", 3)),
]


def computed(page: Page, cases: list[dict[str, Any]]) -> list[dict[str, Any]]:
    page.add_script_tag(content=joined("sums.js") + "\nwindow.totals = totals;")
    # As one text: values one by one are slow to hand to a browser.
    script = "text => JSON.stringify(JSON.parse(text).map(({ table, picks }) => totals(table, picks)))"
    found: list[dict[str, Any]] = json.loads(page.evaluate(script, json.dumps(cases)))
    return found


def without_taxable(sums: dict[str, Any]) -> dict[str, Any]:
    """The script prints no taxable part, so it does not compute one."""
    return {name: value for name, value in sums.items() if name != "taxable"}


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_the_shared_vectors_hold_in_the_browser(path: Path, blank: Page) -> None:
    vector = json.loads(path.read_text(encoding="utf-8"))
    cases = [{"table": vector["table"], "picks": case["picks"]} for case in vector["cases"]]
    assert computed(blank, cases) == [without_taxable(case["totals"]) for case in vector["cases"]]


def test_random_events_and_picks_come_to_the_same(blank: Page) -> None:
    chance = Random(20310614)
    cases, expected = [], []
    for _ in range(EVENTS):
        table = a_table(chance)
        picks = some_picks(table, chance)
        cases.append({"table": table_json(table), "picks": picks_json(picks)})
        expected.append(without_taxable(totals_json(totals(table, picks))))
    assert computed(blank, cases) == expected


def test_what_another_line_leads_to_is_the_total_with_it(blank: Page) -> None:
    """A tap adds up only what differs, for each of hundreds of answers; Python adds up everything."""
    chance = Random(40)
    cases, expected = [], []
    for _ in range(300):
        table = a_table(chance)
        picks = some_picks(table, chance)
        lines, at = lines_of(table, picks), chance.randrange(len(table.pieces))
        line = chance.choice([0, chance.randint(0, 10**7)])
        cases.append([table_json(table), lines, sorted(picks.charges), at, line])
        expected.append(total_of(table, (*lines[:at], line, *lines[at + 1 :]), picks.charges))
    blank.add_script_tag(content=joined("sums.js") + "\nwindow.leading = leading;")
    script = "cases => cases.map(([table, lines, chosen, i, line]) => leading(table, lines, chosen)(i, line))"
    assert blank.evaluate(script, cases) == expected


def test_the_suggested_picks_are_the_same(blank: Page) -> None:
    table = a_table(Random(3))
    blank.add_script_tag(content=joined("sums.js") + "\nwindow.usualPicks = usualPicks;")
    assert blank.evaluate("table => usualPicks(table)", table_json(table)) == picks_json(usual_picks(table))


@pytest.mark.parametrize(("language", "currency"), PLACES)
def test_money_is_printed_to_the_letter(language: str, currency: Currency, blank: Page) -> None:
    money, chance = money_format(language, currency), Random(7)
    amounts = [0, 1, -1, 99, 100, -100, 123456, 10**12] + [
        chance.randint(-(10**10), 10**10) for _ in range(500)
    ]
    blank.add_script_tag(content=joined("text.js") + "\nwindow.print = [exact, brief, change];")
    printed = blank.evaluate(
        "([amounts, money]) => amounts.map(units => print.map(one => one(units, money)))",
        [amounts, asdict(money)],
    )
    assert printed == [[money.exact(units), money.brief(units), money.change(units)] for units in amounts]
