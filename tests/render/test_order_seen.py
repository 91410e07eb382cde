"""What build cards show beside the order: one picture a piece, told as what it is, and what was chosen."""

from dataclasses import replace
from typing import Any

from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.table import table
from sitegen.pictures.plan import JPEG, WEBP, Kind, Picture, Rendition
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.render.order_cards import Seen
from sitegen.render.order_seen import seen_on_cards
from sitegen.render.sketched import Sketched
from tests import make


def picture(kind: Kind, name: str = "a") -> Picture:
    webp, jpeg = Rendition(f"{name}.webp", 1600, 1200, WEBP), Rendition(f"{name}.jpeg", 960, 720, JPEG)
    return Picture("Five bouquets", kind, "", (webp,), jpeg)


def event_of(*photos: str, **studio: Any) -> PricedEvent:
    piece = {
        "recipe": {"rose": "2"},
        "photos": list(photos),
        "choices": [
            make.choice("ribbon", {"id": "wrap", "label": "Wrapped"}, {"id": "trail", "label": "Long trail"})
        ],
    }
    return price_event(make.shared(stems={"rose": make.stem("2.00")}, **studio), make.event(piece))


def seen(
    event: PricedEvent, picks: Picks | None = None, sketch: Picture | None = None, **pictures: Picture
) -> Seen:
    files = {f"{name}.jpg": one for name, one in pictures.items()}
    sketches = {"p1": Sketched(sketch)} if sketch else {}
    return seen_on_cards(event, picks or usual_picks(table(event)), files, sketches, "../pictures")["p1"]


def test_a_photo_of_ours_comes_before_a_direction_and_as_a_jpeg() -> None:
    event = event_of("mood.jpg", "own.jpg")
    shown = seen(event, mood=picture("inspiration", "mood"), own=picture("ours", "own")).picture
    assert shown is not None
    assert (shown.src, shown.alt, shown.caption) == (
        "../pictures/own.jpeg",
        "Five bouquets",
        "As shown to the couple",
    )


def test_a_direction_and_a_sketch_are_told_as_such() -> None:
    mood = seen(event_of("mood.jpg"), mood=picture("inspiration")).picture
    drawn = seen(event_of(), sketch=picture("sketch")).picture
    assert mood is not None
    assert drawn is not None
    assert mood.caption == "A direction, not the piece itself"
    assert drawn.caption == "A sketch of the recipe, not the finished piece"


def test_captions_are_in_the_studio_s_words() -> None:
    shown = seen(event_of("own.jpg", language="de-DE"), own=picture("ours")).picture
    assert shown is not None
    assert shown.caption == "As shown to the couple"


def test_without_a_picture_there_is_none() -> None:
    assert seen(event_of("own.jpg")) == Seen()


def test_only_what_differs_from_what_we_suggest_is_told() -> None:
    event = event_of()
    usual = usual_picks(table(event))
    trail = replace(usual, pieces=(replace(usual.pieces[0], answers=(1,)),))
    assert seen(event).chosen == ""
    assert seen(event, trail).chosen == "Long trail"
