"""Texts for a printed page's margins, as strings of CSS: a browser neither wraps nor cuts them well there."""

import unicodedata

from markupsafe import Markup

from sitegen.render.words import Words

_MARGIN = 34
_ONE_LINE = 56  # characters that stand on one line of the margin; beside DRAFT they take two
_TURNING = dict.fromkeys([*range(0x202A, 0x202F), *range(0x2066, 0x206A)])


def shorten(text: str, most: int = _MARGIN) -> str:
    """Cut a text to what takes no more room in a page's margin than *most* letters; some take that of two."""
    if sum(map(_room, text)) <= most:
        return text
    left, kept = most - 1, ""
    for char in text:
        left -= _room(char)
        if left < 0:
            break
        kept += char
    return kept.rstrip() + "…"


def _room(char: str) -> int:
    return 2 if unicodedata.east_asian_width(char) in {"W", "F"} else 1


def named_and_dated(name: str, date: str) -> str:
    """Say what a sheet is of on one line, the date whole: `Fern Hollow in June · June 12, 2027`.

    What in a name would turn the direction of the text does not reach the date.
    """
    return f"{shorten(name.translate(_TURNING), max(12, _ONE_LINE - 3 - len(date)))} · {date}"


def css_text(text: str) -> Markup:
    """Write *text* as a string of CSS that can neither end its string nor its style element."""
    safe = "".join(c if c.isalnum() or c in " .,·:;()-–…+" else f"\\{ord(c):x} " for c in text)
    return Markup(f'"{safe}"')  # noqa: S704 - all that could end the string is escaped above


def downwards(text: str) -> Markup:
    """Write *text* as a string of CSS with a letter a line; turned text is not measured well on paper."""
    return Markup('"{}"').format(Markup("\\a ").join(css_text(char).strip('"') for char in text))


def page_of_pages(words: Words) -> Markup:
    """Write "page x of y" as CSS, which alone knows the numbers."""
    before, between, after = words("page {x} of {y}", x="\n", y="\n").split("\n")
    counted = Markup("{} counter(page) {} counter(pages) {}")
    return counted.format(css_text(before), css_text(between), css_text(after))
