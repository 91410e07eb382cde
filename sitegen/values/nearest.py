"""The nearest known name to one that was mistyped."""

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(name: str, known: Iterable[str]) -> str | None:
    """Give the known name most like *name*, or None where none is like it.

    >>> nearest("Jnue", ["Jan", "Jun", "Jul"])
    'Jun'
    """
    by_fold = {candidate.lower(): candidate for candidate in known}
    close = get_close_matches(name.lower(), by_fold, n=1, cutoff=0.55)
    return by_fold[close[0]] if close else None


def misspelt(name: str, known: Iterable[str]) -> str | None:
    """Give the known name that *name* was almost surely meant to be, or None.

    >>> misspelt("stok.yaml", ["studio.md", "stock.yaml"]), misspelt("README.md", ["studio.md"])
    ('stock.yaml', None)
    """
    close = get_close_matches(name.lower(), known, n=1, cutoff=0.8)
    return close[0] if close else None
