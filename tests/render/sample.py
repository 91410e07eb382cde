"""One invented event, made in memory, that uses everything the couple's page can show."""

from dataclasses import replace
from pathlib import Path
from typing import Any

from sitegen.model.content import EventFolder, Shared, Words
from sitegen.pictures.head import PhotoHead
from sitegen.pictures.plan import Look, Picture, picture, plan
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.render.couple import CouplePage
from sitegen.render.pages import couple_page
from sitegen.render.photos import linked
from sitegen.render.proposal import Photos, couple_view
from sitegen.theme import Theme, find_theme
from tests import make

STEMS: dict[str, Any] = {
    "rose-blush": make.stem("3.00", name="Garden rose, blush", colour="#f0cdc0", bloom="3 in"),
    "rose-cream": make.stem("3.50", name="Garden rose, cream", colour="#f5ead0", bloom="3 in"),
    "larkspur": make.stem(
        "1.20", role="line", name="Larkspur", colour="#5577ad", cautions=["cats", "people"]
    ),
    "olive": make.stem("0.60", role="foliage", name="Olive", colour="#7a7d4a"),
    "lily": make.stem("2.00", name="Lily, white", colour="#ffffff", cautions=["cats", "pollen"]),
}
GOODS: dict[str, Any] = {
    "ribbon": make.pack("25.00", length="25 yd") | {"name": "Silk ribbon, ivory"},
    "cup": {"name": "Brass cup", "hire": "4.00"},
    "candle": make.pack("12.00", pieces="12") | {"name": "Candle", "cautions": ["flame"]},
}
BOUQUETS: dict[str, Any] = {
    "id": "bouquets",
    "piece": "Attendants' bouquets",
    "group": "Personal flowers",
    "quantity": {"usual": "5", "from": "4", "to": "7"},
    "recipe": {"rose-blush": "3", "larkspur": "2", "olive": "2/3"},
    "goods": {"ribbon": "0.5 yd"},
    "place": "garden",
    "extra": "1",
    "photos": [{"file": "a.jpg", "alt": "Two bouquets"}, {"file": "b.jpg", "kind": "inspiration"}],
    "second_place": {"place": "barn", "spot": "Head table", "from": "16:30", "vessel": "cup"},
    "choices": [
        make.choice(
            "fullness",
            {"id": "shown", "label": "As shown", "usual": "yes"},
            {"id": "fuller", "label": "Fuller", "recipe": {"rose-blush": "5", "olive": "1"}},
        ),
        make.choice(
            "colour",
            {"id": "blush", "label": "Blush"},
            {"id": "cream", "label": "All cream", "swap": {"rose-blush": "rose-cream"}},
        ),
        make.choice(
            "tie",
            {"id": "wrap", "label": "Wrapped"},
            {"id": "trail", "label": "Long trail", "goods": {"ribbon": "1.5 yd"}},
        ),
    ],
}
ARCH: dict[str, Any] = {
    "id": "arch",
    "piece": "Arch",
    "group": "Ceremony",
    "recipe": {"lily": "40", "olive": "30"},
    "optional": "yes",
    "place": "garden",
    "cautions": ["ladder", "an unknown kind"],
    "photos": [{"file": "c.jpg", "alt": "An arch", "credit": "A friend"}],
}
TABLES: dict[str, Any] = {
    "id": "tables",
    "piece": "Low bowls",
    "group": "Ceremony",
    "quantity": "12",
    "recipe": {"rose-cream": "1/2"},
    "goods": {"candle": "2"},
}
TERMS: dict[str, Any] = {
    "charges": [
        {"id": "delivery", "label": "Delivery", "percent": "12%", "least": "90.00"},
        {"id": "late", "label": "Late collection", "amount": "150.00", "taxable": "no", "optional": "yes"},
    ],
    "discount": {"percent": "5%", "label": "Weekday"},
    "tax": {"rates": [{"label": "Sales tax", "rate": "8.25%"}]},
    "payments": [
        {"label": "Retainer", "percent": "30%", "due": "approval"},
        {"label": "Balance", "rest": "yes", "due": "21 days before"},
    ],
}
EVENT: dict[str, Any] = {
    "for": "Ada Lind and Ben Okoro",
    "valid": "30 days",
    "changes_close": "28 days before",
    "mind": ["cats", "pollen"],
    "least": "900.00",
    "places": [
        {"id": "garden", "name": "Walled garden", "use": "Ceremony", "ready": "14:30", "starts": "15:30"},
        {
            "id": "barn",
            "name": "Long barn",
            "use": "Dinner",
            "starts": "18:00",
            "ends": "23:30",
            "clear": "01:00",
        },
    ],
}
NOTE = "Dear Ada and Ben,\n\nA *loose* garden.\n\nUna"


def shared(**studio: Any) -> Shared:
    found = make.shared(stems=STEMS, goods=GOODS, **(TERMS | studio))
    return replace(found, terms=Words("## Prices\n\nThey hold.", make.NOWHERE))


def event(*pieces: dict[str, Any], note: str = NOTE, **more: Any) -> EventFolder:
    folder = make.event(*(pieces or (BOUQUETS, ARCH, TABLES)), **(EVENT | more))
    return replace(folder, note=Words(note, make.NOWHERE))


def priced(*pieces: dict[str, Any], studio: dict[str, Any] | None = None, **more: Any) -> PricedEvent:
    return price_event(shared(**(studio or {})), event(*pieces, **more))


def a_picture(name: str, width: int = 1200, height: int = 1500) -> Picture:
    job = plan(Path(name), PhotoHead("JPEG", width, height, name), Look())
    return picture(job, f"Photo {name}")


def photos(**sizes: tuple[int, int]) -> Photos:
    """Pictures for a.jpg, b.jpg and c.jpg, each of *sizes* or upright, with the first as the opening's."""
    made = {f"{name}.jpg": a_picture(name, *sizes.get(name, (1200, 1500))) for name in "abc"}
    return Photos(made, made["a.jpg"], linked("pictures"))


def view(*pieces: dict[str, Any], studio: dict[str, Any] | None = None, **more: Any) -> CouplePage:
    return couple_view(priced(*pieces, studio=studio, **more), photos())


def theme(name: str = "north-window") -> Theme:
    found, problems = find_theme(name)
    assert found is not None, problems
    return found


def page(*pieces: dict[str, Any], studio: dict[str, Any] | None = None, **more: Any) -> str:
    return couple_page(view(*pieces, studio=studio, **more), theme())
