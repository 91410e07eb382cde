"""The same task, written down a second time for SciPy's `milp`: nothing here comes from the package's own search."""

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from tests.order.random_orders import Task


@dataclass
class _Model:
    costs: list[float] = field(default_factory=list)
    tops: list[float] = field(default_factory=list)
    rows: list[tuple[dict[int, float], float, float]] = field(default_factory=list)

    def var(self, top: float, cost: float = 0) -> int:
        self.costs.append(cost)
        self.tops.append(top)
        return len(self.costs) - 1

    def row(self, terms: dict[int, float], least: float, most: float = np.inf) -> None:
        self.rows.append((terms, least, most))


def least_cents(task: Task) -> int:
    """Give the least cost of *task* in cents, as SciPy finds it."""
    wants, lots, sellers = task
    model = _Model()
    used = {name: model.var(1, float(one.delivery * 100)) for name, one in sellers.items()}
    spent: dict[str, dict[int, float]] = defaultdict(dict)
    for want in wants:
        theirs = [lot for lot in lots if lot.thing == want.thing]
        chosen = {lot.supplier: model.var(1) for lot in theirs}
        stems: dict[int, float] = {}
        for lot in theirs:
            # More than the need and the minimum together is never of use.
            top = (
                int(
                    want.amount / lot.size
                    + sellers[lot.supplier].minimum / min(p for _, p in [*lot.breaks, (0, lot.price)])
                )
                + 6
            )
            tiers = [(1, lot.price), *lot.breaks]
            ends = [start - 1 for start, _ in tiers[1:]] + [top]
            holds = []
            for (start, price), end in zip(tiers, ends, strict=True):
                count, hold = model.var(top, float(price * 100)), model.var(1)
                model.row({count: 1, hold: -start}, 0)
                model.row({count: -1, hold: end}, 0)
                spent[lot.supplier][count] = float(price * 100)
                stems[count] = float(lot.size)
                holds.append(hold)
            model.row({chosen[lot.supplier]: 1, **dict.fromkeys(holds, -1)}, 0)
        for name, choice in chosen.items():
            model.row({used[name]: 1, choice: -1}, 0)
        if not want.mix:
            model.row(dict.fromkeys(chosen.values(), 1.0), 1, 1)
        model.row(stems, float(want.amount))
    for name, terms in spent.items():
        model.row({**terms, used[name]: -float(sellers[name].minimum * 100)}, 0)
    return _solved(model)


def _solved(model: _Model) -> int:
    places = [(r, i, value) for r, (terms, _, _) in enumerate(model.rows) for i, value in terms.items()]
    at, column, values = zip(*places, strict=True)
    matrix = csr_array((values, (at, column)), shape=(len(model.rows), len(model.costs)))
    found = milp(
        model.costs,
        constraints=LinearConstraint(
            matrix, [low for _, low, _ in model.rows], [high for _, _, high in model.rows]
        ),
        integrality=np.ones(len(model.costs)),
        bounds=Bounds(0, model.tops),
        options={"mip_rel_gap": 0},
    )
    assert found.status == 0, found.message
    cents: int = round(found.fun)
    return cents
