"""How long the deal of a varied set takes, and how even its costs come: `python -m tests.bench.varied`.

Sets of whole recipes at costs that have nothing in common, each dealt anew.
"""

import sys
import time
from fractions import Fraction

from sitegen.varied.asked import Asked, Kind
from sitegen.varied.deal import deal

SETS = ((5, 14), (12, 10), (12, 20), (18, 9), (40, 10))  # pieces, kinds of stems


def asked(copies: int, kinds: int) -> Asked:
    """One to four of each kind in a piece, three of five of their stems alike."""
    costs = (Fraction(80 + 373 * (i + 1) % 371, 100) * Fraction(11, 10) for i in range(kinds))
    dealt = (Kind(f"s{i}", copies * (1 + 7 * i % 4), cost, i % 3 == 0) for i, cost in enumerate(costs))
    return Asked(copies, tuple(dealt), same=Fraction(9), alike=Fraction(3, 5))


def main() -> None:
    out = sys.stdout
    out.write("pieces kinds  seconds  alike        spread of costs\n")
    for copies, kinds in SETS:
        one = asked(copies, kinds)
        deal.cache_clear()
        begun = time.perf_counter()
        found = deal(one)
        took = time.perf_counter() - begun
        alike = f"{float(found.least):.2f} to {float(found.most):.2f}"
        out.write(f"{copies:6} {kinds:5}  {took:7.3f}  {alike}  {float(found.spread):.4f} {found.why}\n")


if __name__ == "__main__":
    main()
