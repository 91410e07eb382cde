"""What was placed on which day, and what there is to add or to cancel, in sentences."""

from collections.abc import Iterable, Iterator
from math import ceil

from sitegen.order.market import Thing
from sitegen.order.passing import Passed
from sitegen.order.placed import Bought, Placed, Placing
from sitegen.order.together import Together
from sitegen.render.order_voice import OrderVoice
from sitegen.values.length import Length


def standing_of(voice: OrderVoice) -> Iterator[str]:
    """Say how a placed order stands, and what is to be done now; nothing where none was placed."""
    _, order, before = voice.words, voice.order, voice.order.before
    for i, placing in enumerate(before.placings):
        yield _placed(voice, placing, first=i == 0)
    if not before.placings:
        return
    yield from _stand_ins(voice)
    add = packs_of(voice, ((row.thing.kind, row.packs) for row in order.added))
    cancel = packs_of(voice, ((row.thing.kind, row.packs) for row in before.to_cancel))
    lost = packs_of(voice, ((row.thing.kind, row.packs) for row in before.not_coming))
    if add:
        yield _("To add now: {packs}.", packs=add)
    if cancel:
        yield _("To cancel now: {packs}.", packs=cancel)
    if lost:
        yield _("Will not come, and is not to be paid: {packs}.", packs=lost)
    for name in before.short:
        supplier = voice.shared.suppliers[name].name
        yield _("What is left at {supplier} is below its minimum order: ask whether they still bring it.",
                supplier=supplier)  # fmt: skip
    if not add and not cancel and not lost:
        yield _("There is nothing to add and nothing to cancel.")


def passed_on(voice: OrderVoice, made: Together) -> Iterator[str]:
    """Say what each event has to spare and which takes it over."""
    names = [order.priced.folder.event.event for order in made.orders]
    for giver, taker in dict.fromkeys((one.giver, one.taker) for one in made.passed):
        mine = [one for one in made.passed if (one.giver, one.taker) == (giver, taker)]
        told = "; ".join(f"{_much(voice, one)} {voice.name(one.thing)}" for one in mine)
        yield voice.words(
            "Not bought again, as {taker} takes over what {giver} has to spare: {things}.",
            taker=names[taker], giver=names[giver], things=told,
        )  # fmt: skip


def _much(voice: OrderVoice, one: Passed) -> str:
    length = one.holding.bought.length
    return voice.amount(Length(one.amount, "m").to(length.unit)) if length else str(int(one.amount))


def _stand_ins(voice: OrderVoice) -> Iterator[str]:
    """Name what was placed and does not come, with its reason, also once that is recorded."""
    _, order = voice.words, voice.order
    placed = {row.thing for placing in order.before.placings for row in placing.body.rows}
    stood = (one for portion in order.portions for one in portion.made.stood_in)
    for one in dict.fromkeys(stood):
        if Thing("stem", one.old) in placed & order.lost:
            old, new = (voice.name(Thing("stem", name)) for name in (one.old, one.new))
            yield (
                _("{old} does not come ({why}): {new} stands in for it.", old=old, new=new, why=one.why)
                if one.why
                else _("{old} does not come: {new} stands in for it.", old=old, new=new)
            )


def packs_of(voice: OrderVoice, counts: Iterable[tuple[str, int]]) -> str:
    """Count bunches of stems and packs of goods, by their kind: `14 bunches, 2 packs`; empty for none."""
    _, of = voice.words, {"stem": 0, "good": 0}
    for kind, packs in counts:
        of[kind] += packs
    said = (
        of["stem"] and _.plural("{n} bunch", "{n} bunches", of["stem"]),
        of["good"] and _.plural("{n} pack", "{n} packs", of["good"]),
    )
    return ", ".join(part for part in said if part)


def _placed(voice: OrderVoice, placing: Placing, *, first: bool) -> str:
    _, body, day = voice.words, placing.body, voice.date(placing.day)
    own = [row for row in body.rows if not row.bought_for]
    bought = packs_of(voice, ((row.kind, row.packs) for row in own))
    suppliers = dict.fromkeys(row.supplier for row in own)
    who = voice.voice.listed(tuple(voice.shared.suppliers[name].name for name in suppliers))
    others = tuple(_among_events(voice, body))
    if first and not others:
        return _("Placed on {day}: {packs}, from {suppliers}.", day=day, packs=bought, suppliers=who)
    said = [_("added {packs}, from {suppliers}", packs=bought, suppliers=who)] if bought else []
    gone = _cancelled(voice, body)
    said += [_("cancelled {packs}", packs=gone)] if gone else []
    said += others
    if first:
        return _("Placed on {day}: {changes}.", day=day, changes=", ".join(said))
    return _("Changed on {day}: {changes}.", day=day, changes=", ".join(said))


def _among_events(voice: OrderVoice, body: Placed) -> Iterator[str]:
    """Say what was taken over from other events, and what was passed on to them."""
    _, taken = voice.words, [row for row in body.rows if row.bought_for]
    if taken:
        packs = packs_of(voice, ((row.kind, row.packs) for row in taken))
        events = tuple(dict.fromkeys(row.bought_for or "" for row in taken))
        yield _("taken over {packs} from {events}", packs=packs, events=voice.voice.listed(events))
    if body.given:
        events = tuple(dict.fromkeys(one.event for one in body.given))
        yield _("passed on what was to spare to {events}", events=voice.voice.listed(events))


def _cancelled(voice: OrderVoice, body: Placed) -> str:
    """Count what was cancelled; of packs that are shared with others, as many as this event's part fills."""
    rows = [placing.body.rows for placing in voice.order.before.placings]
    gone = ((rows[one.placing][one.row], one.packs) for one in body.cancelled)
    return packs_of(voice, ((row.kind, min(packs, _filled(row))) for row, packs in gone))


def _filled(row: Bought) -> int:
    return ceil(row.amount / row.size)
