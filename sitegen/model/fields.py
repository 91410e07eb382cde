"""Field types: each reads one kind of text and shows itself in the JSON Schema."""

import datetime as dt
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from sitegen.values import when
from sitegen.values.amount import Bunch, StemAmount, bunch, good_amount, stem_amount
from sitegen.values.length import Length, length
from sitegen.values.number import Unreadable, number, percent, shorten, signed, whole
from sitegen.values.when import Span

T = TypeVar("T")

MOST_WORDS = 20_000
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")
_ID = re.compile(r"\w[\w.-]{0,63}")


class Shape(BaseModel):
    """A record of the content: frozen, and any key that is not a field is an error."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=False)


def fault(what: str, fix: str, kind: str = "unreadable") -> PydanticCustomError:
    """Make the error that `check` turns into a problem with a place."""
    return PydanticCustomError(kind, "{what}", {"what": what, "fix": fix})


def reads(parse: Callable[[str], T], kind: str) -> Callable[[Any], T]:
    def read(value: Any) -> T:
        if not isinstance(value, str):
            seen = "a list stands" if isinstance(value, list) else "lines with keys stand"
            raise fault(f"{seen} where {kind} should", f"write {kind} alone", "wrong-type")
        try:
            return parse(value)
        except Unreadable as bad:
            raise fault(bad.what, bad.fix) from None

    return read


def _field(
    parse: Callable[[str], T], kind: str, schema: dict[str, Any]
) -> tuple[PlainValidator, WithJsonSchema]:
    return PlainValidator(reads(parse, kind)), WithJsonSchema({"description": kind, **schema})


def positive(parse: Callable[[str], T]) -> Callable[[str], T]:
    """Refuse nothing at all where something must be there, such as stems in a bunch."""

    def read(text: str) -> T:
        value = parse(text)
        if value == 0:
            raise Unreadable("0 is too little here", "write a number above 0")
        return value

    return read


def up_to(most: int, parse: Callable[[str], int]) -> Callable[[str], int]:
    """Refuse what no studio has: more days than a calendar counts, more boxes than can be labelled."""

    def read(text: str) -> int:
        value = parse(text)
        if value > most:
            raise Unreadable(f"{value:,} is too much here", f"write a number up to {most:,}".replace(",", ""))
        return value

    return read


def _text(text: str) -> str:
    if not text.strip():
        raise Unreadable("there are no words here", "write some, or leave the line out")
    if len(text) > MOST_WORDS:
        raise Unreadable(
            f"{len(text):,} characters are too many", f"at most {MOST_WORDS:,}; cut it or link to it"
        )
    if _CONTROL.search(text):
        raise Unreadable("there is a control character in the words", "type the line again by hand")
    return text.strip()


def _id(text: str) -> str:
    if not _ID.fullmatch(text):
        raise Unreadable(
            f'"{shorten(text)}" cannot be a short name', "use letters, digits and hyphens, a letter first"
        )
    return text


def _yes(text: str) -> bool:
    if text.lower() in {"yes", "true"}:
        return True
    if text.lower() in {"no", "false"}:
        return False
    raise Unreadable(f'"{shorten(text)}" is neither yes nor no', "write yes or no")


def _colour(text: str) -> str:
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", text):
        raise Unreadable(
            f'"{shorten(text)}" is not a colour', 'write six hex digits in quotes, such as "#e6c3b8"'
        )
    return text.lower()


def _hours(text: str) -> Fraction:
    match = re.fullmatch(r"(.+?) *h(?:ours?)?", text.strip(), re.ASCII)
    if not match:
        raise Unreadable(f'"{shorten(text)}" is not a number of hours', "write 3 h")
    return number(match[1])


def _share(text: str) -> Fraction:
    value = number(text)
    if value > 1:
        raise Unreadable(f"{text} is more than 1", "write a number from 0 to 1, such as 0.6")
    return value


def _rating(text: str) -> int:
    value = whole(text)
    if not 1 <= value <= 5:
        raise Unreadable(f"{text} is not from 1 to 5", "write a number from 1 to 5")
    return value


_YES_OR_NO = ("yes", "no", "true", "false")
_NUMBER: dict[str, Any] = {"type": ["number", "string"]}
_WHOLE: dict[str, Any] = {"type": ["integer", "string"]}
_STRING: dict[str, Any] = {"type": "string"}
_LENGTH = {**_STRING, "pattern": r"^.+ *(in|ft|yd|mm|cm|m)$"}

Text = Annotated[str, *_field(_text, "words", {"type": ["string", "number"]})]
Id = Annotated[str, *_field(_id, "a short name", _STRING)]
YesNo = Annotated[bool, *_field(_yes, "yes or no", {"enum": [*_YES_OR_NO, True, False]})]
Colour = Annotated[str, *_field(_colour, "a colour", {**_STRING, "pattern": "^#[0-9a-fA-F]{6}$"})]
Number = Annotated[Fraction, *_field(number, "a number", _NUMBER)]
Positive = Annotated[Fraction, *_field(positive(number), "a number above 0", _NUMBER)]
Money = Annotated[Fraction, *_field(number, "an amount of money", _NUMBER)]
PositiveMoney = Annotated[Fraction, *_field(positive(number), "an amount of money above 0", _NUMBER)]
SignedMoney = Annotated[Fraction, *_field(signed, "an amount of money", _NUMBER)]
Percent = Annotated[Fraction, *_field(percent, "a percent", {**_STRING, "pattern": "%$"})]
Whole = Annotated[int, *_field(whole, "a whole number", _WHOLE)]
LeadDays = Annotated[int, *_field(up_to(366, whole), "a number of days up to 366", _WHOLE)]
Boxes = Annotated[int, *_field(up_to(9_999, whole), "a whole number", _WHOLE)]
Hands = Annotated[int, *_field(up_to(99, positive(whole)), "a number of hands", _WHOLE)]
PositiveWhole = Annotated[int, *_field(positive(whole), "a whole number above 0", _WHOLE)]
Rating = Annotated[int, *_field(_rating, "a number from 1 to 5", _WHOLE)]
Share = Annotated[Fraction, *_field(_share, "a number from 0 to 1", _NUMBER)]
Hours = Annotated[Fraction, *_field(_hours, "a number of hours", _STRING)]
LengthOf = Annotated[Length, *_field(length, "a length", _LENGTH)]
Months = Annotated[frozenset[int], *_field(when.months, "months", _STRING)]
Weekdays = Annotated[frozenset[int], *_field(when.weekdays, "weekdays", _STRING)]
Time = Annotated[dt.time, *_field(when.time, "a time of day", _STRING)]
Date = Annotated[dt.date, *_field(when.date, "a date", {**_STRING, "format": "date"})]
Moment = Annotated[dt.datetime, *_field(when.moment, "a date and a time", _STRING)]
Days = Annotated[int, *_field(when.days, "a number of days", _STRING)]
DaysBefore = Annotated[int, *_field(when.days_before, "a number of days before", _STRING)]
SpanOfDays = Annotated[Span, *_field(when.span, "a span of days", {"type": ["integer", "string"]})]
StemCount = Annotated[StemAmount, *_field(stem_amount, "a number of stems", _NUMBER)]
GoodCount = Annotated[Fraction | Length, *_field(good_amount, "a number of pieces or a length", _NUMBER)]
BunchOf = Annotated[Bunch, *_field(bunch, "how many stems are in a bunch", _WHOLE)]


def only_one(record: object, names: tuple[str, ...]) -> None:
    """Refuse *record* unless exactly one of *names* was given."""
    given = [name for name in names if getattr(record, name) not in (None, False)]
    if len(given) != 1:
        said = f"both {given[0]} and {given[1]} are given" if given else f"{' or '.join(names)} is missing"
        raise fault(said, f"write one of {', '.join(names)}", "one-of")
