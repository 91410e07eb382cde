"""The page's own scripts, joined into one: a page opened by double click may not import other files.

They travel to phones with every page, so comments and spaces are left out; in the sealed page, whose
weight counts before anything shows, names of their own are short too.
"""

import re
from functools import lru_cache
from pathlib import Path

from rjsmin import jsmin

_BROWSER = Path(__file__).parent.parent / "browser"
_IMPORT = re.compile(r"^import .*;\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=const|function|async)", re.MULTILINE)
_DEFINED = re.compile(r"^(?:const|let|function|async function) (\w+)", re.MULTILINE)
# In what jsmin leaves: texts, and what may be a pattern between slashes. Words in these are no names.
_QUOTED = re.compile(r"""`(?:\\.|[^`\\])*`|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'|/[^/\n]+/""")
_CHOOSING = (
    "sums.js", "text.js", "notes.js", "stems.js", "keep.js", "send.js", "sending.js", "choose.js",
    "viewer.js",
)  # fmt: skip


CHOOSING = (*_CHOOSING, "reading.js")
_SEALING = ("link.js", "envelope.js", "open.js", "code.js", "keeping.js")
UNLOCKING = (*_CHOOSING, *_SEALING, "photos.js", "states.js", "unlock.js")
LOST = ("link.js", "states.js", "lost.js")


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
    quoted = set(re.findall(r"\w+", re.sub(r"\$\{[^{}]*\}", " ", " ".join(_QUOTED.findall(script)))))
    own = [name for name in dict.fromkeys(_DEFINED.findall(whole)) if name not in quoted]
    short = {name: f"_{i:x}" for i, name in enumerate(name for name in own if not _property(name, script))}
    return re.sub(r"(?<![.\w$])[A-Za-z]\w*(?![\w$])", lambda found: short.get(found[0], found[0]), script)


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
