"""The page's own scripts, joined into one: a page opened by double click may not import other files.

They travel to phones with every page, so comments and spaces are left out.
"""

import re
from functools import lru_cache
from pathlib import Path

from rjsmin import jsmin

_BROWSER = Path(__file__).parent.parent / "browser"
_IMPORT = re.compile(r"^import .*;\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=const|function|async)", re.MULTILINE)
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


@lru_cache(maxsize=1)
def choosing_script() -> str:
    """Give the script that lets a couple choose."""
    return str(jsmin(joined(*CHOOSING)))


@lru_cache(maxsize=1)
def unlocking_script() -> str:
    """Give the script of the page that opens a sealed proposal, which then lets the couple choose."""
    return str(jsmin(joined(*UNLOCKING)))


@lru_cache(maxsize=1)
def lost_script() -> str:
    """Give the script of the page for lost readers."""
    return str(jsmin(joined(*LOST)))
