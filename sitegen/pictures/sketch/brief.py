"""What is to be drawn: the stems of one piece, how it is built, what holds it. Nothing is painted here."""

import hashlib
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from sitegen.pictures.sketch.ware import Vessel

Form = Literal["hand-tied", "low", "bud-vases", "boutonniere", "garland", "arch", "upright"]


@dataclass(frozen=True, slots=True)
class Stem:
    """A line of a recipe as it is drawn.

    *inches* is the bloom's diameter of a head, and what is seen of the length of anything else; *amount* is
    how many stems one piece takes, with halves and thirds.
    """

    kind: str
    colour: str
    inches: float
    amount: Fraction
    role: str


@dataclass(frozen=True, slots=True)
class Brief:
    """A sketch before it is drawn. *ribbon* and *ware* are colours, empty where there is none.

    With *cuff* a boutonniere is one for the wrist: a bow in place of the wrapped stems.
    """

    form: Form
    stems: tuple[Stem, ...]
    ribbon: str = ""
    trail: bool = False
    vessel: Vessel | None = None
    ware: str = ""
    cuff: bool = False

    @property
    def seed(self) -> int:
        """A number from what is drawn and how, not in which colours: in others, all keeps its place."""
        parts = [(one.kind, one.inches, str(one.amount), one.role) for one in self.stems]
        return int.from_bytes(
            hashlib.blake2b(repr((self.form, self.cuff, parts)).encode(), digest_size=4).digest()
        )
