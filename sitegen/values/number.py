"""Numbers as a florist writes them, read exactly.

`12`, `4.10`, `2/3` and `1 2/3` become fractions; nothing here ever passes
through a binary float, so 4.10 stays four-ten.
"""

import re
from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import lcm

_PLAIN = re.compile(r"([0-9]{1,12})(?:\.([0-9]{1,6}))?", re.ASCII)
_PARTS = re.compile(r"(?:([0-9]{1,12}) +)?([0-9]{1,12})/([0-9]{1,12})", re.ASCII)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]{1,6})?", re.ASCII)
_WHOLE = re.compile(r"[0-9]{1,12}", re.ASCII)


class Unreadable(ValueError):
    """A text that does not read as what its field needs: what is wrong, and what to write instead."""

    def __init__(self, what: str, fix: str) -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix


def number(text: str) -> Fraction:
    """Read *text* as an exact number that is not negative.

    At most 12 digits before the point and 6 after it; `2/3` and `1 2/3` are
    taken; exponents, underscores, commas and other scripts' digits are not.
    Raises `Unreadable` with a fix to type.

    >>> number("4.10"), number("1 2/3")
    (Fraction(41, 10), Fraction(5, 3))
    """
    text = text.strip()
    if plain := _PLAIN.fullmatch(text):
        whole, decimals = plain[1], plain[2] or ""
        return Fraction(int(whole + decimals), 10 ** len(decimals))
    if parts := _PARTS.fullmatch(text):
        if int(parts[3]) == 0:
            raise Unreadable(f'"{text}" divides by nothing', "write a number below the stroke, such as 2/3")
        return int(parts[1] or 0) + Fraction(int(parts[2]), int(parts[3]))
    raise _not_a_number(text)


def _not_a_number(text: str) -> Unreadable:
    if text.startswith("-") and _reads(text[1:]):
        return Unreadable(f'"{text}" is below zero', f"write {text[1:].strip()}, or leave the line out")
    if _THOUSANDS.fullmatch(text):
        # 1,200 may be one and a fifth to some; they see at once that this is not what they mean.
        return Unreadable(f'"{text}" has a comma', f"write {text.replace(',', '')}, without the comma")
    if "," in text and _reads(text.replace(",", ".", 1)):
        return Unreadable(f'"{text}" has a comma', f"write {text.replace(',', '.', 1)}, with a point")
    bare = re.sub(r"[,\s]|^[^0-9.]{1,4}|[^0-9.]{1,4}$", "", text)
    if bare != text and _PLAIN.fullmatch(bare):
        return Unreadable(f'"{shorten(text)}" is not a bare number', f"write {bare}")
    if not text:
        return Unreadable("there is no number here", "write a number, such as 12 or 4.10")
    if re.fullmatch(r"[0-9]+(\.[0-9]*)?", text, re.ASCII):
        return Unreadable(f'"{shorten(text)}" has too many digits', "at most 12 before the point, 6 after it")
    return Unreadable(f'"{shorten(text)}" is not a number', "write a number, such as 12, 4.10 or 2/3")


def _reads(text: str) -> bool:
    return bool(_PLAIN.fullmatch(text.strip()) or _PARTS.fullmatch(text.strip()))


def signed(text: str) -> Fraction:
    """Read *text* like `number`, also below zero."""
    text = text.strip()
    return -number(text[1:]) if text.startswith(("-", "−")) else number(text)


def whole(text: str) -> int:
    """Read *text* as a whole number that is not negative, or raise `Unreadable`."""
    text = text.strip()
    if _WHOLE.fullmatch(text):
        return int(text)
    value = number(text)
    if value.denominator != 1:
        raise Unreadable(f'"{text}" is not a whole number', f"write {int(value)} or {int(value) + 1}")
    return int(value)


def percent(text: str) -> Fraction:
    """Read `12%` as the share 0.12, or raise `Unreadable`."""
    text = text.strip()
    if not text.endswith("%"):
        fix = f"write {_as_percent(text)}" if _reads(text) else "write a percent, such as 12%"
        raise Unreadable(f'"{shorten(text)}" is not a percent', fix)
    return number(text[:-1]) / 100


def _as_percent(text: str) -> str:
    """What a bare number most likely means: 0.0635 is a share, 8.25 a percent already."""
    value = number(text)
    return f"{decimal_text(value * 100 if value < 1 else value)}%"


def shorten(text: str, most: int = 40) -> str:
    """Cut *text* for a message, so that a pasted page does not fill the screen."""
    line = " ".join(text.split())
    return line if len(line) <= most else line[: most - 1] + "…"


def decimal_text(value: Fraction, digits: int = 6) -> str:
    """Print *value* as a decimal, rounded half away from zero at *digits*, without trailing zeros.

    >>> decimal_text(Fraction(2, 3)), decimal_text(Fraction(5, 2)), decimal_text(Fraction(7))
    ('0.666667', '2.5', '7')
    """
    size, over = 10**digits, value.denominator
    if over == 1:
        return str(value.numerator)
    units = (2 * abs(value.numerator) * size + over) // (2 * over)
    text = f"{units // size}.{units % size:0{digits}d}".rstrip("0").rstrip(".")
    return f"-{text}" if value.numerator < 0 and units else text


def many(number: int, word: str) -> str:
    """Count a thing in words: `1 stem`, `2 stems`."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def in_parts(amounts: Sequence[Fraction | int]) -> tuple[list[int], int]:
    """Give *amounts* as whole numbers of equal parts, and how many parts make one.

    Sums and comparisons of many fractions are exact in these too, and far quicker.

    >>> in_parts([Fraction(1, 2), Fraction(2, 3), 1])
    ([3, 4, 6], 6)
    """
    over = lcm(*{amount.denominator for amount in amounts})
    return [amount.numerator * (over // amount.denominator) for amount in amounts], over


def total(amounts: Iterable[Fraction | int]) -> Fraction:
    """Add *amounts*; nothing adds up to 0."""
    parts, over = in_parts(tuple(amounts))
    return Fraction(sum(parts), over)
