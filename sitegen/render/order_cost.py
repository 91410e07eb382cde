"""What the order costs, against what the quote counted, and where the stems left over could go."""

from collections.abc import Iterable
from fractions import Fraction

from sitegen.order.buy import Thing
from sitegen.order.order import Row
from sitegen.order.pull import pulled_stems
from sitegen.render.order_buying import holds
from sitegen.render.order_page import Cost, CostGroup, CostRow, Over, Sum
from sitegen.render.order_voice import NB, OrderVoice
from sitegen.values.number import total

_MOST_OVER = 8


def cost(voice: OrderVoice, agreed: int | None) -> Cost | None:
    """Lay out the cost sheet.

    *agreed* is the proposal's subtotal less discount plus charges, without
    tax, in smallest units; None leaves out what is left after materials.
    """
    _, order = voice.words, voice.order
    if not order.rows:
        return None
    return Cost(
        head=voice.head("cost", _("What it costs"), _("Prices of today, at the choices as they stand.")),
        lead=_("Each stem and good from its own cheapest offer, minimums not counted in."),
        symbol=voice.symbol,
        notes=tuple(_short_of_minimum(voice)),
        order=_order(voice),
        left=() if agreed is None else _left(voice, voice.shared.currency.amount(agreed)),
        over=_most_over(voice),
        groups=tuple(_groups(voice)),
    )


def _order(voice: OrderVoice) -> tuple[Sum, ...]:
    _, order = voice.words, voice.order
    above = order.cost - order.quoted
    return (
        Sum(_("Stems"), voice.money(_bought(order.rows, "stem"))),
        Sum(_("Hard goods"), voice.money(_bought(order.rows, "good"))),
        Sum(_("Deliveries"), voice.money(total(order.deliveries.values()))),
        Sum(_("Order"), voice.money(order.cost), strong=True),
        *_placed(voice),
        Sum(_("The quote counted"), voice.money(order.quoted)),
        Sum(_("Over it, by whole bunches, packs and delivery"), voice.money(above))
        if above >= 0
        else Sum(_("Below it"), voice.money(-above)),
    )


def _placed(voice: OrderVoice) -> Iterable[Sum]:
    """How much of the order was placed, and what it comes to now; nothing where none was."""
    _, order, before = voice.words, voice.order, voice.order.before
    if not before.placings:
        return
    add = total((*(row.cost for row in order.added), *order.added_fees.values()))
    back = total((*(row.cost for row in before.cancelled), *before.waived.values()))
    yield Sum(_("of it placed, and stays"), voice.money(order.cost - add))
    yield Sum(_("to add now"), voice.money(add))
    if back:
        yield Sum(_("taken back, and not counted"), voice.money(back))


def _left(voice: OrderVoice, agreed: Fraction) -> tuple[Sum, ...]:
    _, order = voice.words, voice.order
    return (
        Sum(_("Agreed, before tax"), voice.money(agreed)),
        Sum(_("Less the order"), voice.money(-order.cost)),
        Sum(_("Left after materials"), voice.money(agreed - order.cost), strong=True),
    )


def _bought(rows: Iterable[Row], kind: str | None = None) -> Fraction:
    return total(row.cost for row in rows if kind in (None, row.thing.kind))


def _most_over(voice: OrderVoice) -> tuple[Over, ...]:
    """Stems with a whole bunch or more over, most first, those alike as they are bought."""
    pulled, got = pulled_stems(voice.order.pulled), voice.order.bought_stems
    stems = list({row.thing: row for row in voice.order.rows if row.thing.kind == "stem"}.values())
    over = [(got[row.thing.id] - pulled.get(row.thing.id, 0), row) for row in stems]
    most = sorted((-n, i) for i, (n, row) in enumerate(over) if n >= row.bought.lot.size)
    rows = [over[i] for _, i in most[:_MOST_OVER]]
    return tuple(Over(voice.name(row.thing), str(n), voice.used_in(row.thing)) for n, row in rows)


def _by_supplier(voice: OrderVoice) -> dict[str, list[Row]]:
    return {
        supplier: [row for row in voice.order.rows if row.supplier == supplier]
        for supplier in voice.order.deliveries
    }


def _groups(voice: OrderVoice) -> Iterable[CostGroup]:
    _, over = voice.words, _over(voice)
    for id_, rows in _by_supplier(voice).items():
        supplier, fee = voice.shared.suppliers[id_], voice.order.deliveries[id_]
        terms = (
            supplier.minimum and _("minimum {amount}", amount=voice.money(supplier.minimum)),
            fee and _("delivery {amount}", amount=voice.money(fee)),
        )
        yield CostGroup(
            supplier=supplier.name,
            terms=" · ".join(term for term in terms if isinstance(term, str)),
            sum=voice.money(_bought(rows) + fee),
            rows=tuple(_row(voice, row, over.pop(row.thing, ("", ""))) for row in rows),
        )


def _over(voice: OrderVoice) -> dict[Thing, tuple[str, str]]:
    """What is pulled of each stem and left over of all its rows together."""
    pulled, got = pulled_stems(voice.order.pulled), voice.order.bought_stems
    return {
        Thing("stem", name): (str(pulled.get(name, 0)), str(n - pulled.get(name, 0)))
        for name, n in got.items()
    }


def _row(voice: OrderVoice, row: Row, over: tuple[str, str]) -> CostRow:
    """Of a stem that stands in several rows, the first says what is pulled and over of all."""
    size, amount, about, _ = holds(voice, row)
    packs = row.bought.packs
    return CostRow(
        name=voice.name(row.thing),
        packs=f"{packs} × {'~' if about else ''}{size}".replace(" ", NB),
        each=voice.money(row.bought.lot.price_at(packs)),
        cost=voice.money(row.cost),
        bought=amount,
        pulled=over[0],
        over=over[1],
    )


def _short_of_minimum(voice: OrderVoice) -> Iterable[str]:
    _ = voice.words
    for id_, rows in _by_supplier(voice).items():
        lacking = voice.shared.suppliers[id_].minimum - _bought(rows)
        if lacking > 0:
            name = voice.shared.suppliers[id_].name
            yield _("{supplier}: {amount} below its minimum.", supplier=name, amount=voice.money(lacking))
