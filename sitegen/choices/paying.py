"""The payments of a total once money came in."""

from collections.abc import Sequence

from sitegen.choices.received import settled


def payments_after(planned: Sequence[int], received: int) -> tuple[int, ...]:
    """Give the payments with those that are settled as they were received; the last takes up the difference.

    They add up to what was *planned*, in smallest units: where more came in, the last ones ask for nothing.

    >>> payments_after([30_000, 30_000, 40_000], 29_500)
    (29500, 30000, 40500)
    """
    count = settled(planned, received) if planned else 0
    if not count:
        return tuple(planned)
    first, middle = tuple(planned[: count - 1]), tuple(planned[count:-1])
    left = sum(planned) - sum(first) - sum(middle)
    came = min(max(received - sum(first), 0), left)
    return (*first, came, *middle, left - came)
