"""Measure buying for several events as one. Run it by hand:

    python tests/bench/together.py [--rounds 6] [--placed 0]

Five events of one week take some of 150 stems from six suppliers, two to four bunches a supplier and stem, with
fees and minimums. Prints processor seconds of `together` beside those of the events' own orders, the largest gap
left, and by how much the events' own orders are dearer beside each other. With --placed, so many of the events
were placed before by themselves. Nothing here is a test.
"""

import argparse
import datetime as dt
import random
import statistics
import time
from dataclasses import replace
from typing import Any

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.catalogue import Supplier
from sitegen.model.content import Shared
from sitegen.order.order import Order, order
from sitegen.order.placed import Placing
from sitegen.order.placing import placed_now
from sitegen.order.together import together
from sitegen.price.event import price_event
from tests import make

TODAY = dt.date(2031, 4, 1)
DAYS = ("2031-06-12", "2031-06-13", "2031-06-14", "2031-06-14", "2031-06-15")
SIZES = (5, 8, 10, 12, 20, 25)
STEMS, TAKEN = 150, 60


def studio(chance: random.Random) -> Shared:
    suppliers = [f"supplier-{i}" for i in range(6)]
    stems = {f"stem-{i}": _stem(chance, suppliers) for i in range(STEMS)}
    terms = {
        name: Supplier.model_validate(
            {
                "name": name,
                "delivery": str(chance.randrange(0, 90, 5)),
                "minimum": str(chance.randrange(0, 520, 20)),
                "delivers": chance.choice(("Mon-Sat", "Tue Thu", "Wed", "Mon Wed Fri")),
            }
        )
        for name in suppliers
    }
    return replace(make.shared(stems=stems), suppliers=terms)


def _stem(chance: random.Random, suppliers: list[str]) -> dict[str, Any]:
    fair = chance.randint(60, 450)
    offers = [
        {
            "supplier": name,
            "bunch": str(size),
            "price": f"{fair * size * chance.randint(80, 125) / 10_000:.2f}",
        }
        for name in suppliers
        for size in sorted(chance.sample(SIZES, chance.randint(2, 4)))
    ]
    arrive = chance.choice(("2-4", "1-3", "2", "3-6"))
    return {
        **make.stem("1"),
        "offers": offers,
        "arrive": arrive,
        "mix": chance.choice(("no",) * 9 + ("yes",)),
    }


def orders(chance: random.Random, shared: Shared) -> list[Order]:
    made = []
    for day in DAYS:
        recipe = {f"stem-{i}": str(chance.randint(2, 60)) for i in chance.sample(range(STEMS), TAKEN)}
        priced = price_event(shared, make.event({"recipe": recipe}, day=day))
        made.append(order(priced, usual_picks(table(priced)), TODAY))
    return made


def placed(made: Order) -> Order:
    body = placed_now(made)
    if body is None:
        return made
    return order(made.priced, usual_picks(table(made.priced)), TODAY, [Placing(TODAY, body)])


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--rounds", type=int, default=6)
    parser.add_argument("--placed", type=int, default=0)
    apart, joint, gaps, dearer = [], [], [], []
    options = parser.parse_args()
    for seed in range(options.rounds):
        chance = random.Random(seed)
        shared = studio(chance)
        begun = time.process_time()
        own = orders(chance, shared)
        own = [placed(one) if i < options.placed else one for i, one in enumerate(own)]
        between = time.process_time()
        made = together(own, shared, TODAY)
        apart.append(between - begun)
        joint.append(time.process_time() - between)
        gaps.append(made.gap / made.cost)
        dearer.append(made.alone / made.cost - 1)
    print(f"the events' own orders: {statistics.median(apart):.2f} s, most {max(apart):.2f} s")
    print(f"together: {statistics.median(joint):.2f} s, most {max(joint):.2f} s")
    print(f"largest gap {float(max(gaps)):.4%}; apart dearer by {float(statistics.median(dearer)):.1%}")


if __name__ == "__main__":
    main()
