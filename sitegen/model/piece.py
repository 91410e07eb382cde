"""A piece: what goes into one, how many, how it is built, and what the couple may choose."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, PlainValidator, WithJsonSchema

from sitegen.model.fields import (
    Boxes,
    GoodCount,
    Hands,
    Id,
    LengthOf,
    Number,
    PositiveMoney,
    PositiveWhole,
    Rating,
    Shape,
    Share,
    SignedMoney,
    StemCount,
    Text,
    Time,
    Whole,
    YesNo,
    reads,
)
from sitegen.values.number import Unreadable, shorten, whole

MANY = 10_000


@dataclass(frozen=True, slots=True)
class Count:
    """A number, or so many times a count that the event states once."""

    times: int
    of: str | None = None


@dataclass(frozen=True, slots=True)
class Bench:
    """On which day a piece is built: so many days before, or on site."""

    days_before: int
    on_site: bool = False


def count(text: str) -> Count:
    """Read `5`, `attendants` or `3 x tables`, or raise `Unreadable`."""
    text = text.strip()
    match = re.fullmatch(r"(?:([0-9]{1,6}) *[x×] *)?([^\W\d][\w.-]*)", text)
    if match:
        return Count(int(match[1] or 1), match[2])
    return Count(whole(text))


def bench(text: str) -> Bench:
    """Read `2`, `2 days before`, `day-before`, `same-day` or `on-site`."""
    named = {"day-before": Bench(1), "same-day": Bench(0), "on-site": Bench(0, on_site=True)}
    if text in named:
        return named[text]
    match = re.fullmatch(r"([0-9]{1,3})(?: days? before)?", text.strip(), re.ASCII)
    if not match:
        fix = "write a number of days before, day-before, same-day or on-site"
        raise Unreadable(f'"{shorten(text)}" is not a bench day', fix)
    return Bench(int(match[1]))


def _one_name(key: str) -> BeforeValidator:
    """Let a plain text stand for a record with *key* alone."""
    return BeforeValidator(lambda value: {key: value} if isinstance(value, str) else value)


_COUNT_SCHEMA: dict[str, Any] = {
    "type": ["integer", "string"],
    "description": "a number, a count, or 3 x tables",
}
CountOf = Annotated[Count, PlainValidator(reads(count, "a number or a count")), WithJsonSchema(_COUNT_SCHEMA)]
BenchDay = Annotated[
    Bench,
    PlainValidator(reads(bench, "a bench day")),
    WithJsonSchema({"type": ["integer", "string"], "description": "2, day-before, same-day or on-site"}),
]


class Quantity(Shape):
    """How many, and between which bounds the couple may change it."""

    usual: CountOf
    from_: CountOf | None = Field(default=None, alias="from")
    to: CountOf | None = None


class Photo(Shape):
    """A picture in the event's photos folder: of ours, or one that shows a direction."""

    file: Text
    alt: Text | None = None
    kind: Literal["ours", "inspiration"] = "ours"
    credit: Text | None = None


class Build(Shape):
    """How a piece is built; the method picks a first-timer's steps."""

    method: Literal["hand-tied", "flat-laid", "vase-built", "wired", "garland", "frame"] | None = None
    shape: Text | None = None
    bind: Text | None = None
    finish: Text | None = None
    first_time: Number | None = None


class OnSite(Shape):
    """Work on site: minutes for one piece and each of its hands."""

    minutes: Number = Fraction(0)
    hands: Hands = 1


class Varied(Shape):
    """A set that shares a look and differs in its stems: modestly, where nothing is said of likeness."""

    keep: tuple[Id, ...] = ()
    alike: Share = Fraction(3, 5)
    versions: PositiveWhole | None = None


class SecondPlace(Shape):
    """Where a piece moves after its first use, and into what."""

    place: Id
    spot: Text | None = None
    from_: Time | None = Field(default=None, alias="from")
    vessel: Id | None = None
    minutes: Number = Fraction(0)
    hands: Hands = 1


class Wearer(Shape):
    """Who wears or carries one of the pieces."""

    name: Text
    side: Text | None = None


class Answer(Shape):
    """One answer: which lines it sets, how long it takes, what it adds, which stems it swaps."""

    id: Id
    label: Text
    usual: YesNo = False
    recipe: dict[Id, StemCount] = Field(default_factory=dict)
    goods: dict[Id, GoodCount] = Field(default_factory=dict)
    minutes: Number | None = None
    add: SignedMoney = Fraction(0)
    swap: dict[Id, Id] = Field(default_factory=dict)
    made_by: Literal["studio", "couple"] | None = None
    matters: Rating | None = None
    private: Text | None = None


class Choice(Shape):
    """A question to the couple, with its answers."""

    id: Id
    ask: Text
    answers: tuple[Answer, ...]

    @property
    def usual(self) -> int:
        """Index of the answer as we suggest: the one marked, else the first."""
        return next((i for i, answer in enumerate(self.answers) if answer.usual), 0)


class Piece(Shape):
    """The front matter of a piece. The body is the words for the couple."""

    piece: Text
    group: Text
    quantity: Annotated[Quantity, _one_name("usual")] = Quantity.model_validate({"usual": "1"})
    extra: Whole = 0
    photos: tuple[Annotated[Photo, _one_name("file")], ...] = ()
    recipe: dict[Id, StemCount] = Field(default_factory=dict)
    goods: dict[Id, GoodCount] = Field(default_factory=dict)
    minutes: Number = Fraction(0)
    stem_length: LengthOf | None = None
    bench: BenchDay = Bench(1)
    build: Build = Build()
    place: Id | None = None
    site: OnSite = OnSite()
    boxes: Boxes | None = None
    handling: Text | None = None
    length: LengthOf | None = None
    cautions: tuple[Text, ...] = ()
    varied: Varied | None = None
    second_place: SecondPlace | None = None
    wearers: tuple[Annotated[Wearer, _one_name("name")], ...] = ()
    made_by: Literal["studio", "couple"] = "studio"
    choices: tuple[Choice, ...] = ()
    optional: YesNo = False
    price: PositiveMoney | None = None
    taxable: YesNo = True
    bundle: LengthOf | None = None
    form: Literal["hand-tied", "low", "bud-vases", "boutonniere", "garland", "arch", "upright"] | None = None
    sketch: YesNo | None = None  # yes: of each answer and of each in a set as well
    matters: Rating | None = None
    private: Text | None = None

    @property
    def combinations(self) -> int:
        """How many combinations of answers there are; counted no further than is far too many."""
        total = 1
        for choice in self.choices:
            total *= len(choice.answers)
            if total > MANY:
                return MANY
        return total
