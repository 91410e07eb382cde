"""The whole priced snapshot of a revision: enough to price a reply, to compare, and to freeze an approval.

Nothing of the content is needed to read it: what is named in it stands in it.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from sitegen.choices.picks import Picks
from sitegen.choices.table import TablePiece
from sitegen.order.need import Portion
from sitegen.pictures.head import PhotoHead
from sitegen.price.priced import Made, PricedEvent
from sitegen.records.keeping import kept_of
from sitegen.records.kept import Kept
from sitegen.records.plain import plain
from sitegen.records.showing import shown_of
from sitegen.records.shown import Shown


@dataclass(frozen=True, slots=True)
class Snapshot:
    """What the couple were shown, and apart from it what the studio keeps for itself."""

    shown: Shown
    kept: Kept


def snapshot(priced: PricedEvent, heads: Mapping[str, PhotoHead] | None = None) -> Snapshot:
    """Take everything priced of an event; by the *heads* of its photos a new picture is known."""
    digests = {file: head.digest for file, head in (heads or {}).items()}
    return Snapshot(shown_of(priced, digests), kept_of(priced))


def couple_part(snapshot: Snapshot) -> Shown:
    """Give all that the couple may see of a snapshot."""
    return snapshot.shown


def couple_digest(snapshot: Snapshot) -> str:
    """Give a hash in hex that changes whenever what the couple can see or pay does."""
    text = json.dumps(plain(snapshot.shown), ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode(errors="surrogatepass")).hexdigest()


def changed_for_couple(one: Snapshot, other: Snapshot) -> bool:
    """Tell whether the couple see or pay anything else; what only the studio knows does not count."""
    return one.shown != other.shown


def portions(snapshot: Snapshot, picks: Picks) -> tuple[Portion, ...]:
    """Say what is made of each piece at *picks*, extra ones too, as `order.portions` does of content."""
    made = []
    both = zip(snapshot.shown.table.pieces, picks.pieces, strict=True)
    for i, (piece, pick) in enumerate(both):
        if pick.quantity and not pick.out:
            at = index_of(piece, pick.answers)
            copies = pick.quantity + snapshot.shown.pieces[i].extra
            made.append(Portion(piece.id, made_of(snapshot, i, at), copies, snapshot.kept.pieces[i].cost[at]))
    return tuple(made)


def made_of(snapshot: Snapshot, piece: int, at: int) -> Made:
    """Give what goes into one of the piece with that index, for the combination with that index."""
    kept, shown = snapshot.kept.pieces[piece], snapshot.shown.pieces[piece]
    return Made(
        recipe=dict(kept.recipes[kept.recipe_of[at]]),
        goods=dict(kept.goods[kept.goods_of[at]]),
        minutes=kept.minutes[at],
        add=kept.added[at],
        by_couple=shown.by_couple[at],
        kept=kept.same[kept.same_of[at]] if kept.same_of else shown.dealt or (),
    )


def material_cost(snapshot: Snapshot, piece: int) -> Fraction:
    """Give what all that is made of a piece costs at what was suggested, extra ones too. Private, exact."""
    priced = snapshot.shown.table.pieces[piece]
    copies = priced.quantity + snapshot.shown.pieces[piece].extra if priced.quantity else 0
    return copies * snapshot.kept.pieces[piece].cost[index_of(priced, priced.usual)]


def opened(snapshot: Snapshot) -> Shown:
    """Give what was shown with whole recipes and goods in it, for the studio alone."""
    kept = snapshot.kept
    pieces = tuple(
        replace(
            piece,
            recipes=own.recipes,
            recipe_of=own.recipe_of,
            goods=own.goods,
            goods_of=own.goods_of,
        )
        for piece, own in zip(snapshot.shown.pieces, kept.pieces, strict=True)
    )
    return replace(snapshot.shown, pieces=pieces, stems=kept.stems, goods=kept.goods)


def index_of(piece: TablePiece, answers: tuple[int, ...]) -> int:
    """Give the index of the combination of *answers*, the last choice turning fastest."""
    index = 0
    for size, answer in zip(piece.answers, answers, strict=True):
        index = index * size + answer
    return index
