"""The kinds of flower and leaf that can be drawn, and how a stem's is found where none is named."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from sitegen.pictures.sketch.called import of_latin, of_name

Group = Literal["head", "spire", "spray", "sprig"]


@dataclass(frozen=True, slots=True)
class Habit:
    """How a kind grows: its group, its usual size in inches, and how many *heads* a stem carries.

    The size is the bloom of a head, and what is seen of the length of anything else; common practice, no
    source.
    """

    group: Group
    inches: float
    heads: int = 1


HABITS: Mapping[str, Habit] = {
    "garden-rose": Habit("head", 3),
    "spray-rose": Habit("head", 1.5, heads=3),
    "peony": Habit("head", 4),
    "ranunculus": Habit("head", 2),
    "anemone": Habit("head", 2.5),
    "dahlia": Habit("head", 4),
    "carnation": Habit("head", 2.5),
    "hydrangea": Habit("head", 6),
    "tulip": Habit("head", 2),
    "lily": Habit("head", 6),
    "daisy": Habit("head", 1.25, heads=3),
    "delphinium": Habit("spire", 9),
    "filler": Habit("spray", 4.5),
    "plume": Habit("spray", 5.5),
    "berries": Habit("spray", 4.5),
    "eucalyptus": Habit("sprig", 7),
    "olive": Habit("sprig", 7),
    "ruscus": Habit("sprig", 7),
    "fern": Habit("sprig", 8),
    "ivy": Habit("sprig", 8),
}
HEADS = frozenset(kind for kind, habit in HABITS.items() if habit.group == "head")

_ROLES: Mapping[str, str] = {
    "line": "delphinium",
    "mass": "ranunculus",
    "form": "garden-rose",
    "filler": "filler",
    "foliage": "ruscus",
}
# A rose this wide or less is drawn as a spray; common practice, no source.
_SPRAY_INCHES = 2


def kind_of(draw: str | None, latin: str | None, name: str, role: str, bloom: float | None) -> str:
    """Give the kind that a stem names, else the one its Latin name means, its name, or its role.

    A name means nothing that its role rules out: leaf is drawn as leaf. *bloom* is in inches.
    """
    if draw in HABITS:
        return str(draw)
    meant = (*of_latin(latin or ""), *of_name(name))
    found = next((kind for kind in meant if (HABITS[kind].group == "sprig") == (role == "foliage")), None)
    if found == "garden-rose" and bloom is not None and bloom <= _SPRAY_INCHES:
        return "spray-rose"
    return found or _ROLES[role]
