"""From a piece as the florist wrote it to the brief of its sketch: kinds, sizes, form, vessel, ribbon."""

from collections.abc import Mapping
from fractions import Fraction

from sitegen.model.catalogue import Stem as Bought
from sitegen.model.content import Shared
from sitegen.model.piece import Piece
from sitegen.pictures.sketch.brief import Brief, Stem
from sitegen.pictures.sketch.form import Goods, at_first, form_of, names_of, says, vessel_in
from sitegen.pictures.sketch.kinds import HABITS, kind_of
from sitegen.values.bag import Bag
from sitegen.values.length import Length

# The most stems that are drawn: with more, each line is drawn in proportion.
MOST = 400
# Blooms outside these are drawn as if they were at the bounds, in inches.
_BLOOMS = (0.5, 10.0)
# A spire is seen from below, foreshortened; by eye.
_SPIRE = 0.8
_TRAIL = Fraction(114, 100)  # metres of ribbon, 1¼ yd, from which on its ends hang long
_TWINE = "#cdb894"
_CUFFS = "cuff|wrist|corsage"
_RIBBON = "ribbon|silk|velvet|satin|lace|linen|twine|raffia"
# Colours by the words that goods are called by; ours.
_COLOURS: tuple[tuple[str, str], ...] = (
    ("ivory", "#efe6d6"),
    ("cream|champagne|ecru", "#f0e5cd"),
    ("dusky|dusty|mauve", "#b98c90"),
    ("wine|burgundy|bordeaux|oxblood", "#6b1c30"),
    ("blush|rose|pink", "#eccabf"),
    ("peach|apricot|coral", "#f0bd9b"),
    ("terracotta|clay|rust", "#c9a184"),
    ("brass|gold|ochre|mustard|yellow", "#c9a961"),
    ("copper|bronze", "#b87a56"),
    ("dark|black|charcoal|slate", "#4a4743"),
    ("sage|olive|green|moss", "#a3b095"),
    ("blue|navy|indigo", "#8497b5"),
    ("lilac|lavender|purple", "#b3a3c4"),
    ("red|scarlet", "#a8323a"),
    ("zinc|silver|pewter|grey|gray|steel", "#b3b6b8"),
    ("stone|concrete|marble", "#cbc4b6"),
    ("white", "#f5f2ea"),
    ("wood|reed|wicker|willow|rattan|natural|linen|twine|brown", "#c2a678"),
)


def described(piece: Piece, recipe: Bag, goods: Goods, shared: Shared) -> Brief:
    """Describe one piece, made of *recipe* and *goods* as they are for its answers."""
    held = dict(zip(names_of(goods, shared), goods.values(), strict=True))
    vessel, named = vessel_in(held)
    ribbon, metres = _ribbon(held)
    return Brief(
        form=form_of(piece, vessel_in(names_of(at_first(piece, goods), shared))[0]),
        stems=_stems(recipe, shared.stems),
        ribbon=ribbon,
        trail=metres >= _TRAIL,
        vessel=vessel,
        ware=_colour(named),
        cuff=any(says(name, _CUFFS) for name in (*held, piece.piece.lower())),
    )


def _stems(recipe: Bag, stems: Mapping[str, Bought]) -> tuple[Stem, ...]:
    total = sum(recipe.values())
    share = Fraction(MOST) / total if total > MOST else Fraction(1)
    return tuple(_stem(stems[id_], n * share) for id_, n in list(recipe.items())[:MOST])


def _stem(bought: Bought, amount: Fraction) -> Stem:
    bloom = float(bought.bloom.to("in").amount) if bought.bloom else None
    kind = kind_of(bought.draw, bought.latin, bought.name, bought.role, bloom)
    habit = HABITS[kind]
    inches = habit.inches
    if bloom is not None and habit.group == "head":
        inches = min(max(bloom, _BLOOMS[0]), _BLOOMS[1])
    elif bloom is not None and habit.group == "spire":
        inches = min(max(bloom * _SPIRE, 4.0), 16.0)
    return Stem(kind, bought.colour, inches, amount, bought.role)


def _ribbon(held: Mapping[str, Fraction | Length]) -> tuple[str, Fraction]:
    """Find what binds the stems: its colour, and how many metres there are of it."""
    for name, n in held.items():
        if isinstance(n, Length) and says(name, _RIBBON):
            return _colour(name) or _TWINE, n.metres
    return _TWINE, Fraction(0)


def _colour(name: str) -> str:
    return next((colour for words, colour in _COLOURS if says(name, words)), "")
