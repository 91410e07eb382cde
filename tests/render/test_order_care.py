"""Cautions on the studio's sheets: each is told in full somewhere, and every one says who decides."""

import datetime as dt
import re

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.order.order import order
from sitegen.price.event import price_event
from sitegen.render.order_view import Stage, order_view
from sitegen.render.pages import florist_page
from sitegen.theme import SHIPPED, find_theme
from tests import make

TODAY = dt.date(2031, 5, 1)
KINDS = {
    "cats": "Listed as harmful to cats",
    "dogs": "Listed as harmful to dogs",
    "people": "Listed as harmful to people",
    "thorns": "Thorns",
    "sap": "Sap that can irritate",
    "pollen": "Pollen",
    "scent": "Strong scent",
    "food": "Near food",
    "flame": "Near open flame",
    "ladder": "Hung or up high",
    "wind": "In wind",
    "magnet": "Magnets",
    "sharps": "Pins, wire, blades",
    "bees": "bees",  # a word of her own
}
DECIDES = r"poison line|a vet|doctor|rules|venue|baker|caterer|fire code|rigger|decide|[Ww]ho answers"


def cares(*, stem: str = "", good: str = "", piece: str = "") -> list[str]:
    """Every caution on every sheet, for an event in which one thing alone carries one."""
    stems = {"rose": make.stem("2.00", name="Rose", cautions=[stem] if stem else [])}
    goods = {"pin": make.pack("6.50", pieces="144") | {"name": "Pin", "cautions": [good] if good else []}}
    arch = {
        "piece": "Arch",
        "recipe": {"rose": "3"},
        "goods": {"pin": "2"},
        "place": "garden",
        "cautions": [piece] if piece else [],
    }
    places = [{"id": "garden", "name": "Garden", "ready": "14:00", "starts": "15:00"}]
    priced = price_event(make.shared(stems=stems, goods=goods), make.event(arch, places=places))
    page = order_view(order(priced, usual_picks(table(priced)), TODAY), Stage(), TODAY)
    theme, problems = find_theme("sheets", SHIPPED)
    assert theme is not None, problems
    html = florist_page("order.html", page, page.language, theme)
    found = re.findall(r'<ul class="care">(.*?)</ul>', html, re.DOTALL)
    return [
        re.sub("<[^>]+>", "", item)
        for care in found
        for item in re.findall(r"<li>(.*?)</li>", care, re.DOTALL)
    ]


@pytest.mark.parametrize(("carrier", "name"), [("stem", "Rose"), ("good", "Pin"), ("piece", "Arch")])
@pytest.mark.parametrize("kind", KINDS)
def test_every_caution_is_told_with_its_name_and_who_decides(kind: str, carrier: str, name: str) -> None:
    told = [said for said in cares(**{carrier: kind}) if KINDS[kind] in said]
    assert told, f"{kind} of a {carrier} is on no sheet"
    for said in told:
        assert name in said
        assert re.search(DECIDES, said)
        assert not re.search(r"\bsafe\b|harmless", said)


def test_without_a_caution_there_is_no_box() -> None:
    assert cares() == []
