"""Whole studios whose figures were worked out by hand from the rules, to the last byte."""

import datetime as dt
import json
from pathlib import Path

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.order.figures import order_figures
from sitegen.order.order import order_of, portions
from sitegen.price.event import price_event
from sitegen.render.figures import figures
from tests.reading import read_content

HERE = Path(__file__).parent


@pytest.mark.parametrize("studio", ["millrace"])
def test_figures_of_a_studio(studio: str) -> None:
    root = HERE / studio
    shared, (folder,) = read_content(root)
    priced = price_event(shared, folder)
    prices = table(priced)
    picks = usual_picks(prices)
    order = order_of(priced, portions(priced, picks), dt.date(2031, 6, 1))
    got = figures(priced, picks, totals(prices, picks), order_figures(order), revision=None, stage="draft")
    assert json.dumps(got, indent=1) + "\n" == (root / "figures.json").read_text(encoding="utf-8")
