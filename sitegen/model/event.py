"""event.md: who, when, where, and what was agreed for this event alone."""

from fractions import Fraction
from typing import Literal

from pydantic import Field

from sitegen.model.fields import (
    Colour,
    Date,
    Days,
    DaysBefore,
    Id,
    Moment,
    Money,
    Number,
    Positive,
    Shape,
    Text,
    Time,
    Whole,
    YesNo,
)
from sitegen.model.terms import Charge, Crew, Discount, Payment, Tax


class Place(Shape):
    """Where pieces stand or are handed over, and its hours. Times after midnight are the next day's."""

    id: Id
    name: Text
    use: Text | None = None
    address: Text | None = None
    contact: Text | None = None
    rules: Text | None = None
    date: Date | None = None
    access: Time | None = None
    ready: Time | None = None
    starts: Time | None = None
    ends: Time | None = None
    clear: Time | None = None
    travel: Number | None = None


class StandIn(Shape):
    """None at market: *each* of `to` stands in for one of `from`, everywhere in the event."""

    from_: Id = Field(alias="from")
    to: Id
    each: Positive = Fraction(1)
    why: Text | None = None


class Paid(Shape):
    """Money that came in."""

    date: Date
    amount: Money
    how: Text | None = None


class Collect(Shape):
    """When and where the couple fetch what they make themselves."""

    at: Moment
    where: Text


class Event(Shape):
    """The front matter of event.md. The body is the note to the couple."""

    event: Text
    for_: Text = Field(alias="for")
    date: Date
    guests: Whole | None = None
    counts: dict[Id, Whole] = Field(default_factory=dict)
    places: tuple[Place, ...] = ()
    palette: tuple[Colour, ...] = ()
    avoid: tuple[Id, ...] = ()
    mind: tuple[Text, ...] = ()
    valid: Days | None = None
    changes_close: DaysBefore | None = None
    least: Money | None = None
    swaps: tuple[StandIn, ...] = ()
    paid: tuple[Paid, ...] = ()
    signers: tuple[Text, ...] = ()
    hire_back: Moment | None = None
    collect: Collect | None = None
    sealed: YesNo = True
    theme: Id | None = None
    charges: tuple[Charge, ...] | None = None
    discount: Discount | None = None
    tax: Tax | None = None
    payments: tuple[Payment, ...] | None = None
    crew: Crew | None = None
    closed: Literal["declined", "cancelled"] | None = None
    budget: Money | None = None
    private: Text | None = None
