"""What the YAML parser met, in a florist's words."""

from sitegen.values.problem import Problem
from sitegen.values.source import Place, Source

WHY = "Recipes and prices are read from these lines, and a line read wrongly would be a wrong price."

_QUOTES = "put the value in quotes"
# What the parser says, what that means, and what to do. The first that is found in its words counts.
_WORDS = (
    ("could not find expected ':'", "there is no colon after this key", "write a colon and a space after it"),
    (
        "mapping values are not allowed",
        "a colon and a space stand inside a value",
        f"if the line above lacks its colon, write it there; else {_QUOTES}",
    ),
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
    what, fix = f"this cannot be read ({said})", "compare it with a line that works"
    if source.text[index : index + 1] == "\t" or "'\\t'" in said:
        what, fix = "a tab stands here", "use spaces, two for each step"
    else:
        what, fix = next(((what, fix) for words, what, fix in _WORDS if words in said), (what, fix))
    return Problem("yaml-syntax", Place(source, index, index + 1), what, WHY, fix)
