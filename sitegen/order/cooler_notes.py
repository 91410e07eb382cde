"""What of an event must not stand together before it is built in: one warning an event, with its stems."""

from collections.abc import Iterator, Mapping, Sequence

from sitegen.model.catalogue import Stem
from sitegen.order.cooler import COLD, WARM, Cooler, cooler
from sitegen.order.order import Order
from sitegen.values.node import place_at
from sitegen.values.problem import Problem

_MOST_NAMED = 3  # kinds in one list; the days sheet names them all


def cooler_notes(order: Order) -> tuple[Problem, ...]:
    """Warn where kinds that stand cold and warm, or that give ethylene off and suffer from it, meet.

    Chilling: Florists' Review, "The journey to fresh" (see `cooler.WARM`). Ethylene, harmful from about 100
    parts in a billion: American Floral Endowment, floristsreview.com/beware-of-the-silent-flower-killer. What
    a stem is, is the catalogue's word; what it says nothing of stands cold.
    """
    found, stems = cooler(order), order.priced.shared.stems
    said = [*_mixed(found, stems, metric=order.priced.shared.studio.metric), *_meeting(found, stems)]
    if not said:
        return ()
    both = found.warm and found.cold
    where = (found.warm[0], "store") if both else (found.meetings[0].giver, "ethylene")
    return (
        Problem(
            "cooler-apart",
            place_at(order.priced.shared.nodes.stems, where),
            "; ".join(said),
            "A cooler chills tropical kinds, and where ethylene gathers sensitive ones drop and wither.",
            "keep them apart, at least in a corner of their own; the days sheet names them all",
            "warning",
            event=order.priced.folder.id,
        ),
    )


def _mixed(found: Cooler, stems: Mapping[str, Stem], *, metric: bool) -> Iterator[str]:
    if found.warm and found.cold:
        yield f"to keep at {WARM.degrees(metric=metric)}: {_named(found.warm, stems)}"
        yield f"at {COLD.degrees(metric=metric)}: {_named(found.cold, stems)}"


def _meeting(found: Cooler, stems: Mapping[str, Stem]) -> Iterator[str]:
    if found.meetings:
        givers = _named([one.giver for one in found.meetings], stems)
        sufferers = _named(found.meetings[0].sufferers, stems)
        first = min(one.first for one in found.meetings)
        yield f"ethylene from {givers} reaches {sufferers} from {first:%A} {first} on"


def _named(ids: Sequence[str], stems: Mapping[str, Stem]) -> str:
    """Name kinds, each once: `Rose, Peony, Stock and 3 more`."""
    kinds = list(dict.fromkeys(stems[id_].name.partition(",")[0] for id_ in ids))
    more = len(kinds) - _MOST_NAMED
    if more > 1:
        return f"{', '.join(kinds[:_MOST_NAMED])} and {more} more"
    return " and ".join(part for part in (", ".join(kinds[:-1]), kinds[-1]) if part)
