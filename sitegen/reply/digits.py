"""Picks as digits in the order of a revision's table, and one whole number made of them.

Every digit has its own radix, so a number holds no more than what can be chosen. The first digit is the
least; `browser/code.js` does the same.
"""

from collections.abc import Iterator, Sequence

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Table, TablePiece


def radices(table: Table) -> tuple[int, ...]:
    """Give the radix of each digit: answers and count of each piece, then the optional charges."""
    found: list[int] = []
    for piece in table.pieces:
        found += (*piece.answers, _counts(piece))
    return (*found, *(2 for charge in table.charges if charge.optional))


def digits(table: Table, picks: Picks) -> tuple[int, ...]:
    """Give *picks*, which must fit *table*, as digits. How many there were of a piece left out is dropped."""
    found: list[int] = []
    for piece, pick in zip(table.pieces, picks.pieces, strict=True):
        found += (*pick.answers, 0 if pick.out else pick.quantity - piece.least + piece.optional)
    return (*found, *(int(i in picks.charges) for i in _optional(table)))


def picks_of(table: Table, found: Sequence[int]) -> Picks:
    """Take back what `digits` gave. A piece that is left out has the count that we suggest."""
    rest = iter(found)
    pieces = tuple(_pick(piece, rest) for piece in table.pieces)
    return Picks(pieces, frozenset(i for i, digit in zip(_optional(table), rest, strict=True) if digit))


def _pick(piece: TablePiece, rest: Iterator[int]) -> Pick:
    answers = tuple(next(rest) for _ in piece.answers)
    count = next(rest)
    if piece.optional and not count:
        return Pick(answers, piece.quantity, out=True)
    return Pick(answers, piece.least + count - piece.optional)


def _counts(piece: TablePiece) -> int:
    """How many counts there are to choose from; left out is one more."""
    return piece.most - piece.least + 1 + piece.optional


def _optional(table: Table) -> list[int]:
    return [i for i, charge in enumerate(table.charges) if charge.optional]


def joined(found: Sequence[int], of: Sequence[int]) -> int:
    """Make one number of digits, each below its radix.

    >>> joined((1, 2, 0), (2, 3, 4))
    5
    """
    number = 0
    for digit, radix in zip(reversed(found), reversed(of), strict=True):
        if not 0 <= digit < radix:
            raise ValueError(f"{digit} is no digit below {radix}")
        number = number * radix + digit
    return number


def parted(number: int, of: Sequence[int]) -> tuple[tuple[int, ...], int]:
    """Take digits off a number; what is left of it comes with them, 0 where these were all.

    >>> parted(5, (2, 3, 4))
    ((1, 2, 0), 0)
    """
    found = []
    for radix in of:
        number, digit = divmod(number, radix)
        found.append(digit)
    return tuple(found), number


def width(of: Sequence[int]) -> int:
    """Give the bytes that the largest number of these radices takes."""
    most = 1
    for radix in of:
        most *= radix
    return ((most - 1).bit_length() + 7) // 8
