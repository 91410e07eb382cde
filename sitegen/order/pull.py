"""Which whole stems go into which vase.

A part of a stem is never pulled: each stem is dealt first between the pieces,
then between the copies of a piece.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from sitegen.order.need import Portion
from sitegen.order.sets import VariedSet
from sitegen.values.number import in_parts

_NONE, _HALF = Fraction(0), Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Row:
    """So many stems. `each` is set where several copies share them: what one of them gets.

    These are all copies, or those whose numbers stand in `among`.
    """

    stem: str
    count: int
    each: Fraction | None = None
    among: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Block:
    """What to pull for copies *first* to *last* of a piece, counted from 1.

    The rows are for each of them, or for all of them in one vase where `together`.
    """

    piece: str
    first: int
    last: int
    rows: tuple[Row, ...]
    together: bool = False

    @property
    def copies(self) -> int:
        return self.last - self.first + 1

    @property
    def stems(self) -> int:
        return sum(row.count for row in self.rows)


def pull(
    portions: Sequence[Portion], totals: Mapping[str, Mapping[str, int]], sets: Mapping[str, VariedSet]
) -> tuple[Block, ...]:
    """Say what to pull for *portions*, block after block in the order of the pieces.

    *totals* are what `between_pieces` gives: of each stem as many as all pieces
    take, rounded up once, so never more than the order needs. The copies of a
    varied set get what its deal in *sets* says, those of any other piece as
    nearly the same as whole stems come.
    """
    return tuple(
        block
        for portion in portions
        if portion.copies
        for block in _blocks(portion, totals[portion.id], sets.get(portion.id))
    )


def pulled_stems(blocks: Iterable[Block]) -> dict[str, int]:
    """Count all that is pulled for *blocks*, by stem."""
    counts: dict[str, int] = {}
    for block in blocks:
        for row in block.rows:
            times = 1 if block.together else block.copies
            counts[row.stem] = counts.get(row.stem, 0) + row.count * times
    return counts


def between_pieces(portions: Sequence[Portion]) -> dict[str, dict[str, int]]:
    """Share each stem's total, rounded up once, by largest remainder; ties go to the earlier piece."""
    made = [portion for portion in portions if portion.copies]
    dealt: dict[str, dict[str, int]] = {portion.id: {} for portion in made}
    for stem in dict.fromkeys(name for portion in made for name in portion.made.recipe):
        takers = [portion for portion in made if stem in portion.made.recipe]
        parts = _whole([portion.made.recipe[stem] * portion.copies for portion in takers])
        for portion, part in zip(takers, parts, strict=True):
            dealt[portion.id][stem] = part
    return {portion.id: {stem: dealt[portion.id][stem] for stem in portion.made.recipe} for portion in made}


def between_copies(totals: Mapping[str, int], copies: int) -> list[dict[str, int]]:
    """Share whole stems between alike copies, the extra ones to those with the fewest stems so far."""
    vases: list[dict[str, int]] = [{} for _ in range(copies)]
    for stem, total in totals.items():
        each, extra = divmod(total, copies)
        fewest = sorted(range(copies), key=lambda i: (sum(vases[i].values()), i))
        for place, i in enumerate(fewest):
            vases[i][stem] = each + (place < extra)
    return vases


def _whole(amounts: Sequence[Fraction]) -> list[int]:
    """Round each amount down or up so that all add up to their sum, rounded up."""
    exact, over = in_parts(amounts)
    wholes = [part // over for part in exact]
    left = -(-sum(exact) // over) - sum(wholes)
    for i in sorted(range(len(wholes)), key=lambda i: (-(exact[i] % over), i))[:left]:
        wholes[i] += 1
    return wholes


def _blocks(portion: Portion, totals: Mapping[str, int], varied: VariedSet | None) -> list[Block]:
    if varied is not None and not portion.made.by_couple:
        vases = [_own(portion, varied, i) for i in range(portion.copies)]
        rows = list(_shared_in_set(totals, varied))
    else:
        shared = [stem for stem in totals if _is_shared(portion, stem)]
        own = {stem: total for stem, total in totals.items() if stem not in shared}
        vases = between_copies(own, portion.copies) if own else []
        rows = [Row(stem, totals[stem], portion.made.recipe[stem]) for stem in shared if totals[stem]]
    blocks = _alike(portion.id, vases)
    if rows:
        blocks.append(Block(portion.id, 1, portion.copies, tuple(rows), together=True))
    return blocks


def _is_shared(portion: Portion, stem: str) -> bool:
    """Less than one for each of several cannot be dealt to one of them; the couple sort theirs themselves."""
    return portion.copies > 1 and (portion.made.by_couple or portion.made.recipe[stem] < 1)


def _own(portion: Portion, varied: VariedSet, copy: int) -> dict[str, int]:
    """The whole stems of one copy of a varied set."""
    stems = varied.stems(copy)
    whole = {stem: n // 1 for stem, n in stems.items() if stem not in varied.kept or n.denominator == 1}
    return {stem: whole[stem] for stem in portion.made.recipe if whole.get(stem)}


def _shared_in_set(totals: Mapping[str, int], varied: VariedSet) -> Iterator[Row]:
    """What all copies have a part of, and halves: two of them are one stem to pull."""
    for stem, total in totals.items():
        if stem in varied.kept:
            if varied.kept[stem].denominator > 1 and total:
                yield Row(stem, total, varied.kept[stem])
            continue
        halved = [i + 1 for i, copy in enumerate(varied.copies) if copy.get(stem, _NONE).denominator > 1]
        if halved:
            yield Row(stem, len(halved) // 2, _HALF, tuple(halved))


def _alike(piece: str, vases: list[dict[str, int]]) -> list[Block]:
    """Number the copies; those with the same stems stand side by side already, as they were dealt."""
    blocks: list[Block] = []
    done = 0
    for rows, alike in groupby(tuple(Row(stem, n) for stem, n in vase.items() if n) for vase in vases):
        copies = len(list(alike))
        if rows:
            blocks.append(Block(piece, done + 1, done + copies, rows))
        done += copies
    return blocks
