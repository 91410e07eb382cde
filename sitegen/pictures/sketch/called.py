"""Which kinds a flower or leaf may be by its name in Latin or in English; what looks like what, by eye."""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

# What a genus looks like most, among the kinds.
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

# What florists call them, where it is not the genus: names of several words first.
_NAMES: tuple[tuple[str, str], ...] = (
    ("spray-rose", "spray rose|sweetheart rose|mini rose"),
    ("berries", "rose ?hip|privet"),
    ("anemone", "christmas rose|lenten rose|hellebore|windflower|poppy|poppies|love-in-a-mist"),
    ("filler", "lily of the valley|sweet ?pea|wax ?flower|baby.?s breath|gyp|queen anne.?s lace"),
    ("filler", "bishop.?s flower|sea lavender|statice|forget-me-not|masterwort|rice flower"),
    ("daisy", "spray chrysanthemum|spray mum|daisy|daisies|feverfew|sunflower|chamomile"),
    ("dahlia", "mum"),
    ("carnation", "carnation|sweet william|scabious|cornflower|marigold|billy button|pincushion"),
    ("peony", "peony|peonies"),
    ("ranunculus", "ranunculi|buttercup"),
    ("hydrangea", "snowball|guelder rose"),
    ("tulip", "tulip"),
    ("lily", "lily|lilies|calla|daffodil|orchid"),
    ("delphinium", "larkspur|snapdragon|stock|foxglove|bellflower|canterbury bell|lupin"),
    ("plume", "amaranth|goldenrod|smoke ?bush"),
    ("ruscus", "laurel|bay|box|boxwood|myrtle|beech|oak|hornbeam|mint"),
    ("fern", "fern|bracken"),
    ("ivy", "ivy|vine|jasmine"),
    ("olive", "willow|rosemary|sage|dusty miller"),
    ("eucalyptus", "gum"),
)
# Words that are colours too come last: a rose peony, a mulberry dahlia, an olive hydrangea.
_COLOURS: tuple[tuple[str, str], ...] = (
    ("garden-rose", "rose"),
    ("plume", "lavender|lilac"),
    ("olive", "olive"),
    ("berries", r"\w*berry|\w*berries"),
)


def of_latin(latin: str) -> tuple[str, ...]:
    """Give the kind that a Latin name means by its genus, if it is known.

    >>> of_latin("× Chamelaucium uncinatum"), of_latin("Nova planta")
    (('filler',), ())
    """
    return tuple(_GENERA[genus] for genus in latin.lower().replace("×", " ").split()[:1] if genus in _GENERA)


@lru_cache(maxsize=4096)
def of_name(name: str) -> tuple[str, ...]:
    """Give the kinds that a name in English may mean, the likeliest first; a comma ends what is read of it.

    >>> of_name("Dahlia, plum"), of_name("Peony, rose"), of_name("Rose peony"), of_name("Nova")
    (('dahlia',), ('peony',), ('peony', 'garden-rose'), ())
    """
    return tuple(_meant(name.partition(",")[0].lower()))


def _meant(name: str) -> Iterator[str]:
    yield from (kind for kind, words in _NAMES if _says(name, words))
    for word in re.findall(r"\w+", name):
        genus = word if word in _GENERA else word.removesuffix("s")
        if genus in _GENERA:
            yield _GENERA[genus]
    yield from (kind for kind, words in _COLOURS if _says(name, words))


def _says(name: str, words: str) -> bool:
    return re.search(rf"\b(?:{words})s?\b", name) is not None
