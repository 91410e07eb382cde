"""The kinds of flower and leaf that can be drawn, and how a stem's is found where none is named."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

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

# What a genus looks like most, among the kinds; by eye.
_GENERA: Mapping[str, str] = {
    **dict.fromkeys(("rosa", "camellia", "gardenia"), "garden-rose"),
    **dict.fromkeys(("paeonia",), "peony"),
    **dict.fromkeys(("ranunculus", "eustoma", "lisianthus", "trollius"), "ranunculus"),
    **dict.fromkeys(("anemone", "helleborus", "papaver", "cosmos", "clematis", "nigella"), "anemone"),
    **dict.fromkeys(("dahlia", "chrysanthemum", "zinnia", "protea"), "dahlia"),
    **dict.fromkeys(("dianthus", "tagetes", "centaurea", "scabiosa", "allium", "craspedia"), "carnation"),
    **dict.fromkeys(("hydrangea", "viburnum", "hortensia"), "hydrangea"),
    **dict.fromkeys(("tulipa", "crocus", "fritillaria"), "tulip"),
    **dict.fromkeys(
        ("lilium", "hippeastrum", "alstroemeria", "amaryllis", "freesia", "zantedeschia"), "lily"
    ),
    **dict.fromkeys(("iris", "narcissus", "hemerocallis", "orchis", "phalaenopsis", "cymbidium"), "lily"),
    **dict.fromkeys(("tanacetum", "matricaria", "leucanthemum", "bellis", "gerbera", "helianthus"), "daisy"),
    **dict.fromkeys(("rudbeckia", "aster", "symphyotrichum", "chamaemelum", "argyranthemum"), "daisy"),
    **dict.fromkeys(("delphinium", "consolida", "antirrhinum", "matthiola", "digitalis"), "delphinium"),
    **dict.fromkeys(("gladiolus", "lupinus", "campanula", "penstemon", "hyacinthus"), "delphinium"),
    **dict.fromkeys(("gypsophila", "chamelaucium", "limonium", "ammi", "daucus", "lathyrus"), "filler"),
    **dict.fromkeys(("astrantia", "phlox", "myosotis", "muscari", "convallaria", "orlaya"), "filler"),
    **dict.fromkeys(("astilbe", "celosia", "solidago", "veronica", "liatris", "lavandula"), "plume"),
    **dict.fromkeys(("syringa", "amaranthus", "spiraea", "buddleja", "cotinus"), "plume"),
    **dict.fromkeys(("hypericum", "ilex", "symphoricarpos", "callicarpa", "rubus", "sambucus"), "berries"),
    **dict.fromkeys(("eucalyptus",), "eucalyptus"),
    **dict.fromkeys(("olea", "salix", "rosmarinus", "salvia", "leucadendron", "artemisia"), "olive"),
    **dict.fromkeys(("ruscus", "danae", "magnolia", "laurus", "pittosporum", "myrtus", "buxus"), "ruscus"),
    **dict.fromkeys(("prunus", "fagus", "quercus", "carpinus", "mentha"), "ruscus"),
    **dict.fromkeys(("rumohra", "nephrolepis", "polystichum", "asparagus", "pteridium"), "fern"),
    **dict.fromkeys(("hedera", "vitis", "jasminum", "passiflora", "smilax"), "ivy"),
}
_ROLES: Mapping[str, str] = {
    "line": "delphinium",
    "mass": "ranunculus",
    "form": "garden-rose",
    "filler": "filler",
    "foliage": "ruscus",
}
# A rose this wide or less is drawn as a spray; common practice, no source.
_SPRAY_INCHES = 2


def kind_of(draw: str | None, latin: str | None, role: str, bloom: float | None) -> str:
    """Give the kind that a stem names, else the one its Latin name means, else that of its role.

    A Latin name means nothing that its role rules out: leaf is drawn as leaf. *bloom* is in inches.
    """
    if draw in HABITS:
        return str(draw)
    words = (latin or "").lower().replace("×", " ").split()
    found = _GENERA.get(words[0]) if words else None
    if found is None or (HABITS[found].group == "sprig") != (role == "foliage"):
        return _ROLES[role]
    if found == "garden-rose" and bloom is not None and bloom <= _SPRAY_INCHES:
        return "spray-rose"
    return found
