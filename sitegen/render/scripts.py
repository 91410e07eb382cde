"""The page's own scripts, joined into one: a page opened by double click may not import other files."""

import re
from functools import lru_cache
from pathlib import Path

_BROWSER = Path(__file__).parent.parent / "browser"
_IMPORT = re.compile(r"^import .*;\n", re.MULTILINE)
_COMMENT = re.compile(r"^[ \t]*//.*\n|^[ \t]*/\*\*(?s:.*?)\*/\n|^\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=const|function|async)", re.MULTILINE)
_CHOOSING = (
    "sums.js", "text.js", "notes.js", "stems.js", "keep.js", "send.js", "sending.js", "choose.js",
)  # fmt: skip


def joined(*names: str) -> str:
    """Join modules in this order into one without imports; each name is defined once among them."""
    texts = ((_BROWSER / name).read_text("utf-8") for name in names)
    return "\n".join(_EXPORT.sub("", _IMPORT.sub("", text)) for text in texts)


@lru_cache(maxsize=1)
def choosing_script() -> str:
    """Give the script that lets a couple choose."""
    return _bare(joined(*_CHOOSING, "reading.js"))


@lru_cache(maxsize=1)
def unlocking_script() -> str:
    """Give the script of the page that opens a sealed proposal, which then lets the couple choose."""
    sealing = ("link.js", "envelope.js", "open.js", "code.js", "keeping.js")
    return _bare(joined(*_CHOOSING, *sealing, "photos.js", "states.js", "unlock.js"))


@lru_cache(maxsize=1)
def lost_script() -> str:
    """Give the script of the page for lost readers."""
    return _bare(joined("link.js", "states.js", "lost.js"))


def _bare(script: str) -> str:
    """Leave out lines that are comments and nothing else: they travel to phones with every page."""
    return _COMMENT.sub("", script)
