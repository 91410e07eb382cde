"""What every sheet of an order shares in its view: its head, and names in two parts."""

from dataclasses import dataclass

from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Name:
    """A name parted at its first comma: kind and, with the comma, what is special about it."""

    kind: str
    rest: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """A sheet's own name, its line where nothing is approved yet, and the name for the page's margin."""

    id: str
    title: str
    draft: str
    margin: Markup
