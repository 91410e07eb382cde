"""How a page addresses its pictures: as files beside it, or carried inside it."""

import base64
from collections.abc import Callable
from typing import TypeAlias

from sitegen.pictures.plan import Picture, Rendition, srcset
from sitegen.render.couple_piece import Shot

Show: TypeAlias = Callable[[Picture, str], Shot]
"""Give a picture and its caption as the page shows it."""

_CARRIED_EDGE = 960


def linked(folder: str) -> Show:
    """Address pictures as files in *folder*, an address relative to the page."""

    def show(picture: Picture, caption: str) -> Shot:
        one = picture.fallback
        large = f"{folder}/{picture.renditions[0].name}"
        src, webp = f"{folder}/{one.name}", srcset(picture, folder)
        place = sealed_place(picture)
        drawn = picture.kind == "sketch"
        return Shot(src, webp, one.width, one.height, large, picture.alt, caption, place, drawn)

    return show


def sealed_rendition(picture: Picture) -> Rendition:
    """Give the one size in which a sealed page has a picture: a changed photo is then one file to send."""
    return picture.renditions[0]


def sealed_place(picture: Picture) -> str:
    """Name a picture among what is sealed: a mark of its content, whatever its file is called."""
    one = sealed_rendition(picture)
    return f"{one.name.split('-', 1)[0]}/{one.width}"


def carried(read: Callable[[Rendition], bytes]) -> Show:
    """Carry each picture inside the page once, in its middle size; *read* gives a rendition's bytes."""

    def show(picture: Picture, caption: str) -> Shot:
        fits = [one for one in picture.renditions if max(one.width, one.height) <= _CARRIED_EDGE]
        one = fits[0] if fits else picture.renditions[-1]
        data = base64.b64encode(read(one)).decode("ascii")
        src = f"data:image/{one.encoding.format.lower()};base64,{data}"
        drawn = picture.kind == "sketch"
        return Shot(src, "", one.width, one.height, "", picture.alt, caption, drawn=drawn)

    return show
