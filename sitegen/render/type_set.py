"""How high words stand in a given width, laid as a wide common typeface would: no browser can be asked."""

_NARROW, _WIDE = frozenset("iljtfrI.,;:'|!()[]-/ \N{NO-BREAK SPACE}"), frozenset("mwMW%@—…")
_SQUARE = "\u2e80"  # from here on scripts whose letters are as wide as high


def laid(text: str, type_: tuple[int, int], width: int) -> int:
    """Give the height of *text* in points, of a size and line height, in lines of *width* points."""
    size, line = type_
    room, at, lines = 100 * width, 0, 1
    for word in text.split(" "):
        long = size * _hundredths(word)
        if at and at + long > room:
            lines, at = lines + 1, 0
        lines, at = lines + (at + long) // room, (at + long) % room + size * 30
    return line * lines


def _hundredths(word: str) -> int:
    """Measure a word in hundredths of its type's size."""
    return sum(map(_hundredth, word))


def _hundredth(letter: str) -> int:
    if letter >= _SQUARE:
        return 100
    return 35 if letter in _NARROW else 90 if letter in _WIDE else 68 if letter.isupper() else 58
