"""Each stem's year on the florist's page of an event."""

import datetime as dt
from typing import Any

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.price.event import price_event
from sitegen.render.desk_figures import figures_for
from sitegen.render.desk_seasons import seasons
from tests import make


def sold(name: str, months: str) -> dict[str, Any]:
    offer = {"supplier": "farm", "bunch": "1", "price": "3.00", "months": months}
    return {**make.stem("3.00", name=name), "offers": [offer]}


STEMS = {
    "rose": make.stem("3.00", name="Rose"),
    "peony": sold("Peony", "May-Jun"),
    "tulip": sold("Tulip", "Nov-Feb, Jun"),
}


def test_stems_with_a_season_show_their_year() -> None:
    shared = make.shared(stems=STEMS)
    piece = {"piece": "Bouquet", "group": "Flowers", "recipe": {"rose": "1", "peony": "1", "tulip": "1"}}
    priced = price_event(shared, make.event(piece))
    figures = figures_for("en-US", shared.currency, dt.date(2031, 1, 1))
    peony, tulip = seasons(priced, usual_picks(table(priced)), figures)
    assert (peony.name, peony.sold, peony.at) == ("Peony", ((4, 2),), 5)
    assert peony.said == "May to Jun; it ends in the month of the event"
    assert tulip.sold == ((0, 2), (5, 1), (10, 2))
    assert tulip.said == "Jun, Nov to Feb; it ends in the month of the event"
