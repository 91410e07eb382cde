"""Cautions on the studio's sheets: what it is, then who decides. Pointers, never advice of ours."""

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from sitegen.render.order_voice import OrderVoice, parted
from sitegen.render.words import Words

Marked: TypeAlias = list[tuple[str, tuple[str, ...]]]
"""Names, and the cautions each carries."""

_HARM = ("cats", "dogs", "people")


def of_stems(voice: OrderVoice) -> Marked:
    """Give the stems of the order by their kinds, and the cautions each carries."""
    return _merged(
        (parted(voice.shared.stems[id_].name).kind, voice.shared.stems[id_].cautions)
        for id_ in voice.order.need.stems
    )


def of_goods(voice: OrderVoice) -> Marked:
    need = voice.order.need
    return [
        (voice.shared.goods[id_].name, voice.shared.goods[id_].cautions) for id_ in (*need.goods, *need.hire)
    ]


def of_pieces(voice: OrderVoice) -> Marked:
    made = (voice.pieces[portion.id] for portion in voice.order.portions if portion.copies)
    return [(piece.piece, piece.cautions) for piece in made]


def cares(marked: Marked, words: Words, without: Iterable[str] = ()) -> tuple[str, ...]:
    """Say each kind of caution once, with all that carry it; *without* leaves out what another sheet says."""
    left_out = frozenset(without)
    lines = [*_harmful(marked, words, left_out), *_others(marked, words, left_out.union(_HARM))]
    return tuple(lines)


def _merged(marked: Iterable[tuple[str, tuple[str, ...]]]) -> Marked:
    kinds: dict[str, dict[str, None]] = {}
    for name, cautions in marked:
        kinds.setdefault(name, {}).update(dict.fromkeys(cautions))
    return [(name, tuple(cautions)) for name, cautions in kinds.items()]


def _harmful(marked: Marked, words: Words, without: frozenset[str]) -> Iterator[str]:
    """Stems that harm the same ones stand together, so that no name is read twice."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for name, cautions in marked:
        harmed = tuple(kind for kind in _HARM if kind in cautions and kind not in without)
        if harmed:
            alike.setdefault(harmed, []).append(name)
    for harmed, names in alike.items():
        yield words(
            "Listed as harmful to {whom}: {names}. In doubt a poison line, a vet or a doctor decides.",
            whom=", ".join(words(kind) for kind in harmed),
            names=", ".join(names),
        )


def _others(marked: Marked, words: Words, without: frozenset[str]) -> Iterator[str]:
    told = _told(words)
    kinds = dict.fromkeys(kind for _, cautions in marked for kind in cautions)
    for kind in kinds:
        if kind not in without:
            names = "; ".join(name for name, cautions in marked if kind in cautions)
            said = told.get(kind, words("{kind}: {names}. Who answers for the place decides."))
            yield said.format(kind=kind, names=names)


def _told(_: Words) -> dict[str, str]:
    return {
        "thorns": _("Thorns: {names}. Your workplace rules say what hands need."),
        "sap": _("Sap that can irritate: {names}. Your workplace rules decide; for skin, a doctor."),
        "pollen": _("Pollen: {names}. For allergies a doctor decides."),
        "scent": _("Strong scent: {names}. Those who will sit near it decide."),
        "food": _("Near food: {names}. The baker or caterer and the local food code decide."),
        "flame": _("Near open flame: {names}. The venue and the local fire code decide whether and how."),
        "ladder": _("Hung or up high: {names}. The venue, local rules and a licensed rigger decide how."),
        "wind": _("In wind: {names}. The venue decides whether it may stand."),
        "magnet": _("Magnets: {names}. With a pacemaker or another implant, a doctor decides."),
        "sharps": _("Pins, wire, blades: {names}. Your workplace rules say how they are kept and counted."),
    }
