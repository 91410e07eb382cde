"""The catalogue with what was placed in it: an offer that is gone or costs more now was bought as it was."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from sitegen.model.catalogue import Break, Good, Offer, Pack, Stem, Supplier
from sitegen.model.content import Shared
from sitegen.order.buy import Lot
from sitegen.order.placed import Bought
from sitegen.values.amount import Bunch

_GREY = "#8a8a84"  # of a stem that is no longer in the catalogue
Sold = TypeVar("Sold", bound=Offer | Pack)


def with_bought(shared: Shared, bought: Iterable[Bought]) -> tuple[Shared, tuple[Lot, ...]]:
    """Give the catalogue in which each of *bought* has its offer, after those of today, and its lot there."""
    stems, goods, suppliers = dict(shared.stems), dict(shared.goods), dict(shared.suppliers)
    lots = []
    for one in bought:
        suppliers.setdefault(one.supplier, Supplier.model_construct(name=one.supplier_name))
        if one.thing.kind == "stem":
            stem = stems.get(one.id) or Stem.model_construct(
                name=one.name, role="filler", colour=_GREY, offers=()
            )
            offers, index = _among(stem.offers, _as_offer(one))
            stems[one.id] = stem.model_copy(update={"offers": offers})
        else:
            good = goods.get(one.id) or Good.model_construct(name=one.name)
            packs, index = _among(good.packs, _as_pack(one))
            goods[one.id] = good.model_copy(update={"packs": packs})
        lots.append(one.lot(index))
    return replace(shared, stems=stems, goods=goods, suppliers=suppliers), tuple(lots)


def _among(known: tuple[Sold, ...], sold: Sold) -> tuple[tuple[Sold, ...], int]:
    """Find it among the offers of today; months do not count, as it was in season on the day."""
    said = _said(sold)
    at = next((i for i, one in enumerate(known) if _said(one) == said), None)
    if at is not None:
        return known, at
    return (*known, sold), len(known)


def _said(sold: Offer | Pack) -> tuple[object, ...]:
    size = sold.bunch if isinstance(sold, Offer) else (sold.pieces, sold.length)
    breaks = tuple((one.from_, one.price) for one in sold.breaks)
    return sold.supplier, size, sold.price, breaks, sold.sold_as


def _as_offer(bought: Bought) -> Offer:
    return Offer.model_construct(
        supplier=bought.supplier,
        bunch=Bunch(int(bought.size), bought.about),
        price=bought.price,
        sold_as=bought.sold_as,
        breaks=_breaks(bought),
    )


def _as_pack(bought: Bought) -> Pack:
    return Pack.model_construct(
        supplier=bought.supplier,
        price=bought.price,
        pieces=None if bought.length else int(bought.size),
        length=bought.length,
        sold_as=bought.sold_as,
        breaks=_breaks(bought),
    )


def _breaks(bought: Bought) -> tuple[Break, ...]:
    return tuple(Break.model_construct(from_=start, price=price) for start, price in bought.breaks)
