"""The page's own scripts, joined into one: a page opened by double click may not import other files.

They travel to phones with every page, so comments and spaces are left out; in the sealed page, whose
weight counts before anything shows, names of their own are short too.
"""

import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from itertools import product
from pathlib import Path
from string import ascii_uppercase

from rjsmin import jsmin

_BROWSER = Path(__file__).parent.parent / "browser"
_IMPORT = re.compile(r"^import .*;\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=const|function|async)", re.MULTILINE)
_DEFINED = re.compile(r"^(?:const|let|function|async function) (\w+)", re.MULTILINE)
_COMMENT = re.compile(r"^ *(?://|/\*|\*).*\n", re.MULTILINE)
_NAME = re.compile(r"(?<![.\w$])[A-Za-z]\w*(?![\w$])")
# Texts, none of which goes over a line, and what may be a pattern between slashes: words there are no names.
_QUOTED = re.compile(r"""`(?:\\.|[^`\\\n])*`|"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|/[^/\n]+/""")
_FILLED = re.compile(r"\$\{[^{}]*\}")
_CHOOSING = (
    "sums.js", "text.js", "figures.js", "notes.js", "stems.js", "keep.js", "send.js", "sending.js",
    "choose.js", "viewer.js",
)  # fmt: skip


CHOOSING = (*_CHOOSING, "reading.js")
_SEALING = ("link.js", "envelope.js", "open.js", "code.js", "keeping.js")
UNLOCKING = (*_CHOOSING, *_SEALING, "photos.js", "states.js", "unlock.js")
LOST = ("link.js", "recovered.js", "states.js", "lost.js")


def joined(*names: str) -> str:
    """Join modules in this order into one without imports; each name is defined once among them."""
    texts = ((_BROWSER / name).read_text("utf-8") for name in names)
    return "\n".join(_EXPORT.sub("", _IMPORT.sub("", text)) for text in texts)


def shortened(*names: str) -> str:
    """Join modules without comments and blanks, their own names as short as can be.

    A name stays where the same word may also be a property's, or stands in a text: it would be another thing.
    """
    whole = joined(*names)
    script = str(jsmin(whole))
    texts = " ".join(_QUOTED.findall(_COMMENT.sub("", whole)))
    quoted = set(re.findall(r"\w+", _FILLED.sub(" ", texts)))
    count = Counter(_NAME.findall(script))
    own = [name for name in dict.fromkeys(_DEFINED.findall(whole)) if name not in quoted]
    long = sorted((name for name in own if not _property(name, script)), key=lambda name: -count[name])
    free = (word for word in _short_words() if word not in count)
    short = dict(zip(long, free, strict=False))
    return _NAME.sub(lambda found: short.get(found[0], found[0]), script)


def _short_words() -> Iterator[str]:
    yield from ascii_uppercase
    yield from map("".join, product(ascii_uppercase, repeat=2))


def _property(name: str, script: str) -> bool:
    """Whether the word may name a property: behind a point, before a colon, or alone between braces."""
    return re.search(rf"\.{name}\b|(?<![\w$]){name}:|[{{,]{name}[,}}=]", script) is not None


@lru_cache(maxsize=1)
def choosing_script() -> str:
    """Give the script that lets a couple choose."""
    return str(jsmin(joined(*CHOOSING)))


@lru_cache(maxsize=1)
def unlocking_script() -> str:
    """Give the script of the page that opens a sealed proposal, which then lets the couple choose."""
    return shortened(*UNLOCKING)


@lru_cache(maxsize=1)
def lost_script() -> str:
    """Give the script of the page for lost readers."""
    return str(jsmin(joined(*LOST)))
