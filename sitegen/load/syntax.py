"""What the YAML parser met, in a florist's words."""

import re

from sitegen.values.problem import Problem
from sitegen.values.source import Place, Source

WHY = "Recipes and prices are read from these lines, and a line read wrongly would be a wrong price."

_QUOTES = "put the value in quotes"
# What the parser says, what that means, and what to do. The first that is found in its words counts.
_WORDS = (
    ("could not find expected ':'", "there is no colon after this key", "write a colon and a space after it"),
    ("mapping values are not allowed", "a colon and a space stand inside a value", _QUOTES),
    (
        "block sequence entries are not allowed",
        "a list begins on the line of its key",
        "begin it on the next line, or write it in [ ]",
    ),
    (
        "did not find expected key",
        "this line does not begin below those before it",
        "indent it like them; a quote within quotes is written twice",
    ),
    (
        "did not find expected '-' indicator",
        "this line does not stand in the list",
        "begin it with - like them",
    ),
    ("did not find expected ',' or ']'", "a list in [ ] is never closed", "write the closing ]"),
    ("did not find expected ',' or '}'", "lines in { } are never closed", "write the closing }"),
    (
        "did not find expected node content",
        "a value or a closing bracket is missing before this",
        'what follows a # is not read: write colours in quotes, such as "#e6c3b8"',
    ),
    ("end of stream", "a quote that opens here is never closed", "write the closing quote"),
    ("cannot start any token", "a value cannot begin with this character", _QUOTES),
    ("alphabetic or numeric character", "a value cannot begin with this character", _QUOTES),
    ("tag URI", "a value cannot begin with this character", _QUOTES),
    ("escape c", "a backslash within double quotes has a meaning of its own", "write it in single quotes"),
    ("nesting depth", "brackets are nested too deep", "write these lines out, one below the other"),
    ("<document start>", "a line of dots ends what is read", "delete the line of dots"),
    (
        "comment or line break",
        "words stand behind a | or >",
        f"{_QUOTES}, or begin the words on the next line",
    ),
    ("document", "a line that begins with % stands here", "delete it"),
    ("directive", "a line that begins with % stands here", "delete it"),
)
# The parser notices these lines later than where they go wrong.
_BEGINS = ("could not find expected ':'", "end of stream", "',' or ']'", "',' or '}'")


def shown_where_it_begins(said: str) -> bool:
    """Whether the fault is best shown where a key or bracket begins: it is only noticed further down."""
    return any(words in said for words in _BEGINS)


def syntax(source: Source, index: int, said: str) -> Problem:
    """Make a problem of what the parser *said* at *index*; its own words come last."""
    index = min(index, len(source.text))
    if "mapping values are not allowed" in said and (elsewhere := _line_before(source, index)):
        return elsewhere
    if "did not find expected key" in said and (line := _keyless_above(source.text, index)) is not None:
        return _no_colon(source, line)
    what, fix = f"this cannot be read ({said})", "compare it with a line that works"
    if source.text[index : index + 1] == "\t" or "'\\t'" in said:
        what, fix = "a tab stands here", "use spaces, two for each step"
    else:
        what, fix = next(((what, fix) for words, what, fix in _WORDS if words in said), (what, fix))
    return Problem("yaml-syntax", Place(source, index, index + 1), what, WHY, fix)


def _line_before(source: Source, index: int) -> Problem | None:
    """Find what made a value run on into the line of the colon at *index*: the line above it, or its indent.

    None where the colon stands in a value of its own line.
    """
    start = source.text.rfind("\n", 0, index) + 1
    if ": " in source.text[start:index]:
        return None
    line, words = _words_above(source.text, start)
    if ": " in words or words.endswith(":"):
        start += len(source.text[start:index]) - len(source.text[start:index].lstrip())
        what, fix = "this line begins further right than the one above", "begin it just below that one"
        return Problem("yaml-syntax", Place(source, start, start + 1), what, WHY, fix)
    if ":" in words:
        at = line + words.index(":")
        what, fix = "there is no space after this colon", "write a space after it"
        return Problem("yaml-syntax", Place(source, at, at + 1), what, WHY, fix)
    return _no_colon(source, line)


def _no_colon(source: Source, at: int) -> Problem:
    what, fix = "there is no colon after this key", "write a colon and a space after it"
    return Problem("yaml-syntax", Place(source, at, at + 1), what, WHY, fix)


def _keyless_above(text: str, index: int) -> int | None:
    """Where a line without any colon stands above one that begins at *index*; None where none does.

    A note behind such a line ends its value, so that it does not run on.
    """
    start = text.rfind("\n", 0, index) + 1
    line, words = _words_above(text, start)
    own = text[start:index].strip()
    listed = text[max(0, line - 2) : line] == "- "
    return None if own or listed or not words or ":" in words else line


def _words_above(text: str, start: int) -> tuple[int, str]:
    """Give the last line before *start* that says anything: where its words begin, and these."""
    while start > 0:
        end = start - 1
        start = text.rfind("\n", 0, end) + 1
        words = re.sub(r"\s#.*|^#.*", "", text[start:end]).strip()
        if words:
            at = start + text[start:end].index(words)
            return at + (2 if words.startswith("- ") else 0), words.removeprefix("- ")
    return 0, ""
