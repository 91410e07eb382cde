"""What differs between two proposals, for those who see and pay them.

Everything here is made from what was shown, so nothing private can come in.
"""

from collections.abc import Callable, Iterator, Mapping
from itertools import groupby

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import Table
from sitegen.choices.totals import Totals, totals
from sitegen.records.change import Difference, EventFacet, PieceChange, Step, SumChange
from sitegen.records.differing import Side, changed, come, gone, step
from sitegen.records.shown import Shown


def difference(was: Shown, now: Shown) -> Difference:
    """Give all that differs, pieces in the order of the new proposal and then those that are gone.

    Empty if and only if the two are equal.
    """
    before, after = sums_of(was), sums_of(now)
    found = Difference(
        pieces=tuple(_pieces(was, now)),
        sums=tuple(_sums(was, now, before, after)),
        total=Step(before.total, after.total),
        facets=tuple(_facets(was, now)),
        names=Step(was.names, now.names),
        valid=step(was.valid, now.valid),
        closes=step(was.closes, now.closes),
        least=step(was.least, now.least),
    )
    return _with_rest(found) if found.empty and was != now else found


def sums_of(shown: Shown) -> Totals:
    """Give the sums at what the proposal suggests."""
    return totals(shown.table, usual_picks(shown.table))


def _with_rest(bare: Difference) -> Difference:
    return Difference(
        bare.pieces, bare.sums, bare.total, ("rest",), bare.names, bare.valid, bare.closes, bare.least
    )


def _pieces(was: Shown, now: Shown) -> Iterator[PieceChange]:
    before = matched(was, now)
    for at in range(len(now.pieces)):
        found = changed(Side(was, before[at]), Side(now, at)) if at in before else come(Side(now, at))
        if found:
            yield found
    kept = set(before.values())
    yield from (gone(Side(was, at)) for at in range(len(was.pieces)) if at not in kept)


def matched(was: Shown, now: Shown) -> dict[int, int]:
    """Say which piece of the new proposal is which of the old: by its id, else by its title."""
    ids = {piece.id: at for at, piece in enumerate(was.pieces)}
    found = {at: ids[piece.id] for at, piece in enumerate(now.pieces) if piece.id in ids}
    taken = set(found.values())
    titles = {piece.title: at for at, piece in enumerate(was.pieces) if at not in taken}
    for at, piece in enumerate(now.pieces):
        if at not in found and piece.title in titles:
            found[at] = titles.pop(piece.title)
    return found


def _sums(was: Shown, now: Shown, before: Totals, after: Totals) -> Iterator[SumChange]:
    yield from _charges(was, now, before, after)
    if was.table.discount or now.table.discount:
        terms = was.table.discount != now.table.discount or was.labels.discount != now.labels.discount
        label = now.labels.discount or was.labels.discount or ""
        found = SumChange("discount", label, _off(was, before), _off(now, after), terms)
        if found.terms or found.was != found.now:
            yield found
    yield from _taxes(was, now, before, after)


def _off(of: Shown, sums: Totals) -> int | None:
    return -sums.discount if of.table.discount else None


def _charges(was: Shown, now: Shown, before: Totals, after: Totals) -> Iterator[SumChange]:
    old, new = ({charge.id: i for i, charge in enumerate(of.table.charges)} for of in (was, now))
    for id_ in (*new, *(id_ for id_ in old if id_ not in new)):
        i, j = old.get(id_), new.get(id_)
        one = None if i is None else (was.table.charges[i], was.labels.charges[i])
        other = None if j is None else (now.table.charges[j], now.labels.charges[j])
        first = None if i is None else before.charges[i]
        then = None if j is None else after.charges[j]
        if one != other or first != then:
            label = (other or one or ("", ""))[1]
            yield SumChange("charge", label, first, then, one != other)


def _taxes(was: Shown, now: Shown, before: Totals, after: Totals) -> Iterator[SumChange]:
    """Rates are told by their names; where the way of taxing changed, each of them is.

    A tax that the prices came to hold, or no longer hold, counts as nothing while they held it.
    """
    way = _way(was.table) != _way(now.table)
    held = was.table.included and now.table.included
    old, new = _by_label(was, before), _by_label(now, after)
    for label in (*new, *(label for label in old if label not in new)):
        one, other = old.get(label), new.get(label)
        if way or one != other:
            terms = way or one is None or other is None or one[0] != other[0]
            first = None if one is None or (was.table.included and not held) else one[1]
            then = None if other is None or (now.table.included and not held) else other[1]
            yield SumChange("tax", label, first, then, terms, held)


def _way(table: Table) -> tuple[bool, bool]:
    return table.included, table.per_line


def _by_label(of: Shown, sums: Totals) -> dict[str, tuple[object, int]]:
    """Rates of one name are told as one."""
    rows = sorted(zip(of.labels.taxes, of.table.rates, sums.tax, strict=True), key=lambda row: row[0])
    grouped = ((label, list(many)) for label, many in groupby(rows, key=lambda row: row[0]))
    found = {label: (tuple(row[1] for row in many), sum(row[2] for row in many)) for label, many in grouped}
    return {label: found[label] for label in dict.fromkeys(of.labels.taxes)}


_SEEN: Mapping[EventFacet, Callable[[Shown], object]] = {
    "names": lambda shown: shown.names,
    "date": lambda shown: shown.date,
    "places": lambda shown: shown.spots,
    "note": lambda shown: shown.note,
    "terms": lambda shown: shown.terms,
    "contact": lambda shown: shown.contact,
    "minded": lambda shown: (
        shown.mind,
        sorted((stem.id, stem.cautions) for stem in shown.stems if stem.cautions),
    ),
    "payments": lambda shown: (shown.table.payments, shown.labels.payments),
    "shown": lambda shown: shown.show_stems,
}


def _facets(was: Shown, now: Shown) -> Iterator[EventFacet]:
    yield from (facet for facet, of in _SEEN.items() if of(was) != of(now))
    if _in_order(was, now) != _in_order(now, was):
        yield "order"


def _in_order(one: Shown, other: Shown) -> list[str]:
    """The ids of pieces that stand in both, as they stand in the one."""
    both = _ids(one) & _ids(other)
    return [piece.id for piece in one.pieces if piece.id in both]


def _ids(shown: Shown) -> frozenset[str]:
    return frozenset(piece.id for piece in shown.pieces)
