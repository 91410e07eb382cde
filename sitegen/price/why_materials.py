"""How stems and goods come to their amounts: a line for each line of the recipe that holds."""

from collections.abc import Iterator
from fractions import Fraction

from sitegen.price.rates import good_rate, loss_of, measured, pricing_offer, stem_rate
from sitegen.price.why_line import Asked, Figure, Line, money_text, percent_text
from sitegen.values.amount import StemAmount
from sitegen.values.node import Path, place_at
from sitegen.values.number import decimal_text

_ONE = Fraction(1)


def stem_lines(asked: Asked) -> Iterator[Line]:
    """Explain each line of the recipe, followed through swaps and stand-ins to the stem that is priced."""
    lines: dict[str, tuple[Path, StemAmount]] = {
        stem: (("recipe", stem), n) for stem, n in asked.piece.file.piece.recipe.items()
    }
    for path, answer in asked.answers():
        lines |= {stem: ((*path, "recipe", stem), n) for stem, n in answer.recipe.items()}
    for stem, (path, n) in lines.items():
        if n.count:
            yield _stem_line(asked, stem, path, n)


def _stem_line(asked: Asked, stem: str, path: Path, n: StemAmount) -> Line:
    bunch = pricing_offer(asked.shared.stems[stem], asked.month).bunch.stems
    count = n.stems(bunch)
    what = "stem in one piece" if count == 1 else "stems in one piece"
    if n.bunches:
        what += f": {decimal_text(n.count)} {'bunch' if n.count <= 1 else 'bunches'} of {bunch}"
    factors = [Figure(decimal_text(count), what, place_at(asked.node, path))]
    notes = []
    for each, figure in _moves(asked, stem):
        stem, count = figure.text, count * each
        notes.append(figure)
        if each != _ONE:
            factors.append(Figure(decimal_text(each), f"{stem} for one", figure.place))
    priced = asked.shared.stems[stem]
    pricing = asked.shared.studio.pricing
    loss = _loss(asked, stem)
    factors += [_price(asked, stem), *([loss] if pricing.loss_in_price else []), _markup(asked, stem)]
    notes += [] if pricing.loss_in_price else [loss]
    amount = count * stem_rate(priced, asked.month, pricing).price
    return Line(priced.name, amount, tuple(factors), tuple(notes))


def _moves(asked: Asked, stem: str) -> Iterator[tuple[Fraction, Figure]]:
    """The answer's swap, then the event's stand-in, each with the new stem as text."""
    for path, answer in asked.answers():
        if stem in answer.swap:
            place = place_at(asked.node, (*path, "swap", stem))
            yield _ONE, Figure(answer.swap[stem], f"instead of {stem}", place)
            stem = answer.swap[stem]
            break
    folder = asked.event.folder
    for i, swap in enumerate(folder.event.swaps):
        if swap.from_ == stem:
            yield (
                swap.each,
                Figure(swap.to, f"stands in for {stem}", place_at(folder.node, ("swaps", i, "to"))),
            )
            return


def _price(asked: Asked, name: str) -> Figure:
    stem, money = asked.shared.stems[name], asked.shared.currency
    index, offer = stem.offer_on(asked.month) or (0, stem.offers[0])
    place = place_at(asked.shared.nodes.stems, (name, "offers", index, "price"))
    return Figure(f"{money_text(offer.price, money)} / {offer.bunch.stems}", f"from {offer.supplier}", place)


def _loss(asked: Asked, name: str) -> Figure:
    stem, pricing = asked.shared.stems[name], asked.shared.studio.pricing
    own = None if stem.loss is None else place_at(asked.shared.nodes.stems, (name, "loss"))
    what = "loss allowance" if pricing.loss_in_price else "loss allowance, in the cost alone"
    text = f"(1 + {percent_text(loss_of(stem, pricing))})"
    return Figure(text, what, own or asked.in_studio("pricing", "loss"))


def _markup(asked: Asked, name: str) -> Figure:
    role, factor = asked.shared.studio.pricing.markup.of(asked.shared.stems[name].role)
    return Figure(decimal_text(factor), f"mark-up on {role}", asked.in_studio("pricing", "markup", role))


def goods_lines(asked: Asked) -> Iterator[Line]:
    """Explain each line of goods; a second place's vessel stands without one."""
    paths: dict[str, Path] = {good: ("goods", good) for good in asked.piece.file.piece.goods}
    for path, answer in asked.answers():
        paths |= {good: (*path, "goods", good) for good in answer.goods}
    for name, n in asked.combination.made.goods.items():
        text = decimal_text(n) if isinstance(n, Fraction) else str(n)
        path = paths.get(name, ("second_place", "vessel"))
        what = "in one piece" if name in paths else "for its second place"
        count = Figure(text, what, place_at(asked.node, path))
        rate = good_rate(asked.shared.goods[name], asked.shared.studio.pricing)
        factors = (count, *_good_factors(asked, name))
        yield Line(asked.shared.goods[name].name, measured(n) * rate.price, factors)


def _good_factors(asked: Asked, name: str) -> Iterator[Figure]:
    good, money, node = asked.shared.goods[name], asked.shared.currency, asked.shared.nodes.goods
    if good.hire is not None:
        yield Figure(money_text(good.hire, money), "hire, not marked up", place_at(node, (name, "hire")))
        return
    pack = good.packs[0]
    place = place_at(node, (name, "packs", 0, "price"))
    yield Figure(
        f"{money_text(pack.price, money)} / {pack.length or pack.pieces}", f"from {pack.supplier}", place
    )
    factor = decimal_text(asked.shared.studio.pricing.markup.goods)
    yield Figure(factor, "mark-up on goods", asked.in_studio("pricing", "markup", "goods"))
