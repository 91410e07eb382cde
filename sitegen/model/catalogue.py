"""The catalogue: stems, goods, suppliers, and what is in hand."""

from fractions import Fraction
from typing import Literal, Self

from pydantic import Field, model_validator

from sitegen.model.fields import (
    BunchOf,
    Colour,
    Date,
    Hours,
    Id,
    LeadDays,
    LengthOf,
    Money,
    Months,
    Percent,
    PositiveMoney,
    PositiveWhole,
    Shape,
    SpanOfDays,
    Text,
    Weekdays,
    Whole,
    YesNo,
    fault,
    only_one,
)
from sitegen.model.terms import Role
from sitegen.values.when import Span


class Break(Shape):
    """Each bunch's price once *from* or more are bought."""

    from_: PositiveWhole = Field(alias="from")
    price: PositiveMoney


class Offer(Shape):
    """A stem by the bunch from one supplier, in some months or all year. Private, whole."""

    supplier: Id
    bunch: BunchOf
    price: PositiveMoney
    months: Months | None = None
    sold_as: Text | None = None
    breaks: tuple[Break, ...] = ()

    def in_season(self, month: int) -> bool:
        return self.months is None or month in self.months


class Stem(Shape):
    """A flower or foliage she buys."""

    name: Text
    latin: Text | None = None
    role: Role
    colour: Colour
    bloom: LengthOf | None = None
    loss: Percent | None = None
    offers: tuple[Offer, ...]
    mix: YesNo = False
    arrive: SpanOfDays = Span(2)  # days before the event; published practice is two to three
    opens: SpanOfDays | None = None
    condition: Hours | None = None
    store: Literal["cold", "warm"] = "cold"
    ethylene: Literal["sensitive", "gives"] | None = None
    care: Text | None = None
    cautions: tuple[Text, ...] = ()
    draw: Id | None = None
    private: Text | None = None

    def offer_on(self, month: int) -> tuple[int, Offer] | None:
        """Give the first offer in season and its index; it prices the recipe."""
        return next(((i, offer) for i, offer in enumerate(self.offers) if offer.in_season(month)), None)


class Pack(Shape):
    """A good as it is sold: so many pieces, or a length on a roll."""

    supplier: Id
    price: PositiveMoney
    pieces: PositiveWhole | None = None
    length: LengthOf | None = None
    breaks: tuple[Break, ...] = ()
    sold_as: Text | None = None

    @model_validator(mode="after")
    def _pieces_or_length(self) -> Self:
        only_one(self, ("length", "pieces"))
        if self.length is not None and self.length.amount == 0:
            raise fault("a roll of no length", "write how long it is, such as 25 yd or 20 m", "one-of")
        return self


class Good(Shape):
    """A hard good bought by the pack, or a hire piece that comes back."""

    name: Text
    loss: Percent = Fraction(0)
    packs: tuple[Pack, ...] = ()
    hire: Money | None = None
    replace: Money | None = None
    owned: Whole | None = None
    mouth: LengthOf | None = None
    height: LengthOf | None = None
    cautions: tuple[Text, ...] = ()
    private: Text | None = None

    @model_validator(mode="after")
    def _packs_or_hire(self) -> Self:
        if bool(self.packs) == (self.hire is not None):
            said = "both packs and hire are given" if self.packs else "packs or hire is missing"
            raise fault(said, "write packs for what is bought, or hire for what comes back", "one-of")
        if len({pack.length is None for pack in self.packs}) > 1:
            raise fault("some packs hold pieces and some a length", "measure all packs of it alike", "one-of")
        return self

    @property
    def by_length(self) -> bool:
        return bool(self.packs) and self.packs[0].length is not None


class Supplier(Shape):
    """Who sells, when they come, and from how much on. Private, whole."""

    name: Text
    email: Text | None = None
    phone: Text | None = None
    order_days: LeadDays = 0
    minimum: Money = Fraction(0)
    delivery: Money = Fraction(0)
    delivers: Weekdays | None = None
    closed: Weekdays = frozenset()
    brings: YesNo | None = None
    where: Text | None = None
    hours: Text | None = None
    customer: Text | None = None


class InHand(Shape):
    """What is in the studio already, and until when it is good."""

    stems: Whole | None = None
    pieces: Whole | None = None
    length: LengthOf | None = None
    until: Date | None = None

    @model_validator(mode="after")
    def _one_measure(self) -> Self:
        given = [v for v in (self.stems, self.pieces, self.length) if v is not None]
        if len(given) != 1:
            raise fault("say how much, once", "write one of stems, pieces, length", "one-of")
        return self
