"""Amounts of money as they stand printed in a text, whatever signs part their digits."""

import re
from collections.abc import Iterator

LEAST_UNITS = 1000
"""A number of fewer digits is told from an amount by its decimals alone."""

_TOKEN = re.compile(r"\d[\d.,'’\u00a0\u202f]*\d|\d")


def amounts_in(text: str, digits: int) -> set[int]:
    """Give every amount that *text* may name, in smallest units of a currency with so many decimals.

    >>> sorted(amounts_in("2 of 7,131.13 or 7.131,13 each, at 28.00", 2))
    [2800, 713113]
    """
    return set(places_of(text, digits))


def places_of(text: str, digits: int) -> dict[int, int]:
    """Give the same amounts, each with where it stands first."""
    found: dict[int, int] = {}
    for token in _TOKEN.finditer(text):
        for units in _units(token[0], digits):
            found.setdefault(units, token.start())
    return found


def _units(token: str, digits: int) -> Iterator[int]:
    """Read a printed amount; one without its decimals counts from four digits on."""
    whole, decimals = token, ""
    if digits and re.search(rf"[.,]\d{{{digits}}}$", token):
        whole, decimals = token[: -digits - 1], token[-digits:]
    number = re.sub(r"\D", "", whole)
    if decimals or len(number) >= len(str(LEAST_UNITS)):
        yield int(number + (decimals or "0" * digits) or 0)
