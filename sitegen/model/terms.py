"""Terms of business: how prices are made, what is charged, taxed and paid, and when."""

import datetime as dt
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Literal, Self

from pydantic import Field, PlainValidator, WithJsonSchema, model_validator

from sitegen.model.fields import (
    Hands,
    Id,
    Money,
    Number,
    Percent,
    Positive,
    PositiveMoney,
    Shape,
    Text,
    YesNo,
    fault,
    only_one,
    reads,
)
from sitegen.values.number import Unreadable, shorten
from sitegen.values.when import date

Role = Literal["line", "mass", "form", "filler", "foliage"]


@dataclass(frozen=True, slots=True)
class Due:
    """When a payment falls due: a number of days before the event, a day, or words such as `approval`."""

    words: str
    days_before: int | None = None
    day: dt.date | None = None

    def on(self, event: dt.date) -> dt.date | None:
        """Give the day, for an event on that date; None where it is only words."""
        if self.days_before is not None:
            return event - dt.timedelta(days=self.days_before)
        return self.day


def due(text: str) -> Due:
    """Read `approval`, `21 days before` or `2027-05-01`."""
    text = text.strip()
    if not text:
        raise Unreadable("there are no words here", "write approval, or 21 days before")
    if match := re.fullmatch(r"([0-9]{1,4}) days? before", text, re.ASCII):
        return Due(text, days_before=int(match[1]))
    if re.match(r"[0-9]{4}-", text, re.ASCII):
        return Due(text, day=date(text))
    if len(text) > 80:
        raise Unreadable(f'"{shorten(text)}" is too long for a due date', "write approval, or 21 days before")
    return Due(text)


DueOn = Annotated[
    Due,
    PlainValidator(reads(due, "when it is due")),
    WithJsonSchema({"type": "string", "description": "approval, 21 days before, or a date"}),
]


class Markup(Shape):
    """Factors on cost. A stem role without its own takes `fresh`; goods without one are sold at cost."""

    fresh: Positive | None = None
    line: Positive | None = None
    mass: Positive | None = None
    form: Positive | None = None
    filler: Positive | None = None
    foliage: Positive | None = None
    goods: Positive = Fraction(1)

    @model_validator(mode="after")
    def _covers_every_role(self) -> Self:
        lacking = [
            role for role in ("line", "mass", "form", "filler", "foliage") if getattr(self, role) is None
        ]
        if self.fresh is None and lacking:
            raise fault(f"there is no mark-up for {lacking[0]} stems", "write fresh: 3.5", "one-of")
        return self

    def of(self, role: str) -> tuple[str, Fraction]:
        """Give the factor for a stem role, and the name of the line that set it."""
        own: Fraction | None = getattr(self, role)
        if own is not None:
            return role, own
        if self.fresh is None:
            raise ValueError(f"no mark-up for {role}")
        return "fresh", self.fresh


class Labour(Shape):
    """One of three published conventions: by the hour, a percent on materials, or a share of the price."""

    per_hour: Money | None = None
    on_materials: Percent | None = None
    of_price: Percent | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        only_one(self, ("per_hour", "on_materials", "of_price"))
        if self.of_price is not None and self.of_price >= 1:
            raise fault("labour cannot be the whole price", "write a percent below 100%", "one-of")
        return self


class Rounding(Shape):
    """Prices are rounded to a multiple of `to`: up, or to the nearest with halves up."""

    to: PositiveMoney
    how: Literal["up", "nearest"] = "nearest"


class Pricing(Shape):
    """How cost becomes price. Private, whole."""

    markup: Markup
    labour: Labour | None = None
    loss: Percent = Fraction(0)
    loss_in_price: YesNo = False
    round: Rounding | None = None
    target: Percent | None = None


class Charge(Shape):
    """A fixed amount, or a percent of the subtotal with a least amount."""

    id: Id
    label: Text
    percent: Percent | None = None
    amount: Money | None = None
    least: Money | None = None
    taxable: YesNo = True
    optional: YesNo = False

    @model_validator(mode="after")
    def _percent_or_amount(self) -> Self:
        only_one(self, ("percent", "amount"))
        if self.least is not None and self.amount is not None:
            raise fault("a fixed amount has no least", "leave least out, or write percent", "one-of")
        return self


class Discount(Shape):
    """Fixed, or a percent of the subtotal; before tax."""

    percent: Percent | None = None
    amount: Money | None = None
    label: Text | None = None

    @model_validator(mode="after")
    def _percent_or_amount(self) -> Self:
        only_one(self, ("percent", "amount"))
        if self.percent is not None and self.percent > 1:
            raise fault("a discount is at most 100%", "write a percent up to 100%", "one-of")
        return self


class TaxRate(Shape):
    """One rate, with the name it is printed under."""

    label: Text
    rate: Percent


class Tax(Shape):
    """Rates on the taxable part: added, or contained in the prices; rounded per invoice or per line."""

    rates: tuple[TaxRate, ...] = ()
    included: YesNo = False
    rounding: Literal["invoice", "line"] = "invoice"


class Payment(Shape):
    """A part of the total and when it is due. The last payment takes what is left."""

    label: Text
    percent: Percent | None = None
    amount: Money | None = None
    rest: YesNo = False
    due: DueOn

    @model_validator(mode="after")
    def _one_measure(self) -> Self:
        only_one(self, ("percent", "amount", "rest"))
        return self


class Crew(Shape):
    """Hands in the studio, hours a day for each, and what an hour costs."""

    hands: Hands = 1
    hours: Positive = Fraction(8)
    pay: Money | None = None


class Work(Shape):
    """Minutes: a bunch to process, a piece to pull; for each hand: loading, a way there, striking.

    Without `pull`, pulling takes as long as there are stems (`order/practice.py`).
    """

    bunch: Number = Fraction(6)
    pull: Number | None = None
    load: Number = Fraction(45)
    travel: Number = Fraction(0)
    strike: Number = Fraction(0)


class Contact(Shape):
    """Whom the couple write to or ring."""

    name: Text | None = None
    email: Text | None = None
    phone: Text | None = None
    web: Text | None = None


ShowStems = Literal["counts", "names", "no"]


class Studio(Shape):
    """studio.md: who sells, in which money, and how prices come about."""

    studio: Text
    contact: Contact
    language: Text
    currency: Text
    pricing: Pricing
    paper: Literal["a4", "letter"] = "a4"
    charges: tuple[Charge, ...] = ()
    discount: Discount | None = None
    tax: Tax = Tax()
    payments: tuple[Payment, ...] = ()
    crew: Crew | None = None
    work: Work = Work()
    address: Text | None = None
    tools: tuple[Text, ...] = ()
    first_aid: tuple[Text, ...] = ()
    show_stems: ShowStems = Field(default="counts")
    sketch: YesNo = True
    theme: Id = "north-window"
    private: Text | None = None

    @property
    def metric(self) -> bool:
        """Whether sheets speak of centimetres and degrees Celsius: not on Letter paper, nor in US English."""
        return self.paper == "a4" and not self.language.replace("_", "-").upper().endswith("-US")
