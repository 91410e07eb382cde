"""Sets the rows of a deal apart: no two the same, each two sharing what they must."""

from itertools import islice

from sitegen.varied.exchanges import singles
from sitegen.varied.table import BROKEN, Table

# So often an exchange is weighed, at most; more while two rows are the same or share too little. Weighing
# one takes as long as there are rows.
_TRIES, _TRIES_BROKEN = 500, 2_000
_WORK, _WORK_BROKEN = 12_000, 24_000


def vary(table: Table) -> bool:
    """Exchange stems between rows while that brings them nearer to the rules, and then apart.

    Tells whether all rules hold then. Always tries in the same order, and only so often: that no better
    rows exist is not proven.
    """
    rows, moves = len(table.rows), singles(table.task)
    worth, tries, turn, idle = table.worth, 0, 0, 0
    usual, most = (min(n, work // rows) for n, work in ((_TRIES, _WORK), (_TRIES_BROKEN, _WORK_BROKEN)))
    while moves and worth and idle < rows * (rows - 1) and tries < (most if worth >= BROKEN else usual):
        i = turn % rows
        j = (i + 1 + turn // rows % (rows - 1)) % rows
        start = turn * 7 % len(moves)  # not always the same kinds first
        turn, idle = turn + 1, idle + 1
        for exchange in islice(moves + moves, start, start + len(moves)):
            if table.can(i, j, exchange):
                tries += 1
                change = table.change(i, j, exchange)
                if change < 0:
                    table.make(i, j, exchange)
                    worth, idle = worth + change, 0
                    break
    return worth < BROKEN
