"""Trying again: only after a fault that may pass, and only so often."""

from collections.abc import Callable
from typing import TypeVar

from sitegen.publish.fault import Fault

T = TypeVar("T")
# Waits this many seconds; handed in, so that nothing here knows a clock.
Wait = Callable[[int], None]
PAUSES = (1, 2, 4)


def steadily(act: Callable[[], T], wait: Wait) -> T:
    """Do *act*, which may be done twice without harm; after a passing fault again, up to three times."""
    for pause in PAUSES:
        try:
            return act()
        except Fault as fault:
            if fault.kind not in ("again", "cached"):
                raise
        wait(pause)
    return act()
