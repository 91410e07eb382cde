"""The catalogue and the terms, across files: every name that is used exists, and sums can add up."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from sitegen.check.names import unknown
from sitegen.model.catalogue import Break
from sitegen.model.content import Shared
from sitegen.model.terms import Charge, Payment
from sitegen.pictures.sketch.kinds import HABITS
from sitegen.values.many import most
from sitegen.values.nearest import nearest
from sitegen.values.node import ABSENT, Map, Path, empty_list, place_at
from sitegen.values.number import decimal_text, shorten
from sitegen.values.problem import Problem

ALL_YEAR = frozenset(range(1, 13))


def across(shared: Shared, stock: Map | None) -> list[Problem]:
    """Check the shared files against each other."""
    return [
        *most(_stems(shared)),
        *most(_goods(shared)),
        *most(_stock(shared, stock) if stock else ()),
        *charges(shared.studio.charges, shared.nodes.studio),
        *payments(shared.studio.payments, shared.nodes.studio),
        *_markup(shared),
    ]


def _stems(shared: Shared) -> Iterator[Problem]:
    node = shared.nodes.stems
    for name, stem in shared.stems.items():
        if not stem.offers and empty_list(node, (name, "offers")):
            what = f"{name} has no offer"
            why = "A stem is priced and bought from its offers."
            fix = "add one such as {supplier: …, bunch: 10, price: 28.00}"
            yield Problem("offers-none", place_at(node, (name, "offers"), key=True), what, why, fix)
        yield from _drawn(node, name, stem.draw)
        for i, offer in enumerate(stem.offers):
            path: Path = (name, "offers", i)
            yield from _supplier(shared, node, path, offer.supplier)
            yield from _breaks(node, path, offer.price, offer.breaks)
        packs = [
            _Sold(
                one.supplier,
                str(one.bunch.stems),
                one.months or ALL_YEAR,
                one.sold_as,
                one.price,
                one.breaks,
            )
            for one in stem.offers
        ]
        yield from _contradictory(node, (name, "offers"), packs)


def _drawn(node: Map, name: str, draw: str | None) -> Iterator[Problem]:
    if draw is None or draw in HABITS:
        return
    near = nearest(draw, list(HABITS))
    what = f'no kind of flower or leaf to draw is called "{shorten(draw)}"'
    why = "Until then its sketches take the kind that its role and Latin name mean."
    fix = f'write "{near}"' if near else f"write one of {', '.join(HABITS)}"
    yield Problem("draw-unknown", place_at(node, (name, "draw")), what, why, fix, "warning")


def _goods(shared: Shared) -> Iterator[Problem]:
    node = shared.nodes.goods
    for name, good in shared.goods.items():
        for i, pack in enumerate(good.packs):
            path: Path = (name, "packs", i)
            yield from _supplier(shared, node, path, pack.supplier)
            yield from _breaks(node, path, pack.price, pack.breaks)
        packs = [
            _Sold(one.supplier, f"{one.length or one.pieces}", ALL_YEAR, one.sold_as, one.price, one.breaks)
            for one in good.packs
        ]
        yield from _contradictory(node, (name, "packs"), packs)


@dataclass(frozen=True, slots=True)
class _Sold:
    """What a supplier calls one pack, and what it asks for it in some months."""

    supplier: str
    size: str
    months: frozenset[int]
    sold_as: str | None
    price: Fraction
    breaks: tuple[Break, ...]


def _contradictory(node: Map, path: Path, packs: Sequence[_Sold]) -> Iterator[Problem]:
    """One pack of a supplier has one price in a month; the first line that says another is reported."""
    for i, one in enumerate(packs):
        for k, other in enumerate(packs[:i]):
            same = (one.supplier, one.size, one.sold_as) == (other.supplier, other.size, other.sold_as)
            differ = (one.price, one.breaks) != (other.price, other.breaks)
            if same and differ and one.months & other.months:
                place, first = place_at(node, (*path, i, "price")), place_at(node, (*path, k, "price"))
                what = f"{one.supplier} has two prices for one pack of {one.size}"
                why = "The order takes the lower one, and nobody knows whether it holds."
                fix = "keep one of the two, or set them apart by months or sold_as"
                yield Problem("price-twice", place, what, why, fix, related=(("the first", first),))
                break


def _supplier(shared: Shared, node: Map, path: Path, name: str) -> Iterator[Problem]:
    # A supplier whose own lines failed is known by name; only names that are nowhere are reported.
    known = shared.nodes.suppliers
    if name not in known.entries and name != ABSENT:
        place = place_at(node, (*path, "supplier"))
        yield unknown("supplier-unknown", "supplier", name, place, known, "The order is split by supplier.")


def _breaks(node: Map, path: Path, price: Fraction, breaks: Sequence[Break]) -> Iterator[Problem]:
    before = (1, price)
    for i, step in enumerate(breaks):
        if step.from_ <= before[0] or step.price >= before[1]:
            what = "a price break must begin at more bunches and cost less than the line before it"
            why = "The cheapest order is found by following the breaks."
            fix = f"write from: more than {before[0]}, price: less than {decimal_text(before[1])}"
            yield Problem("breaks-order", place_at(node, (*path, "breaks", i, "from")), what, why, fix)
        before = (step.from_, step.price)


def _stock(shared: Shared, node: Map) -> Iterator[Problem]:
    known = (*shared.nodes.stems.entries, *shared.nodes.goods.entries)
    for name, (key, _) in node.entries.items():
        if name not in known:
            why = "What is in hand is taken off the order under its name."
            yield unknown("stock-unknown", "stem or good", name, key.place, known, why)
        elif name in shared.stock:
            yield from _measure(shared, name, node)


def _measure(shared: Shared, name: str, node: Map) -> Iterator[Problem]:
    held = shared.stock[name]
    good = shared.goods.get(name)
    wanted = "stems" if good is None else "length" if good.by_length else "pieces"
    if getattr(held, wanted) is None:
        what = f"{name} is counted in {wanted}"
        why = "What is in hand is taken off the order in the measure it is bought by."
        fix = f"write {wanted}: with how much there is"
        yield Problem("stock-measure", place_at(node, (name,), key=True), what, why, fix)


def charges(given: Sequence[Charge], node: Map) -> Iterator[Problem]:
    """Each charge has a short name of its own."""
    yield from repeated("charges", [charge.id for charge in given], node, "charge")


def repeated(where: str, ids: Iterable[str], node: Map, kind: str, path: Path = ()) -> Iterator[Problem]:
    """Report every short name in the list at *where* that an earlier item has already."""
    seen: dict[str, int] = {}
    for i, name in enumerate(ids):
        if name in seen and name != ABSENT:
            place = place_at(node, (*path, where, i, "id"))
            what = f'"{name}" names two of the {kind}s'
            why = "Answers and figures are kept under this name, and one of the two would be lost."
            first = place_at(node, (*path, where, seen[name], "id"))
            yield Problem(
                "id-repeated",
                place,
                what,
                why,
                "give one of them another id",
                related=(("the first", first),),
            )
        seen.setdefault(name, i)


def payments(given: Sequence[Payment], node: Map) -> Iterator[Problem]:
    """Percents leave something for the last payment, and only the last takes the rest."""
    total = sum((payment.percent or Fraction(0) for payment in given), Fraction(0))
    why = "Payments must add up to the total."
    if total > 1:
        what = f"the payments come to {decimal_text(total * 100)}% of the total"
        yield Problem(
            "payments-above", place_at(node, ("payments",), key=True), what, why, "lower one of them"
        )
    for i, payment in enumerate(given[:-1]):
        if payment.rest:
            what = "only the last payment can take the rest"
            place = place_at(node, ("payments", i, "rest"), key=True)
            yield Problem("payments-rest", place, what, why, "move this line to the end")
    yield from _last(given, node) if given else ()


def _last(given: Sequence[Payment], node: Map) -> Iterator[Problem]:
    """The last payment takes what is left, whatever it says: told where that may be something else."""
    last, before = given[-1], given[:-1]
    if last.rest or any(payment.rest for payment in before):
        return
    left = 1 - sum((payment.percent or Fraction(0) for payment in before), Fraction(0))
    in_percent = all(payment.percent is not None for payment in given)
    if left <= 0 or left < (last.percent or 0) or (in_percent and last.percent == left):
        return
    key = "percent" if last.percent is not None else "amount"
    said = f"{decimal_text(last.percent * 100)}%" if last.percent is not None else "an amount"
    takes = f": {decimal_text(left * 100)}%" if in_percent else ""
    what = f"the last payment says {said}, and takes what is left{takes}"
    place = place_at(node, ("payments", len(before), key))
    fix = f"write rest: yes in place of {key}, or add another payment below it"
    yield Problem("payments-last", place, what, "Payments must add up to the total.", fix, "warning")


def _markup(shared: Shared) -> Iterator[Problem]:
    place = place_at(shared.nodes.studio, ("pricing", "markup"), key=True)
    set_by_hand = "goods" in shared.studio.pricing.markup.model_fields_set
    if not set_by_hand and any(good.packs for good in shared.goods.values()):
        what = "there is no mark-up for goods"
        why = "Ribbon, pins and vessels will be sold at what they cost."
        yield Problem("markup-goods", place, what, why, "write goods: 2.5 in markup", "warning")
