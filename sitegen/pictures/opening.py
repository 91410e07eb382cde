"""Open a photo without trusting it.

Everything that reads a photo goes through here: only regular files, only the formats below (never one whose
decoder runs programs, such as EPS), never more pixels than a camera makes. What is wrong with a photo is a
`Fault`, never an exception.
"""

import os
import stat
import warnings
from collections.abc import Callable
from enum import Enum
from io import BufferedReader
from pathlib import Path
from typing import TypeVar

from PIL import (
    AvifImagePlugin,
    GifImagePlugin,
    Image,
    JpegImagePlugin,
    PngImagePlugin,
    UnidentifiedImageError,
    WebPImagePlugin,
)

# Named here they are known at once; asked for by name alone, Pillow would first load all its forty formats.
FORMATS = tuple(
    one.format
    for one in (
        JpegImagePlugin.JpegImageFile,
        PngImagePlugin.PngImageFile,
        WebPImagePlugin.WebPImageFile,
        AvifImagePlugin.AvifImageFile,
        GifImagePlugin.GifImageFile,
    )
)
PIXELS_MOST = 120_000_000
BYTES_MOST = 256 * 1024 * 1024

# Pillow warns above this and refuses above twice this; `guarded` turns the warning into a refusal as well.
Image.MAX_IMAGE_PIXELS = PIXELS_MOST

# First bytes of photos that cameras and studios do make but that are not read here: (offset, bytes, name).
_OTHERS = (
    (4, b"ftyphei", "HEIC"),
    (4, b"ftyphev", "HEIC"),
    (4, b"ftypmif1", "HEIC"),
    (4, b"ftypcrx", "camera raw"),
    (0, b"II*\x00", "TIFF or camera raw"),
    (0, b"MM\x00*", "TIFF or camera raw"),
    (0, b"8BPS", "a layered studio file"),
    (0, b"BM", "BMP"),
    (0, b"%PDF", "PDF"),
)
_OURS = ((0, b"\xff\xd8\xff"), (0, b"\x89PNG\r\n\x1a\n"), (8, b"WEBP"), (4, b"ftypavi"), (0, b"GIF8"))

T = TypeVar("T")


class Fault(Enum):
    """What is wrong with a photo. Words for the author are made where its place in the content is known."""

    MISSING = "missing"
    NOT_A_FILE = "not a file"  # a folder, a named pipe, a device
    EMPTY = "empty"
    NOT_A_PHOTO = "not a photo"  # text, SVG, a page: whatever its name says
    OTHER_FORMAT = "a photo in a format that is not read"  # HEIC, TIFF, raw
    TOO_LARGE = "too large"
    TRUNCATED = "truncated"
    UNREADABLE = "unreadable"
    CHANGED = "changed while it was read"
    CRASHED = "its decoder crashed"


def open_file(path: Path) -> BufferedReader | Fault:
    """Open a regular file for reading; a pipe or device is neither opened nor waited for.

    Links are followed: whether a link may lead out of the content folder is the caller's question.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return Fault.NOT_A_FILE
        # Should the file be swapped for a pipe just now, O_NONBLOCK returns at once instead of waiting.
        stream = os.fdopen(os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC), "rb")
    except (FileNotFoundError, NotADirectoryError):
        return Fault.MISSING
    except (OSError, ValueError):  # no permission, links in a circle, a name no disk can hold
        return Fault.UNREADABLE
    fault = _size_fault(os.fstat(stream.fileno()))
    if fault:
        stream.close()
        return fault
    return stream


def open_image(stream: BufferedReader) -> Image.Image | Fault:
    """Read the header of a photo; no pixel is decoded."""
    image = guarded(lambda: Image.open(stream, formats=FORMATS))
    if isinstance(image, Image.Image) and image.width * image.height > PIXELS_MOST:
        return Fault.TOO_LARGE
    return image


def guarded(action: Callable[[], T]) -> T | Fault:
    """Run one step of Pillow's reading; whatever it raises or warns of becomes a fault.

    Parsers of damaged files raise nearly anything (OSError, SyntaxError, struct.error, ValueError, …), so
    all exceptions are caught: keep the guarded step small, that no mistake of ours hides in it.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            return action()
    except (Image.DecompressionBombError, Image.DecompressionBombWarning, MemoryError):
        return Fault.TOO_LARGE
    except UnidentifiedImageError:
        return Fault.NOT_A_PHOTO
    except Exception as error:  # noqa: BLE001 - parsers raise nearly anything, see above
        cut_short = isinstance(error, EOFError) or "truncated" in str(error).lower()
        return Fault.TRUNCATED if cut_short else Fault.UNREADABLE


def other_format(start: bytes) -> str:
    """Name the format that these first bytes show, of those that hold photos but are not read; else ''."""
    return next((name for at, mark, name in _OTHERS if start.startswith(mark, at)), "")


def looks_like_ours(start: bytes) -> bool:
    """Tell a damaged photo from something that never was one, by its first bytes."""
    return any(start.startswith(mark, at) for at, mark in _OURS)


def _size_fault(state: os.stat_result) -> Fault | None:
    if not stat.S_ISREG(state.st_mode):
        return Fault.NOT_A_FILE
    if state.st_size == 0:
        return Fault.EMPTY
    return Fault.TOO_LARGE if state.st_size > BYTES_MOST else None
