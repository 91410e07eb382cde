"""What stands in the cooler and what does not, in words."""

from collections.abc import Iterable

from sitegen.order.cooler import COLD, WARM, Meeting, Range, cooler
from sitegen.render.order_voice import NB, OrderVoice, parted


def cooler_lines(voice: OrderVoice) -> tuple[str, ...]:
    """Say where the stems of the order stand, who gives ethylene off, and who suffers from it."""
    _, found = voice.words, cooler(voice.order)
    said = []
    if found.cold:
        all_of_it = _("All kinds of this event stand") if not found.warm else _("Most kinds stand")
        said.append(_("{who} at {range}.", who=all_of_it, range=kept_at(COLD, voice)))
    if found.warm:
        said.append(_("Warm, apart from the cold ones, at {range}: {kinds}.",
                      range=kept_at(WARM, voice), kinds=_kinds(voice, found.warm)))  # fmt: skip
    elif found.cold:
        said.append(_("None needs the warm room."))
    said += [_meeting(voice, one) for one in found.meetings]
    if found.sufferers and not found.meetings:
        said.append(_("Sensitive to ethylene: {kinds}.", kinds=_kinds(voice, found.sufferers)))
    if found.sufferers:
        said.append(_("Ripening fruit, exhaust, smoke and rotting stems give it off too: keep them out."))
    return (" ".join(said),) if said else ()


def kept_at(one: Range, voice: OrderVoice) -> str:
    """Print a range: `34–38 °F (1–3 °C), 75–85 % humidity`, the studio's own scale first."""
    _, said = voice.words, one.degrees(metric=voice.shared.studio.metric)
    if one.humidity:
        least, most = one.humidity
        said = _("{degrees}, {least}–{most}% humidity", degrees=said, least=least, most=most)
    return said.replace(" °", f"{NB}°")


def _meeting(voice: OrderVoice, one: Meeting) -> str:
    _ = voice.words
    return _(
        "{giver} gives off ethylene, and from {first} to {last} stands here with {kinds}, which suffer from "
        "it: give it a corner of its own.",
        giver=parted(voice.shared.stems[one.giver].name).kind,
        first=voice.weekday(one.first),
        last=voice.weekday(one.last),
        kinds=_kinds(voice, one.sufferers),
    )


def _kinds(voice: OrderVoice, ids: Iterable[str]) -> str:
    """Name kinds once, without their colours."""
    names = dict.fromkeys(parted(voice.shared.stems[id_].name).kind for id_ in ids)
    return voice.voice.listed(tuple(names))
