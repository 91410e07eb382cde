"""Which way up a photo is. Orientation is the EXIF tag 0x0112 (CIPA DC-008): 1 is upright, 2 to 8 are not."""

from PIL import Image

from sitegen.pictures.opening import guarded

Box = tuple[float, float, float, float]

_ORIENTATION = 0x0112
_UPRIGHT = 1
_STEPS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_SWAPS = frozenset({5, 6, 7, 8})
_FLIPS_X = frozenset({2, 3, 7, 8})
_FLIPS_Y = frozenset({3, 4, 6, 7})


def turn_of(image: Image.Image) -> int:
    """Return the orientation, 1 to 8; a missing, unknown or damaged one counts as upright.

    Asks the base class, because the PNG class would decode all pixels to look for a tag behind them.
    """
    found = guarded(lambda: Image.Image.getexif(image).get(_ORIENTATION))
    return found if isinstance(found, int) and found in _STEPS else _UPRIGHT


def turned_size(size: tuple[int, int], turn: int) -> tuple[int, int]:
    """Return the size after turning; the same call leads back."""
    return (size[1], size[0]) if turn in _SWAPS else size


def stored_box(box: Box, turn: int) -> Box:
    """Find where a box of the upright photo (fractions of its sides) lies in the photo as stored."""
    left, top, right, bottom = box
    if turn in _SWAPS:
        left, top, right, bottom = top, left, bottom, right
    if turn in _FLIPS_X:
        left, right = 1 - right, 1 - left
    if turn in _FLIPS_Y:
        top, bottom = 1 - bottom, 1 - top
    return left, top, right, bottom


def upright(image: Image.Image, turn: int) -> Image.Image:
    return image.transpose(_STEPS[turn]) if turn in _STEPS else image
