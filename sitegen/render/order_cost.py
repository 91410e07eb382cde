"""What the order costs, against what the quote counted, and where the stems left over could go."""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from sitegen.order.market import Thing
from sitegen.order.order import Row
from sitegen.order.pull import pulled_stems
from sitegen.order.work import hours
from sitegen.render.order_buying import holds
from sitegen.render.order_page import Cost, CostGroup, CostRow, Over, Sum
from sitegen.render.order_voice import NB, OrderVoice
from sitegen.values.number import total

_MOST_TO_SPARE = 12


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
        lead=_(
            "The least that whole bunches and packs, deliveries and minimums come to together; a delivery "
            "and a minimum count once for each supplier and order."
        ),
        symbol=voice.symbol,
        notes=tuple(_notes(voice)),
        order=_order(voice),
        left=() if agreed is None else tuple(_left(voice, voice.shared.currency.amount(agreed))),
        over=_to_spare(voice),
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


def _left(voice: OrderVoice, agreed: Fraction) -> Iterator[Sum]:
    _, order, crew = voice.words, voice.order, voice.order.priced.terms.crew
    yield Sum(_("Agreed, before tax"), voice.money(agreed))
    yield Sum(_("Less the order"), voice.money(-order.cost))
    yield Sum(_("Left after materials"), voice.money(agreed - order.cost), strong=True)
    if crew is not None and crew.pay is not None:
        worked = hours(order)
        pay = voice.money(crew.pay)
        said = voice.hours(worked * 60)
        yield Sum(_("Hands, {hours} h × {pay}", hours=said, pay=pay), voice.money(-worked * crew.pay))
        yield Sum(_("Left after hands"), voice.money(agreed - order.cost - worked * crew.pay), strong=True)


def _bought(rows: Iterable[Row], kind: str | None = None) -> Fraction:
    return total(row.cost for row in rows if kind in (None, row.thing.kind))


def _to_spare(voice: OrderVoice) -> tuple[Over, ...]:
    """Stems bought above the need, most first, those alike as the recipes name them."""
    spare = sorted(voice.order.spare.items(), key=lambda stem: -stem[1])
    things = ((Thing("stem", name), n) for name, n in spare if n)
    rows = (Over(voice.name(thing), str(n), voice.used_in(thing)) for thing, n in things)
    return tuple(rows)[:_MOST_TO_SPARE]


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
    """What is pulled of each stem, and left over of all its rows and what is in hand together."""
    pulled, held = pulled_stems(voice.order.pulled), voice.order.in_hand
    found = {}
    for name, n in voice.order.bought_stems.items():
        used, thing = pulled.get(name, 0), Thing("stem", name)
        found[thing] = (str(used), str(n + int(held.get(thing, 0)) - used))
    return found


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


def _notes(voice: OrderVoice) -> Iterator[str]:
    _, order = voice.words, voice.order
    if order.in_hand:
        yield _("Not counted here, as it is in hand: {names}.", names=voice.held())
    if order.gap:
        yield _("Not proven the least: another order could cost up to {amount} less.",
                amount=voice.money(order.gap))  # fmt: skip
