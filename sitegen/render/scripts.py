"""The page's own scripts, joined into one: a page opened by double click may not import other files."""

import re
from functools import lru_cache
from pathlib import Path

_BROWSER = Path(__file__).parent.parent / "browser"
_IMPORT = re.compile(r"^import .*;\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=const|function)", re.MULTILINE)


def joined(*names: str) -> str:
    """Join modules in this order into one without imports; each name is defined once among them."""
    texts = ((_BROWSER / name).read_text("utf-8") for name in names)
    return "\n".join(_EXPORT.sub("", _IMPORT.sub("", text)) for text in texts)


@lru_cache(maxsize=1)
def choosing_script() -> str:
    """Give the script that lets a couple choose."""
    return joined("sums.js", "text.js", "choose.js", "reading.js")
