"""How a price comes about, line by line, with the place of each figure in the files. Private, whole."""

from collections.abc import Iterator
from fractions import Fraction

from sitegen.price.priced import Combination, PricedEvent, PricedPiece
from sitegen.price.rates import labour_rate
from sitegen.price.why_line import Asked, Figure, Line, money_text, percent_text
from sitegen.price.why_materials import goods_lines, stem_lines
from sitegen.values.node import place_at
from sitegen.values.number import decimal_text
from sitegen.values.source import Place


def why(event: PricedEvent, piece: PricedPiece, combination: Combination) -> tuple[Line, ...]:
    """Explain the price of one *piece* for a *combination* of answers.

    Lines of stems, goods, labour and added money, which add up to "computed";
    then what the own price and the rounding make of it, then "each", and what
    of it is cost and what is left, labour counted as no cost.
    """
    asked = Asked(event, piece, combination)
    materials = [*stem_lines(asked), *goods_lines(asked)]
    parts = [
        *materials,
        *_labour(asked, sum((line.amount for line in materials), Fraction(0))),
        *_added(asked),
    ]
    each = asked.shared.currency.amount(combination.each)
    return (
        *parts,
        Line("computed", combination.exact),
        *_own_price(asked),
        *_rounding(asked),
        Line("each", each),
        Line("cost of stems with their loss, and goods", combination.cost),
        Line("left, labour not counted as a cost", each - combination.cost),
    )


def _labour(asked: Asked, materials: Fraction) -> Iterator[Line]:
    way, made, money = asked.shared.studio.pricing.labour, asked.combination.made, asked.shared.currency
    if made.by_couple:
        note = Figure("no labour", "the couple make it", _set_at(asked, "made_by"))
        yield Line("Labour", Fraction(0), notes=(note,))
    if way is None or made.by_couple:
        return
    amount = labour_rate(way).of(made.minutes, materials, made.add)
    if way.per_hour is not None:
        yield Line("Labour", amount, tuple(_hourly(asked, money_text(way.per_hour, money))))
    elif way.on_materials is not None:
        place = asked.in_studio("pricing", "labour", "on_materials")
        share = Figure(percent_text(way.on_materials), "labour on materials", place)
        yield Line("Labour", amount, (share, Figure(decimal_text(materials, 4), "all of the above", None)))
    elif way.of_price is not None:
        place = asked.in_studio("pricing", "labour", "of_price")
        part = percent_text(way.of_price)
        share = Figure(f"{part} / (1 − {part})", "labour as a share of the price", place)
        rest = Figure(decimal_text(materials + made.add, 4), "materials and what answers add", None)
        yield Line("Labour", amount, (share, rest))


def _hourly(asked: Asked, wage: str) -> Iterator[Figure]:
    yield Figure(wage, "labour an hour", asked.in_studio("pricing", "labour", "per_hour"))
    minutes = f"{decimal_text(asked.combination.made.minutes)} / 60"
    yield Figure(minutes, "minutes for one piece", _set_at(asked, "minutes"))


def _set_at(asked: Asked, field: str) -> Place | None:
    """Where the picked answers set *field*, else where the piece does."""
    for path, answer in asked.answers():
        if getattr(answer, field) is not None:
            return place_at(asked.node, (*path, field))
    return place_at(asked.node, (field,)) if field in asked.node.entries else None


def _added(asked: Asked) -> Iterator[Line]:
    for path, answer in asked.answers():
        if answer.add:
            amount = money_text(answer.add, asked.shared.currency)
            figure = Figure(amount, "added by the answer", place_at(asked.node, (*path, "add")))
            yield Line(answer.label, answer.add, (figure,))


def _own_price(asked: Asked) -> Iterator[Line]:
    own, money = asked.piece.file.piece.price, asked.shared.currency
    if own is None:
        return
    price = Figure(money_text(own, money), "price at the usual answers", place_at(asked.node, ("price",)))
    usual = asked.piece.as_suggested.exact
    if asked.combination is asked.piece.as_suggested or usual <= 0:
        yield Line("own price", own, (price,))
        return
    exact = asked.combination.exact
    ratio = f"{decimal_text(exact, 4)} / {decimal_text(usual, 4)}"
    share = Figure(ratio, "computed here, and at the usual answers", None)
    yield Line("own price, in proportion", own * exact / usual, (price, share))


def _rounding(asked: Asked) -> Iterator[Line]:
    rule, money = asked.shared.studio.pricing.round, asked.shared.currency
    own = asked.piece.file.piece.price
    if rule is None or (own is not None and asked.combination is asked.piece.as_suggested):
        return
    text = f"{rule.how} to {money_text(rule.to, money)}"
    note = Figure(text, "rounding", asked.in_studio("pricing", "round", "to"))
    yield Line("rounded", money.amount(asked.combination.each), notes=(note,))
