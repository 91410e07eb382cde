"""Which sizes a photo is made in: names and sizes are known here, before any pixel is made.

Pure: nothing is read or written. A rendition's name comes from the bytes of the photo and from everything
that shapes its pixels, so that equal names are equal bytes.
"""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from pathlib import Path
from typing import Literal

from sitegen.pictures.head import PhotoHead

Kind = Literal["ours", "inspiration", "sketch"]

# Part of every name: raise it when the making changes, and every picture is made anew.
_VERSION = 1


@dataclass(frozen=True, slots=True)
class Encoding:
    """How pixels become a file. *method* is WebP's effort, 0 to 6; JPEG has none."""

    format: Literal["WEBP", "JPEG"]
    quality: int
    method: int = 0


WEBP = Encoding("WEBP", 80, 4)
QUICK = Encoding("WEBP", 80, 2)
JPEG = Encoding("JPEG", 82)


@dataclass(frozen=True, slots=True)
class Look:
    """What a theme asks of every photo: longest edges, in pixels. *quick* is for previews: less work."""

    edges: tuple[int, ...] = (1600, 960, 480)
    fallback: int = 960
    quick: bool = False


@dataclass(frozen=True, slots=True)
class Cut:
    """A part of the upright photo, in fractions of its sides from left and top."""

    left: Fraction = Fraction(0)
    top: Fraction = Fraction(0)
    right: Fraction = Fraction(1)
    bottom: Fraction = Fraction(1)

    def __post_init__(self) -> None:
        if not (0 <= self.left < self.right <= 1 and 0 <= self.top < self.bottom <= 1):
            raise ValueError(f"a cut lies inside the photo: {self}")


WHOLE = Cut()


@dataclass(frozen=True, slots=True)
class Rendition:
    name: str
    width: int
    height: int
    encoding: Encoding


@dataclass(frozen=True, slots=True)
class Job:
    """One photo and all that is made of it, widest first. *box* is the cut in pixels of the upright photo."""

    path: Path
    photo: PhotoHead
    box: tuple[int, int, int, int]
    renditions: tuple[Rendition, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo or sketch as a template shows it: WebP renditions, widest first, and one JPEG for the rest.

    A picture of kind *inspiration* is captioned as a direction, a *sketch* as one: neither is the piece.
    """

    alt: str
    kind: Kind
    credit: str
    renditions: tuple[Rendition, ...]
    fallback: Rendition


def plan(path: Path, photo: PhotoHead, look: Look, cut: Cut = WHOLE) -> Job:
    """Say what is to be made of a photo. Nothing is made larger than it is; equal sizes are made once."""
    box = _box(photo, cut)
    return Job(path, photo, box, renditions(photo.digest, box, look))


def renditions(digest: str, box: tuple[int, int, int, int], look: Look) -> tuple[Rendition, ...]:
    """Name all that *look* asks of the part *box* of what *digest* stands for, widest first."""
    size = (box[2] - box[0], box[3] - box[1])
    webp = QUICK if look.quick else WEBP
    wanted = {(_fit(size, edge), webp) for edge in look.edges} | {(_fit(size, look.fallback), JPEG)}
    ladder = sorted({step for step, _ in wanted}, reverse=True)
    return tuple(_renditions(digest, box, ladder, wanted))


def picture(job: Job, alt: str, kind: Kind = "ours", credit: str = "") -> Picture:
    """Return the record of a planned photo for a template."""
    webp = tuple(one for one in job.renditions if one.encoding.format == "WEBP")
    fallback = next(one for one in job.renditions if one.encoding.format == "JPEG")
    return Picture(alt, kind, credit, webp, fallback)


def srcset(shown: Picture, folder: str) -> str:
    """Write the `srcset` of a picture whose files lie in *folder*, an address relative to the page.

    >>> large = Rendition("a-1600.webp", 1600, 1200, WEBP)
    >>> small = Rendition("b-480.webp", 480, 360, WEBP)
    >>> srcset(Picture("", "ours", "", (large, small), small), "../photos")
    '../photos/a-1600.webp 1600w, ../photos/b-480.webp 480w'
    """
    return ", ".join(f"{folder}/{one.name} {one.width}w" for one in shown.renditions)


def _box(photo: PhotoHead, cut: Cut) -> tuple[int, int, int, int]:
    left, right = floor(cut.left * photo.width), ceil(cut.right * photo.width)
    return left, floor(cut.top * photo.height), right, ceil(cut.bottom * photo.height)


def _fit(size: tuple[int, int], edge: int) -> tuple[int, int]:
    scale = min(Fraction(1), Fraction(edge, max(size)))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def _renditions(
    digest: str,
    box: tuple[int, int, int, int],
    ladder: list[tuple[int, int]],
    wanted: set[tuple[tuple[int, int], Encoding]],
) -> Iterator[Rendition]:
    for place, size in enumerate(ladder, 1):
        for encoding in (WEBP, QUICK, JPEG):
            if (size, encoding) in wanted:
                # Each size is made from the one above it, so the steps down to it belong to its name.
                key = repr((_VERSION, digest, box, ladder[:place], encoding))
                yield Rendition(_name(key, size[0], encoding), *size, encoding)


def _name(key: str, width: int, encoding: Encoding) -> str:
    mark = hashlib.blake2b(key.encode(), digest_size=12).hexdigest()
    return f"{mark}-{width}.{encoding.format.lower()}"
