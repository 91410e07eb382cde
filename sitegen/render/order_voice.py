"""How the studio's own sheets speak: short days, bare amounts, names in two parts, texts for page margins."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from sitegen.model.catalogue import Supplier
from sitegen.model.content import Shared
from sitegen.model.event import Place
from sitegen.model.piece import Piece
from sitegen.order.buy import Thing
from sitegen.order.order import Order
from sitegen.render.dates import clock, long_date
from sitegen.render.desk_figures import Figures, figures_for, short_day
from sitegen.render.order_parts import Head, Name
from sitegen.render.paper import css_text, shorten
from sitegen.render.voice import Voice
from sitegen.render.words import Words
from sitegen.values.length import Length
from sitegen.values.number import decimal_text

NB = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True, slots=True)
class OrderVoice:
    """The studio's voice, with what every sheet looks up: the order, its pieces by id, its catalogue."""

    order: Order
    figures: Figures
    pieces: Mapping[str, Piece]

    @property
    def voice(self) -> Voice:
        return self.figures.voice

    @property
    def today(self) -> dt.date:
        return self.figures.today

    @property
    def words(self) -> Words:
        return self.voice.words

    @property
    def shared(self) -> Shared:
        return self.order.priced.shared

    @property
    def symbol(self) -> str:
        """The currency's sign, for the heads of columns whose amounts stand bare."""
        return self.figures.symbol

    def money(self, amount: Fraction) -> str:
        """Print an amount in whole units of the currency, rounded, without its sign: `1,234.50`."""
        return self.figures.amount(self.shared.currency.units(amount))

    def day(self, day: dt.date) -> str:
        """Print a day briefly, its year only where that is not today's: `Wed, May 5`."""
        return self.figures.day(day)

    def weekday(self, day: dt.date) -> str:
        """Print a day of the event's own weeks, whose year stands on every page: `Wed, May 5`."""
        return short_day(day, self.voice.language)

    def hours(self, minutes: Fraction) -> str:
        """Print minutes as hours with one decimal, no unit: `7.1`."""
        return decimal_text(minutes / 60, 1).replace(".", self.voice.decimal)

    def minutes(self, minutes: Fraction) -> str:
        """Print minutes, begun ones counted: `25 min`, from an hour on `1:36`; nothing for none."""
        whole, rest = divmod(ceil(minutes), 60)
        return f"{whole}:{rest:02}" if whole else self.words("{n} min", n=rest).replace(" ", NB) * bool(rest)

    def date(self, day: dt.date) -> str:
        """Print a date with its year: `May 5, 2027`."""
        return long_date(day, self.voice.language)

    def time(self, time: dt.time) -> str:
        return clock(time, self.voice.language)

    def amount(self, value: Fraction | Length | int) -> str:
        """Print stems, pieces or a length, its unit never on the next line: `2½`, `1½ yd`."""
        return str(value) if isinstance(value, int) else self.voice.amount(value).replace(" ", NB)

    def name(self, thing: Thing) -> str:
        shared = self.shared
        return shared.stems[thing.id].name if thing.kind == "stem" else shared.goods[thing.id].name

    def held(self) -> str:
        """List what of the order is taken from stock, each with how much."""
        return "; ".join(f"{self.held_of(thing)} {self.name(thing)}" for thing in self.order.in_hand)

    def held_of(self, thing: Thing) -> str:
        """Print what of a thing is taken from stock, a length in the unit of its cuts."""
        amount, lengths = self.order.in_hand[thing], self.order.need.lengths
        if thing.kind == "good" and thing.id in lengths:
            return self.amount(Length(amount, "m").to(lengths[thing.id].unit))
        return self.amount(amount)

    def used_in(self, thing: Thing) -> str:
        """List the pieces that use a stem or good."""
        users = (
            self.pieces[portion.id].piece
            for portion in self.order.portions
            if portion.copies
            and thing.id in (portion.made.recipe if thing.kind == "stem" else portion.made.goods)
        )
        return ", ".join(users)

    def comes(self, supplier: Supplier) -> str:
        """Say who brings it, where the studio wrote that."""
        said = {True: "{supplier} comes", False: "Fetch from {supplier}", None: "From {supplier}"}
        return self.words(said[supplier.brings], supplier=supplier.name)

    def by_couple(self, piece: str) -> bool:
        """Tell whether the couple make what is made of the piece with that id."""
        return any(one.made.by_couple for one in self.order.portions if one.id == piece)

    def place(self, id_: str | None) -> Place | None:
        """Find a place of the event."""
        places = self.order.priced.folder.event.places
        return next((place for place in places if place.id == id_), None)

    def head(self, id_: str, title: str, draft: str) -> Head:
        return Head(id_, title, draft, css_text(shorten(title)))


def order_voice(order: Order, today: dt.date) -> OrderVoice:
    shared = order.priced.shared
    pieces = {piece.id: piece.file.piece for piece in order.priced.pieces}
    return OrderVoice(order, figures_for(shared.studio.language, shared.currency, today), pieces)


def parted(name: str) -> Name:
    """Part a name at its first comma."""
    kind, comma, rest = name.partition(",")
    return Name(kind, comma + rest)
