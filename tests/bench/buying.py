"""Measure buying: made-up orders of a published size, solved to the proven least. Run it by hand:

    python tests/bench/buying.py [--rounds 12]

Each class is so many stems from six suppliers, two to four packs a supplier and stem, with fees and minimums
(times a factor). Prints processor seconds of `buy` for each class (median and most), how often the solver
was needed, the largest gap left, and by how much buying each stem at its own cheapest offer is dearer, with the
same minimums met by buying more. Nothing here is a test.
"""

import argparse
import random
import statistics
import time
from collections.abc import Iterator
from fractions import Fraction

from sitegen.order.buy import buy
from sitegen.order.market import Lot, Seller, Thing, Want
from sitegen.solve import solve as solving
from sitegen.solve.engine import Found, Task, run
from tests.order.random_orders import one_by_one

# Bunches as they are sold: figures of the trade, most in tens, roses and carnations in 25s, peonies in fives.
SIZES = (5, 8, 10, 12, 20, 25)
CLASSES = {
    "80 stems, needs 3-400": (80, (3, 400), 1, 0),
    "80 stems, needs 2-30": (80, (2, 30), 1, 0),
    "80 stems, needs 2-30, fees and minimums x4": (80, (2, 30), 4, 0),
    "80 stems, needs 2-30, x4, price breaks": (80, (2, 30), 4, 40),
    "25 stems, needs 2-30, x2": (25, (2, 30), 2, 0),
    "150 stems, needs 10-600, x2": (150, (10, 600), 2, 20),
    "150 stems, needs 2-60, x6": (150, (2, 60), 6, 20),
}
Order = tuple[list[Want], list[Lot], dict[str, Seller]]


def order(seed: int, stems: int, needs: tuple[int, int], times: int, breaks: int) -> Order:
    chance = random.Random(seed)
    names = [f"supplier-{i}" for i in range(6)]
    sellers = {
        name: Seller(
            Fraction(chance.randrange(0, 45, 5) * times), Fraction(chance.randrange(0, 260, 20) * times)
        )
        for name in names
    }
    wants, lots = [], []
    for i in range(stems):
        thing = Thing("stem", f"stem-{i}")
        wants.append(Want(thing, Fraction(chance.randint(*needs)), mix=chance.random() < 0.1))
        fair = chance.randint(60, 450)
        lots += list(_lots(chance, thing, fair, names, breaks))
    return wants, lots, sellers


def _lots(chance: random.Random, thing: Thing, fair: int, names: list[str], breaks: int) -> Iterator[Lot]:
    index = 0
    for name in names:
        for size in sorted(chance.sample(SIZES, chance.randint(2, 4))):
            cents = fair * size * chance.randint(80, 125) // 100
            step = (
                ((chance.randint(3, 8), Fraction(cents * 9 // 10, 100)),)
                if chance.randint(1, 100) <= breaks
                else ()
            )
            yield Lot(thing, index, name, Fraction(size), Fraction(cents, 100), step)
            index += 1


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--rounds", type=int, default=12)
    rounds = parser.parse_args().rounds
    runs = 0

    def counted(task: Task) -> Found:
        nonlocal runs
        runs += 1
        return run(task)

    setattr(solving, "run", counted)  # noqa: B010 - counted on its way
    for name, settings in CLASSES.items():
        seconds, gaps, saved, runs = [], [], [], 0
        for seed in range(rounds):
            task = order(seed, *settings)
            begun = time.process_time()
            found = buy(*task)
            seconds.append(time.process_time() - begun)
            gaps.append(found.gap)
            saved.append(1 - found.cost / one_by_one(task))
        print(
            f"{name:45} {statistics.median(seconds):6.3f} s, most {max(seconds):6.3f} s; "
            f"runs of the solver {runs}; gap {float(max(gaps)):.2f}; "
            f"below one by one {float(statistics.median(saved)):6.1%} (least {float(min(saved)):.1%})"
        )


if __name__ == "__main__":
    main()
