"""The order from each supplier as CSV (RFC 4180), for a spreadsheet or to send with the message."""

import csv
import io

from sitegen.order.figures import pack_text
from sitegen.order.order import Order, Row

_COLUMNS = ("delivery", "order by", "packs", "in a pack", "in all", "sold as", "our name")
# What spreadsheets run, as typed and as East Asian keyboards type it; they skip spaces before it.
_RUN = tuple("=+-@＝＋－＠\t\r\n")


def order_csv(order: Order) -> dict[str, str]:
    """Give a CSV for each supplier who has to hear something now, by file name. None holds a price."""
    return {f"order-{supplier}.csv": supplier_csv(order, supplier) for supplier in order.to_send}


def supplier_csv(order: Order, supplier: str) -> str:
    """Write what is to be ordered from *supplier*, a line a lot, with CRLF line ends.

    Once an order was placed, a last column says which lines add to it and which are to be cancelled. A cell
    that a spreadsheet would run as a formula begins with an apostrophe.
    """
    changing = bool(order.before.placings)
    out = io.StringIO()
    writer = csv.writer(out)  # the module's own default is the RFC's form: commas, doubled quotes, CRLF
    writer.writerow((*_COLUMNS, "change") if changing else _COLUMNS)
    for change, rows in (("add", order.added), ("cancel", order.before.cancelled)):
        for row in rows:
            if row.supplier == supplier:
                cells = (*_cells(order, row), change) if changing else _cells(order, row)
                writer.writerow(disarmed(cell) for cell in cells)
    return out.getvalue()


def disarmed(cell: str) -> str:
    """Put an apostrophe before what a spreadsheet would take for a formula.

    >>> disarmed("=1+1"), disarmed("Peony, blush")
    ("'=1+1", 'Peony, blush')
    """
    return f"'{cell}" if cell.startswith(_RUN) or cell.lstrip().startswith(_RUN) else cell


def _cells(order: Order, row: Row) -> tuple[str, ...]:
    shared, lot = order.priced.shared, row.bought.lot
    if row.thing.kind == "stem":
        name, sold_as = shared.stems[row.thing.id].name, shared.stems[row.thing.id].offers[lot.index].sold_as
        about = shared.stems[row.thing.id].offers[lot.index].bunch.about
        size, total = ("about " if about else "") + pack_text(order, row), str(int(lot.size * row.packs))
    else:
        good = shared.goods[row.thing.id]
        name, sold_as, length = good.name, good.packs[lot.index].sold_as, good.packs[lot.index].length
        size = pack_text(order, row)
        total = str(length.times(row.packs)) if length else str(int(lot.size * row.packs))
    day = row.arrival.day.isoformat() if row.arrival else ""
    due = row.arrival.order_by.isoformat() if row.arrival else ""
    return day, due, str(row.packs), size, total, sold_as or name, name
