"""The buying list: a block for each delivery day and supplier, without a price."""

from collections.abc import Iterator, Sequence

from sitegen.model.catalogue import Stem, Supplier
from sitegen.order.calendar import Arrival
from sitegen.order.deliveries import by_delivery as grouped
from sitegen.order.deliveries import deliveries
from sitegen.order.order import Row
from sitegen.render.order_care import cares, of_goods, of_stems
from sitegen.render.order_page import BuyBlock, Buying, BuyRow
from sitegen.render.order_placed import standing_of
from sitegen.render.order_voice import NB, OrderVoice
from sitegen.values.length import Length

_AT_HAND = ("cats", "dogs", "people", "pollen", "scent", "flame", "magnet")  # said where stems are worked


def buying(voice: OrderVoice) -> Buying | None:
    """Lay out all that is bought, by day, then as suppliers.yaml lists them; unknown days come last.

    Once an order was placed: what to add, what to cancel, and then what comes anyhow, to be ticked off.
    """
    _ = voice.words
    if not voice.order.rows and not voice.order.missing and not voice.order.before.placings:
        return None
    blocks = tuple(_blocks(voice))
    return Buying(
        head=voice.head("buying", _("Buying list"), _("Not approved: do not order from this sheet.")),
        lead=_(
            "{deliveries} from {suppliers}. No prices on this sheet: it can go with the driver. Write "
            "what came, what is short, what is at fault.",
            deliveries=_.plural("{n} delivery", "{n} deliveries", len(by_delivery(voice))),
            suppliers=_.plural(
                "{n} supplier", "{n} suppliers", len({row.supplier for row in voice.order.rows})
            ),
        ),
        placed=tuple(standing_of(voice)),
        notes=_notes(voice),
        cares=cares([*of_stems(voice), *of_goods(voice)], _, without=_AT_HAND),
        blocks=blocks,
    )


def by_delivery(voice: OrderVoice) -> list[list[Row]]:
    """Group the order's rows by delivery day and supplier."""
    return [list(one.rows) for one in deliveries(voice.order)]


def _blocks(voice: OrderVoice) -> Iterator[BuyBlock]:
    _, before = voice.words, voice.order.before
    changing = bool(before.placings)
    for one in grouped(voice.order.added, voice.shared):
        yield _block(voice, one.rows, _("Add") if changing else "")
    for one in grouped(before.to_cancel, voice.shared):
        yield _block(voice, one.rows, _("Cancel"))
    for one in grouped(before.not_coming, voice.shared):
        yield _block(voice, one.rows, _("Will not come"), on_its_way=True)
    for one in grouped(before.rows, voice.shared):
        days = dict.fromkeys(row.placed for row in one.rows if row.placed)
        said = voice.voice.listed(tuple(voice.day(day) for day in days))
        yield _block(voice, one.rows, _("Ordered {days}", days=said), on_its_way=True)


def _notes(voice: OrderVoice) -> tuple[str, ...]:
    _, order = voice.words, voice.order
    late = "; ".join(voice.name(thing) for thing in order.late)
    nobody = "; ".join(voice.name(thing) for thing in order.missing)
    said = (
        late
        and _(
            "Made as if there were no lead days, because nobody can bring this in time: {names}.", names=late
        ),
        nobody and _("Nobody sells this on the day, and it is not on the list: {names}.", names=nobody),
        order.in_hand and _("In hand, and not on the list: {names}.", names=voice.held()),
    )
    return tuple(note for note in said if isinstance(note, str) and note)


def _block(voice: OrderVoice, rows: Sequence[Row], change: str, *, on_its_way: bool = False) -> BuyBlock:
    _ = voice.words
    supplier, arrival = voice.shared.suppliers[rows[0].supplier], rows[0].arrival
    stems = [row for row in rows if row.thing.kind == "stem"]
    due = None if on_its_way else arrival
    return BuyBlock(
        change=change,
        supplier=supplier.name,
        day=voice.day(arrival.day) if arrival else _("day to agree"),
        order_by=voice.day(due.order_by) if due else "",
        after_due="" if on_its_way else _after_due(voice, arrival),
        passed=due is not None and not due.can_come(voice.today),
        ways=" · ".join(way for way in (supplier.phone, supplier.email) if way),
        comes=_comes(voice, supplier),
        packs_title=_("Bunches") if len(stems) == len(rows) else _("Packs"),
        holds_title=_("Stems") if len(stems) == len(rows) else _("Hold"),
        rows=tuple(_row(voice, row) for row in rows),
        foot=_foot(voice, stems, sum(row.packs for row in rows if row.thing.kind == "good")),
    )


def _after_due(voice: OrderVoice, arrival: Arrival | None) -> str:
    if arrival is None:
        return voice.words("No delivery day falls where it should: ask them.")
    return voice.words("({day} is closed)", day=voice.day(arrival.closed)) if arrival.closed else ""


def _comes(voice: OrderVoice, supplier: Supplier) -> str:
    _ = voice.words
    hours = supplier.hours.replace("-", "–") if supplier.hours else ""
    there = ", ".join(filter(None, (supplier.where, hours)))
    if supplier.brings:
        how = _("They bring it, {hours}", hours=hours) if hours else _("They bring it")
    else:
        how = there if supplier.brings is None else _("Fetch: {where}", where=there)
    number = _("customer {number}", number=supplier.customer) if supplier.customer else ""
    return " · ".join(part for part in (how, number) if part)


def _row(voice: OrderVoice, row: Row) -> BuyRow:
    _ = voice.words
    size, amount, about, sold_as = holds(voice, row)
    ours = voice.name(row.thing)
    opening = _opening(voice, voice.shared.stems[row.thing.id]) if row.thing.kind == "stem" else ""
    under = [ours, opening] if sold_as else [opening]
    return BuyRow(
        packs=str(row.packs),
        holds=_("of about {size}", size=size) if about else _("of {size}", size=size),
        sum=f"={NB}{amount}",
        sold_as=sold_as or ours,
        ours=" · ".join(part for part in under if part),
    )


def holds(voice: OrderVoice, row: Row) -> tuple[str, str, bool, str]:
    """Say what one pack holds and what all hold, whether that is about so much, and the supplier's words."""
    lot = row.bought.lot
    if row.thing.kind == "stem":
        offer = voice.shared.stems[row.thing.id].offers[lot.index]
        return str(offer.bunch.stems), str(int(row.amount)), offer.bunch.about, offer.sold_as or ""
    pack = voice.shared.goods[row.thing.id].packs[lot.index]
    size: Length | int = pack.length or pack.pieces or 0
    total = Length(row.amount, "m").to(size.unit) if isinstance(size, Length) else int(row.amount)
    return voice.amount(size), voice.amount(total), False, pack.sold_as or ""


def _opening(voice: OrderVoice, stem: Stem) -> str:
    _, opens = voice.words, stem.opens
    if opens is None:
        return ""
    most = opens.least if opens.most is None else opens.most
    if most == 0:
        return _("take open")
    if most == opens.least:
        return _.plural("take tight: opens in {n} day", "take tight: opens in {n} days", most)
    return _("take tight: opens in {least}–{most} days", least=opens.least, most=most)


def _foot(voice: OrderVoice, stems: Sequence[Row], packs: int) -> str:
    _ = voice.words
    bunches = sum(row.packs for row in stems)
    in_all = sum(int(row.amount) for row in stems)
    said = (
        bunches and _.plural("{n} bunch", "{n} bunches", bunches),
        in_all and _.plural("{n} stem", "{n} stems", in_all),
        packs and _.plural("{n} pack", "{n} packs", packs),
    )
    return ", ".join(part for part in said if part)
