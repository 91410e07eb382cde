"""The pieces on the florist's page of an event: what each leaves, and how its answers change that."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.totals import Totals
from sitegen.order.sets import VariedSet
from sitegen.price.priced import Combination as Priced
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.render.desk import Combination, Margin, PieceRow
from sitegen.render.desk_figures import Figures
from sitegen.values.money import Currency


def piece_rows(
    priced: PricedEvent, picks: Picks, totals: Totals, sets: Mapping[str, VariedSet], figures: Figures
) -> tuple[PieceRow, ...]:
    """Give a row for each piece, in the order of the proposal; *sets* are the varied ones, dealt."""
    table = _Table(figures, priced.shared.currency, priced.shared.studio.pricing.target, sets)
    rows = zip(priced.pieces, picks.pieces, totals.lines, strict=True)
    return tuple(table.row(piece, pick, line) for piece, pick, line in rows)


@dataclass(frozen=True, slots=True)
class _Table:
    """What all rows of an event share."""

    figures: Figures
    money: Currency
    target: Fraction | None
    sets: Mapping[str, VariedSet]

    def row(self, piece: PricedPiece, pick: Pick, line: int) -> PieceRow:
        _ = self.figures.voice.words
        content, picked = piece.file.piece, piece.at(pick.answers)
        rows = self.combinations(piece, picked) if len(piece.combinations) > 1 else ()
        short = sum(bool(row.margin.short) for row in rows)
        return PieceRow(
            id=piece.id,
            name=content.piece,
            picked=_("Left out") if pick.out else self.answers(piece, pick),
            quantity="–" if pick.out else str(pick.quantity),
            extra=_("and {n} extra", n=content.extra) if content.extra and not pick.out else "",
            line="–" if pick.out else self.figures.amount(line),
            margin=self.margin(picked),
            summary=_("{n} combinations", n=len(rows)) if rows else "",
            short=_.plural("{n} falls short", "{n} fall short", short) if short else "",
            combinations=rows,
            dealt=self.dealt(self.sets[piece.id]) if piece.id in self.sets else "",
        )

    def dealt(self, dealt: VariedSet) -> str:
        """Say how alike the pieces of a set are, and by how much their stems differ in cost."""
        _, deal = self.figures.voice.words, dealt.deal
        if deal.versions == 1:
            return _("A varied set, but all are alike")
        least, most = (self.figures.share(one.numerator, one.denominator) for one in (deal.least, deal.most))
        alike = least if least == most else _("{least} to {most}", least=least, most=most)
        spread = self.figures.amount(self.money.units(dealt.spread))
        return _(
            "Dealt: two share {alike} of their stems, costs differ by {spread}", alike=alike, spread=spread
        )

    def answers(self, piece: PricedPiece, pick: Pick) -> str:
        """What was picked of it, in words: answers, and a count that is another than suggested."""
        _, usual = self.figures.voice.words, piece.file.quantity.usual
        suggested = pick.answers == piece.as_suggested.answers
        counted = _("{now}, instead of {usual}", now=pick.quantity, usual=usual)
        said = [] if suggested else [_labels(piece, pick.answers)]
        said += [counted] if pick.quantity != usual else []
        if said:
            return " · ".join(said)
        return _("As we suggest") if pick.answers else "–"

    def combinations(self, piece: PricedPiece, picked: Priced) -> tuple[Combination, ...]:
        return tuple(
            Combination(_labels(piece, one.answers), self.margin(one), picked=one is picked)
            for one in piece.combinations
        )

    def margin(self, one: Priced) -> Margin:
        """What one leaves: the price less the rounded cost.

        The share is rounded down, so that what falls short never reads as reached.
        """
        cost = self.money.units(one.cost)
        left = one.each - cost
        tenths = 1000 * left // one.each if one.each else None
        return Margin(
            each=self.figures.amount(one.each),
            cost=self.figures.amount(cost),
            left=self.figures.amount(left),
            share="–" if tenths is None else self.figures.tenths(tenths),
            bar=length(min(1000, max(0, tenths or 0))),
            short=self.short(one.each, left),
        )

    def short(self, each: int, left: int) -> str:
        _ = self.figures.voice.words
        if left < 0:
            return _("below cost")
        if self.target is not None and left * self.target.denominator < self.target.numerator * each:
            return _("below target")
        return ""


def length(tenths: int) -> str:
    """Give tenths of a percent as a length in a drawing that is 100 wide."""
    return f"{tenths // 10}.{tenths % 10}"


def _labels(piece: PricedPiece, answers: tuple[int, ...]) -> str:
    return " · ".join(_each_label(piece, answers))


def _each_label(piece: PricedPiece, answers: tuple[int, ...]) -> Iterator[str]:
    for choice, answer in zip(piece.file.piece.choices, answers, strict=True):
        yield choice.answers[answer].label
