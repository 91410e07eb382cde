"""What the plan must know of a photo, found from its header and bytes; no pixel is decoded."""

import hashlib
import os
from dataclasses import dataclass, field
from io import BufferedReader
from pathlib import Path

from PIL import Image

from sitegen.pictures.opening import Fault, looks_like_ours, open_file, open_image, other_format
from sitegen.pictures.turn import turn_of, turned_size

_DIGEST_BYTES = 20

Stamp = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class PhotoHead:
    """The upright photo's *width* and *height* in pixels; *digest* is BLAKE2b-160 of the file, in hex."""

    format: str  # JPEG, PNG, WEBP, AVIF or GIF
    width: int
    height: int
    digest: str
    # What the disk said of the file before it was read; no part of what the photo is.
    stamp: Stamp | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class PhotoFault:
    """A photo that cannot be used. *detail* adds a format or a size, in plain words of ours, or nothing."""

    path: Path
    kind: Fault
    detail: str = ""


def head(path: Path) -> PhotoHead | PhotoFault:
    """Read the head of the photo at *path*. Whether its pixels decode is found by `make` or `verify`."""
    stream = open_file(path)
    if isinstance(stream, Fault):
        return PhotoFault(path, stream)
    with stream:
        stamp = stamp_of(os.fstat(stream.fileno()))
        image = open_image(stream)
        if isinstance(image, Fault):
            return _explained(path, image, stream)
        width, height = turned_size(image.size, turn_of(image))
        return PhotoHead(_format(image), width, height, digest(stream), stamp)


def stamp_of(state: os.stat_result) -> Stamp:
    """Return what changes whenever the file does: the time of the last change of status is never set back."""
    return state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino


def digest(stream: BufferedReader) -> str:
    """Hash all bytes of *stream*, and wind it back to its start."""
    stream.seek(0)
    found = hashlib.file_digest(stream, lambda: hashlib.blake2b(digest_size=_DIGEST_BYTES)).hexdigest()
    stream.seek(0)
    return found


def _format(image: Image.Image) -> str:
    # Several pictures in one JPEG file (a phone's depth or brightness map): the first one is the photo.
    return "JPEG" if image.format == "MPO" else image.format or ""


def _explained(path: Path, kind: Fault, stream: BufferedReader) -> PhotoFault:
    stream.seek(0)
    start = stream.read(32)
    if kind is not Fault.NOT_A_PHOTO:
        return PhotoFault(path, kind)
    if name := other_format(start):
        return PhotoFault(path, Fault.OTHER_FORMAT, name)
    return PhotoFault(path, Fault.UNREADABLE if looks_like_ours(start) else Fault.NOT_A_PHOTO)
