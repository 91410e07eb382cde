"""The integer program of what is left open: whole packs by groups of sellers, with fees and minimums."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sitegen.order.buying.mixes import mixes
from sitegen.order.buying.plans import Plan, asks, bits
from sitegen.order.buying.scaled import Line, Pack, cost_of
from sitegen.order.buying.sets import Tried
from sitegen.order.buying.ways import Ways
from sitegen.solve.program import Rule, Terms


@dataclass(slots=True)
class Draft:
    """A program as it is written: ranges and rules, and a start that fits, the best plan so far.

    `cost` says what one of each variable costs; `packs` are the variables that count packs, each with
    its line and its pack's place there.
    """

    best: Plan
    ranges: list[tuple[int, int]] = field(default_factory=list)
    start: list[int] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    cost: dict[int, int] = field(default_factory=dict)
    packs: list[tuple[int, int, int]] = field(default_factory=list)
    uses: dict[int, int] = field(default_factory=dict)  # seller's bit → the variable that says it is used
    spent: dict[int, dict[int, int]] = field(default_factory=dict)  # seller's bit → what is spent there

    def add(self, most: int, start: int, *, least: int = 0) -> int:
        self.ranges.append((least, most))
        self.start.append(start)
        return len(self.ranges) - 1

    def at_least(self, terms: Terms) -> None:
        """Hold *terms* to nothing or more."""
        self.rules.append(Rule(terms, least=0))


@dataclass(frozen=True, slots=True)
class _Group:
    """One way to buy a line: from these sellers, for *least* to *most*; its gate says whether it is taken."""

    at: int
    line: Line
    sellers: int
    least: int
    most: int
    gate: int


def draft(ways: Ways, found: Tried) -> Draft:
    """Write down what could be better than the best plan, and that plan."""
    asked, best = ways.asked, found.best
    most = cost_of(best.key)
    sets = {best.used: most, **{sellers: cost_of(key) for sellers, key in found.open}}
    drafted = Draft(best)
    _sellers(drafted, ways, sets, found.always & best.used)
    for at in range(len(asked.lines)):
        _line(drafted, ways, sets, at)
    for bit, variable in drafted.uses.items():
        minimum = asked.minimums[bit.bit_length() - 1]
        drafted.at_least({**drafted.spent.get(bit, {}), variable: -minimum})
    drafted.rules.append(Rule(drafted.cost, least=min(found.least, most), most=most))
    return drafted


def _sellers(drafted: Draft, ways: Ways, sets: Mapping[int, int], always: int) -> None:
    for bit in bits(_any(sets)):
        if asks(ways.asked, bit):
            mine = int(bool(drafted.best.used & bit))
            variable = drafted.add(1, mine, least=int(bool(always & bit)))
            drafted.uses[bit] = variable
            drafted.cost[variable] = ways.asked.fees[bit.bit_length() - 1]


def _any(sets: Mapping[int, int]) -> int:
    every = 0
    for sellers in sets:
        every |= sellers
    return every


def _line(drafted: Draft, ways: Ways, sets: Mapping[int, int], at: int) -> None:
    """Buy a line in one of its groups; one that costs too much, with the rest at its best, is left out."""
    line, most = ways.asked.lines[at], cost_of(drafted.best.key)
    taken = {seller for seller, _ in drafted.best.covers[at].spent}
    gates = []
    for sellers in (_any(sets),) if line.want.mix else bits(ways.sellers[at]):
        # What the other lines and the fees come to at least, where this one is bought there.
        rest = [
            cost - cost_of(one.key)
            for within, cost in sets.items()
            if within & sellers and (one := ways.best(at, within))
        ]
        own = ways.best(at, sellers)
        if own and rest and cost_of(own.key) <= most - min(rest):
            mine = any(sellers >> seller & 1 for seller in taken)
            gate = drafted.add(1, int(mine))
            gates.append(gate)
            _buy(drafted, _Group(at, line, sellers, cost_of(own.key), most - min(rest), gate))
    drafted.rules.append(Rule(dict.fromkeys(gates, 1), least=1, most=1))


def _buy(drafted: Draft, group: _Group) -> None:
    """Cover the line once the group is taken; nothing is bought in it else."""
    line, gate = group.line, group.gate
    counts = {
        k: _pack(drafted, group, k, pack)
        for k, pack in enumerate(line.packs)
        if group.sellers >> pack.seller & 1
    }
    bought = [variable for variables in counts.values() for variable in variables]
    # A cut: what whole packs cost at least, where fractions of them would do for less.
    drafted.at_least({**{variable: drafted.cost[variable] for variable in bought}, gate: -group.least})
    if group.sellers in drafted.uses:
        drafted.at_least({drafted.uses[group.sellers]: 1, gate: -1})
    if line.cuts:
        _rolls(drafted, group, counts)
    else:
        sizes = {variable: line.packs[k].size for k, variables in counts.items() for variable in variables}
        drafted.at_least({**sizes, gate: -line.need})


def _pack(drafted: Draft, group: _Group, k: int, pack: Pack) -> list[int]:
    """Count a pack at each of its prices, of which one holds: from so many on, and up to the next."""
    ends = [start - 1 for start, _ in pack.tiers[1:]]
    has = drafted.best.covers[group.at].counts[k]
    counted: dict[int, int] = {}
    for (start, price), end in zip(pack.tiers, [*ends, group.most], strict=True):
        high = min(end, group.most // price)
        if high >= max(start, 1):
            mine = has if start <= has <= end else 0
            chosen = drafted.add(1, int(mine > 0)) if ends else group.gate
            variable = _tier(drafted, pack, price, (mine, high))
            drafted.at_least({chosen: high, variable: -1})
            drafted.at_least({variable: 1, chosen: -start})
            counted[variable] = chosen
    drafted.packs += [(group.at, k, variable) for variable in counted]
    if ends:
        drafted.at_least({group.gate: 1, **dict.fromkeys(counted.values(), -1)})
    return list(counted)


def _tier(drafted: Draft, pack: Pack, price: int, counts: tuple[int, int]) -> int:
    """Add what counts a pack at a *price*: so many in the start, and at most."""
    mine, high = counts
    variable, bit = drafted.add(high, mine), 1 << pack.seller
    drafted.cost[variable] = price
    drafted.spent.setdefault(bit, {})[variable] = price
    if bit in drafted.uses:
        drafted.at_least({drafted.uses[bit]: high, variable: -1})
    return variable


def _rolls(drafted: Draft, group: _Group, counts: Mapping[int, list[int]]) -> None:
    """Choose one of the mixes on which every cut lies whole; more rolls than that may be bought."""
    has = drafted.best.covers[group.at].counts
    left = drafted.start[group.gate]
    ways: dict[int, tuple[int, ...]] = {}
    for mix in mixes(group.line, group.sellers):
        mine = left and all(n <= h for n, h in zip(mix, has, strict=True))
        left -= int(mine)
        ways[drafted.add(1, int(mine))] = mix
    drafted.rules.append(Rule({**dict.fromkeys(ways, 1), group.gate: -1}, least=0, most=0))
    for k, variables in counts.items():
        held = {way: -mix[k] for way, mix in ways.items() if mix[k]}
        drafted.at_least({**dict.fromkeys(variables, 1), **held})
