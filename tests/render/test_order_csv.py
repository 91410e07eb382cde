"""CSV for suppliers, read back by the standard library."""

import csv
import datetime as dt
import io
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.order.order import order
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.render.order_csv import order_csv
from tests.reading import read_content

MILLRACE = Path(__file__).parents[1] / "golden" / "millrace"


@pytest.fixture
def millrace() -> PricedEvent:
    shared, (folder,) = read_content(MILLRACE)
    return price_event(shared, folder)


def files_of(event: PricedEvent) -> dict[str, str]:
    return order_csv(order(event, usual_picks(table(event)), dt.date(2031, 6, 1)))


def test_one_file_a_supplier_without_a_price(millrace: PricedEvent) -> None:
    files = files_of(millrace)
    assert list(files) == ["order-river-market.csv", "order-thread-box.csv"]
    # Ribbon and pins: Tue 9 Sep is the last Tuesday before Sat 13 Sep; ten days earlier is Sat 30 Aug.
    assert files["order-thread-box.csv"] == (
        "delivery,order by,packs,in a pack,in all,sold as,our name\r\n"
        '2031-09-09,2031-08-30,1,25 yd,25 yd,"Silk ribbon, stone","Silk ribbon, stone"\r\n'
        "2031-09-09,2031-08-30,1,144,144,Short pins,Short pins\r\n"
    )
    assert "." not in files["order-river-market.csv"]  # no amount of money


@pytest.mark.parametrize("start", [*"=+-@＝＋－＠", " =", "\N{NO-BREAK SPACE}+"])
def test_no_cell_runs_in_a_spreadsheet(millrace: PricedEvent, start: str) -> None:
    shared = millrace.shared
    evil = f'{start}HYPERLINK("http://x.example","a,b")'
    olive = shared.stems["olive"].model_copy(update={"name": evil})
    event = replace(millrace, shared=replace(shared, stems={**shared.stems, "olive": olive}))
    rows = list(csv.reader(io.StringIO(files_of(event)["order-river-market.csv"], newline="")))
    assert {len(row) for row in rows} == {7}
    assert rows[3][6] == "'" + evil
    assert not [cell for row in rows for cell in row if cell.strip().startswith(tuple("=+-@＝＋－＠"))]
