"""CSV for suppliers, read back by the standard library."""

import csv
import datetime as dt
import io
from collections.abc import Sequence

from sitegen.order.csv_text import supplier_csvs
from sitegen.order.need import Portion
from sitegen.order.order import order_of
from sitegen.price.priced import PricedEvent

JUNE = dt.date(2031, 6, 1)


def test_one_file_a_supplier_without_a_price(millrace: PricedEvent, portions: Sequence[Portion]) -> None:
    files = supplier_csvs(order_of(millrace, portions, JUNE))
    assert list(files) == ["order-river-market.csv", "order-thread-box.csv"]
    # Ribbon and pins: Tue 9 Sep is the last Tuesday before Sat 13 Sep; ten days earlier is Sat 30 Aug.
    assert files["order-thread-box.csv"] == (
        "delivery,order by,packs,in a pack,in all,sold as,our name\r\n"
        '2031-09-09,2031-08-30,1,25 yd,25 yd,"Silk ribbon, stone","Silk ribbon, stone"\r\n'
        "2031-09-09,2031-08-30,1,144,144,Short pins,Short pins\r\n"
    )
    assert "." not in files["order-river-market.csv"]


def test_no_cell_runs_in_a_spreadsheet(millrace: PricedEvent, portions: Sequence[Portion]) -> None:
    shared = millrace.shared
    for i, start in enumerate("=+-@"):
        name = list(shared.stems)[i % 3]
        stem = shared.stems[name].model_copy(update={"name": f'{start}HYPERLINK("http://x.example","a,b")'})
        shared.stems[name] = stem  # type: ignore[index]
        (text, _) = supplier_csvs(order_of(millrace, portions, JUNE)).values()
        rows = list(csv.reader(io.StringIO(text, newline="")))
        assert {len(row) for row in rows} == {7}
        assert rows[1 + i % 3][6] == "'" + stem.name
        assert not [cell for row in rows for cell in row if cell.startswith(("=", "+", "-", "@"))]
