"""Words of the starter are no words of hers: said, and refused unless she wants them, before they go out."""

from collections.abc import Iterator
from typing import Any

from sitegen.check.starter_words import left_in
from sitegen.cli.exits import CONTENT, Stop, say
from sitegen.records.plain import plain
from sitegen.records.shown import Shown

_MOST_NAMED = 4


def stop_at_starter_words(shown: Shown, state: str, *, go_on: bool) -> None:
    """Raise `Stop` where the couple would get words of the starter, saying the *state*; or warn of it."""
    left = left_in(_texts(plain(shown)))
    if not left:
        return
    more = f" and {len(left) - _MOST_NAMED} more" if len(left) > _MOST_NAMED else ""
    named = ", ".join(f'"{text}"' for text in left[:_MOST_NAMED]) + more
    said = f"the starter's own words would be taken for yours: {named}"
    if not go_on:
        how = "sitegen check says where they stand; --starter-words lets them stand"
        raise Stop(f"{said}. {state} {how}", CONTENT)
    say(f"warning: {said}", error=True)


def _texts(data: Any) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from _texts(value)
    elif isinstance(data, list):
        for value in data:
            yield from _texts(value)
