"""What was placed on which day, and what there is to add or to cancel, in sentences."""

from collections.abc import Iterable, Iterator

from sitegen.order.placed import Placed, Placing
from sitegen.render.order_voice import OrderVoice


def standing_of(voice: OrderVoice) -> Iterator[str]:
    """Say how a placed order stands, and what is to be done now; nothing where none was placed."""
    _, order, before = voice.words, voice.order, voice.order.before
    for i, placing in enumerate(before.placings):
        yield _placed(voice, placing, first=i == 0)
    if not before.placings:
        return
    add = packs_of(voice, ((row.thing.kind, row.packs) for row in order.added))
    cancel = packs_of(voice, ((row.thing.kind, row.packs) for row in before.cancelled))
    if add:
        yield _("To add now: {packs}.", packs=add)
    if cancel:
        yield _("To cancel now: {packs}.", packs=cancel)
    if not add and not cancel:
        yield _("There is nothing to add and nothing to cancel.")


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
    bought = packs_of(voice, ((row.kind, row.packs) for row in body.rows))
    suppliers = dict.fromkeys(row.supplier for row in body.rows)
    who = voice.voice.listed(tuple(voice.shared.suppliers[name].name for name in suppliers))
    if first:
        return _("Placed on {day}: {packs}, from {suppliers}.", day=day, packs=bought, suppliers=who)
    said = [_("added {packs}, from {suppliers}", packs=bought, suppliers=who)] if bought else []
    gone = _cancelled(voice, body)
    said += [_("cancelled {packs}", packs=gone)] if gone else []
    return _("Changed on {day}: {changes}.", day=day, changes=", ".join(said))


def _cancelled(voice: OrderVoice, body: Placed) -> str:
    rows = voice.order.before.placings
    return packs_of(
        voice, ((rows[gone.placing].body.rows[gone.row].kind, gone.packs) for gone in body.cancelled)
    )
