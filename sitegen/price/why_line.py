"""The lines of an explanation: what is multiplied, what that comes to, and where each figure is written."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from sitegen.model.content import Shared
from sitegen.model.piece import Answer
from sitegen.price.priced import Combination, PricedEvent, PricedPiece
from sitegen.values.money import Currency
from sitegen.values.node import Map, Path, place_at
from sitegen.values.number import decimal_text
from sitegen.values.source import Place


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure as text, what it is, and where it is written; no place where it is a default."""

    text: str
    what: str
    place: Place | None


@dataclass(frozen=True, slots=True)
class Line:
    """One step to a price, with its exact amount in whole units of the currency. Private, whole.

    `factors` multiply to the amount, where there are any; `notes` are figures
    beside them, such as a swap.
    """

    name: str
    amount: Fraction
    factors: tuple[Figure, ...] = ()
    notes: tuple[Figure, ...] = ()

    @property
    def sum(self) -> str:
        """The multiplication in words: `7 × 14.50 / 10 × (1 + 12.5%) × 3.5`."""
        return " × ".join(factor.text for factor in self.factors)


@dataclass(frozen=True, slots=True)
class Asked:
    """The piece and the combination of answers whose price is explained."""

    event: PricedEvent
    piece: PricedPiece
    combination: Combination

    @property
    def shared(self) -> Shared:
        return self.event.shared

    @property
    def node(self) -> Map:
        return self.piece.file.node

    @property
    def month(self) -> int:
        return self.event.folder.event.date.month

    def answers(self) -> Iterator[tuple[Path, Answer]]:
        """The picked answers with their paths in the piece's file."""
        choices = self.piece.file.piece.choices
        for c, a in enumerate(self.combination.answers):
            yield ("choices", c, "answers", a), choices[c].answers[a]

    def in_studio(self, *path: str | int) -> Place | None:
        """Give the place of a value in studio.md, or None where it was left to the default."""
        node: object = self.shared.nodes.studio
        for step in path:
            if not isinstance(node, Map) or step not in node.entries:
                return None
            node = node.entries[str(step)][1]
        return place_at(self.shared.nodes.studio, path)


def money_text(amount: Fraction, currency: Currency) -> str:
    """Print with the currency's digits where they hold it, else with as many as it has, at most six."""
    units = currency.units(amount)
    return currency.text(units) if currency.amount(units) == amount else decimal_text(amount)


def percent_text(share: Fraction) -> str:
    return f"{decimal_text(share * 100)}%"
