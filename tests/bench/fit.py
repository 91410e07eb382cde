"""Measure how long it takes to fit a proposal of forty pieces into a budget. Run it by hand:

    python tests/bench/fit.py [--pieces 40] [--rounds 3] [--hard]

Prints, for several budgets, processor time until the best fit is proven, and
until the steps on either side are too. An invented event: three choices of up
to three answers for a piece, bounds on every count, two pieces in five optional,
12 % for delivery with a least amount, 5 % off, tax on all. With --hard, 64
combinations a piece, one piece in five not taxable, tax rounded line by line.
Machines are noisy; nothing here is a test.
"""

import argparse
import statistics
import time
from fractions import Fraction
from random import Random

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import Part, Table, TableCharge, TablePiece
from sitegen.choices.totals import totals
from sitegen.fit.fit import best_fit, fit
from sitegen.fit.ways import Matter


def event(seed: int, count: int, *, hard: bool) -> tuple[Table, tuple[Matter, ...]]:
    """An invented event, the same for the same *seed*."""
    chance = Random(seed)
    answers = (4, 4, 4) if hard else (3, 2, 2)
    pieces, matters = [], []
    for at in range(count):
        around = chance.randint(20, 400)
        combinations = answers[0] * answers[1] * answers[2]
        each = tuple(100 * int(around * chance.uniform(0.6, 1.6)) for _ in range(combinations))
        quantity = chance.choice((1, 1, 5, 8, 10, 12))
        pieces.append(
            TablePiece(
                id=f"p{at}",
                answers=answers,
                usual=tuple(chance.randrange(size) for size in answers),
                each=each,
                quantity=quantity,
                least=max(1, quantity - 3),
                most=quantity + 3,
                optional=chance.random() < 0.4,
                taxable=not hard or chance.random() < 0.8,
            )
        )
        ratings = [chance.choice((3, 3, 3, 1, 2, 4, 5)) for _ in range(4)]
        matters.append(Matter(ratings[0], tuple(ratings[1:])))
    delivery = TableCharge("delivery", Part(Fraction(3, 25), None), 18_000, optional=False, taxable=True)
    terms = (delivery,), Part(Fraction(1, 20), None), (Fraction(33, 400),)
    return Table(2, tuple(pieces), *terms, included=False, per_line=hard, payments=(None,)), tuple(matters)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=40)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--hard", action="store_true")
    asked = parser.parse_args()
    for percent in (97, 90, 80, 70, 60):
        alone, whole, proven = [], [], 0
        for seed in range(asked.rounds):
            table, matters = event(seed, asked.pieces, hard=asked.hard)
            budget = totals(table, usual_picks(table)).total * percent // 100
            begun = time.process_time()
            best = best_fit(table, matters, frozenset(), budget)
            alone.append(time.process_time() - begun)
            begun = time.process_time()
            fit(table, matters, frozenset(), budget)
            whole.append(time.process_time() - begun)
            proven += best is None or best.proven
        said = f"median {statistics.median(alone):.2f} s, worst {max(alone):.2f} s"
        steps = f"with both steps {statistics.median(whole):.2f} s, worst {max(whole):.2f} s"
        print(f"{percent} % of the total: {said}; {steps}; {proven} of {asked.rounds} proven")


if __name__ == "__main__":
    main()
