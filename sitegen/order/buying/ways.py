"""Each line's best cover by set of sellers, worked out when it is first asked for."""

from dataclasses import dataclass, field
from functools import cached_property

from sitegen.order.buying.cover import Cover, cover
from sitegen.order.buying.plans import bits
from sitegen.order.buying.scaled import Asked


@dataclass(frozen=True)
class Ways:
    """A memory of covers. A line comes from one seller alone, unless it may be mixed."""

    asked: Asked
    known: dict[tuple[int, int], Cover | None] = field(default_factory=dict)

    @cached_property
    def sellers(self) -> tuple[int, ...]:
        """Give who sells each line, sets of bits."""
        return tuple(line.sellers for line in self.asked.lines)

    @cached_property
    def every(self) -> int:
        return (1 << len(self.asked.sellers)) - 1

    @property
    def exact(self) -> bool:
        """Tell whether every cover that was looked at is proven the best."""
        return all(one is None or one.exact for one in self.known.values())

    def best(self, at: int, sellers: int) -> Cover | None:
        """Give the best cover of a line within a set of sellers; None where they cannot cover it."""
        place = (at, sellers & self.sellers[at])
        if place not in self.known:
            self.known[place] = self._best(*place)
        return self.known[place]

    def _best(self, at: int, within: int) -> Cover | None:
        line = self.asked.lines[at]
        if line.want.mix or within & (within - 1) == 0:  # all together, or one alone
            return cover(line, within)
        found = [self.best(at, bit) for bit in bits(within)]
        return min((one for one in found if one is not None), key=lambda one: one.key, default=None)
