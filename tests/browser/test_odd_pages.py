"""What no designer draws: each theme holds its shape, cuts nothing, and stays legible by day and by night."""

from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser

from sitegen.pictures.plan import Picture
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.render.couple_piece import Shot
from sitegen.render.pages import couple_page
from sitegen.render.proposal import Photos, couple_view
from tests import make
from tests.browser.looking import cut, edgeless, faint, open_all, spills
from tests.render import sample

pytestmark = pytest.mark.browser

THEMES = ("north-window", "market-day", "recipe-box")
LONG = "Anneliese-Wilhelmine Hohenbergstetten-Donaueschingenbach and Maximiliana Theodora Quarrington-Featherstonehaughly-Bramble"
WORD = "Donaudampfschifffahrtsgesellschaftskapitaensmuetzenbandschleifenrosengesteck"
TWENTY = [f"#{n * 12:02x}{255 - n * 9:02x}{(n * 83) % 256:02x}" for n in range(20)]
TALL, PANORAMA = (400, 2400), (3000, 500)


def drawn(picture: Picture, caption: str) -> Shot:
    """A picture that needs no file: its size is what matters here."""
    one = picture.fallback
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="{one.width}" height="{one.height}"/>'
    return Shot(f"data:image/svg+xml,{quote(svg)}", "", one.width, one.height, "#main", picture.alt, caption)


def crowd() -> list[dict[str, Any]]:
    """Sixty pieces: one of a single stem, one of three hundred, and one at a price in the millions."""
    plain: list[dict[str, Any]] = [
        {
            "piece": f"Piece {n}",
            "group": f"Part {n % 7}",
            "quantity": {"usual": "12", "from": "1", "to": "400"},
            "recipe": {"rose-blush": "1"},
        }
        for n in range(57)
    ]
    odd: list[dict[str, Any]] = [
        {
            "piece": f"{LONG} {WORD}",
            "group": LONG[:60],
            "recipe": {"rose-blush": "1"},
            "photos": [{"file": "a.jpg", "alt": LONG}],
        },
        {
            "piece": "Three hundred",
            "recipe": {"larkspur": "300"},
            "photos": [{"file": "b.jpg", "alt": "A panorama"}],
        },
        {"piece": "The greenhouse", "quantity": "3", "recipe": {"orchid": "1"}, "optional": "yes"},
    ]
    return [
        sample.BOUQUETS | {"photos": [{"file": "b.jpg", "alt": "A panorama"}, {"file": "a.jpg"}]},
        *odd,
        *plain,
    ]


def priced(pieces: list[dict[str, Any]], stems: dict[str, Any] | None = None, /, **more: Any) -> PricedEvent:
    studio = {
        key: more.pop(key) for key in ("currency", "language", "tax", "charges", "discount") if key in more
    }
    shared = make.shared(stems=sample.STEMS | (stems or {}), goods=sample.GOODS, **(sample.TERMS | studio))
    return price_event(shared, sample.event(*pieces, **more))


ORCHID = {"orchid": make.stem("2345678.90", name="Orchid", colour="#fffefc", bloom="4 in")}
PALE = {name: one | {"colour": "#fffdfa"} for name, one in sample.STEMS.items()}
MANY = {
    f"dye-{n}": make.stem("1.00", name=f"Dyed, no {n}", colour=TWENTY[n], bloom="3 in") for n in range(20)
}
NO_CENTS = {
    "currency": "JPY",
    "charges": [{"id": "delivery", "label": "配送料", "amount": "12000"}],
    "discount": None,
}
EVENTS: dict[str, Any] = {
    "a crowd, a long name": lambda: priced(crowd(), ORCHID, **{"for": LONG}),
    "Arabic, no places, one colour": lambda: priced(
        [sample.TABLES],
        **{"for": "عبد الرحمن المنصوري and نور الهدى الخطيب", "places": [], "palette": ["#b5c9de"]},
    ),
    "Japanese, no cents, too pale": lambda: priced(
        [{"piece": "ブーケ", "recipe": {"lily": "9"}, "quantity": {"usual": "5", "from": "4", "to": "7"}}],
        PALE | {"lily": make.stem("300", name="百合", colour="#fffffe")},
        **NO_CENTS,
        **{
            "for": "長谷川 美咲 and 小笠原 健太郎",
            "least": "900",
            "palette": ["#fffffe", "#fffdfa", "#fefefe"],
        },
    ),
    "twenty colours": lambda: priced(
        [{"piece": "All", "recipe": dict.fromkeys(MANY, "1")}], MANY, palette=TWENTY, places=[]
    ),
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Every event in every theme; tall and wide photos where it has any."""
    out = tmp_path_factory.mktemp("odd")
    made = {"a.jpg": sample.a_picture("a", *TALL), "b.jpg": sample.a_picture("b", *PANORAMA)}
    for n, event in enumerate(EVENTS.values()):
        photos = Photos(made if n == 0 else {}, made["b.jpg"] if n == 0 else None, drawn)
        view = couple_view(event(), photos)
        for theme in THEMES:
            (out / f"{theme}-{n}.html").write_text(couple_page(view, sample.theme(theme)), encoding="utf-8")
    return out


@pytest.mark.parametrize("theme", THEMES)
def test_the_page_holds_its_shape_and_stays_legible(theme: str, browser: Browser, folder: Path) -> None:
    """Source: WCAG 2.2, 1.4.10 (no scrolling across at 320 px) and 1.4.3 (contrast, as the browser computed it)."""
    page = browser.new_page()
    wrong = {}
    for n, name in enumerate(EVENTS):
        page.set_viewport_size({"width": 320, "height": 700})
        page.emulate_media(color_scheme="light")
        page.goto((folder / f"{theme}-{n}.html").as_uri())
        wrong[f"{name}, light"] = faint(page) + edgeless(page)
        page.emulate_media(color_scheme="dark")
        wrong[f"{name}, dark"] = faint(page)
        open_all(page)
        wrong[f"{name}, 320 px"] = spills(page) + cut(page)
        page.set_viewport_size({"width": 390, "height": 700})
        wrong[f"{name}, 390 px"] = spills(page)
        page.set_viewport_size({"width": 1280, "height": 700})
        wrong[f"{name}, 1280 px"] = spills(page) + cut(page)
    page.close()
    assert {name: found for name, found in wrong.items() if found} == {}


def test_what_is_asked_of_a_page_can_fail(browser: Browser) -> None:
    page = browser.new_page(viewport={"width": 320, "height": 700})
    page.set_content(
        '<body style="background: #fff"><p style="width: 500px; color: #ccc">Far</p>'
        '<div style="overflow: hidden; width: 60px"><span style="white-space: nowrap">Much too long</span></div>'
    )
    assert (len(spills(page)), len(cut(page)), len(faint(page))) == (2, 1, 1)
    page.close()
