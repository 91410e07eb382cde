"""Texts for a printed page's margins, as strings of CSS: a browser neither wraps nor cuts them well there."""

from markupsafe import Markup

from sitegen.render.words import Words

_MARGIN = 34
_ONE_LINE = 56  # characters that stand on one line of the margin; beside DRAFT they take two


def shorten(text: str, most: int = _MARGIN) -> str:
    """Cut a text for a page's margin."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def named_and_dated(name: str, date: str) -> str:
    """Say what a sheet is of on one line, the date whole: `Fern Hollow in June · June 12, 2027`."""
    return f"{shorten(name, max(12, _ONE_LINE - 3 - len(date)))} · {date}"


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
