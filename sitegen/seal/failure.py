"""Why something sealed did not open, as a value. The scripts give the same words."""

from enum import StrEnum


class Failure(StrEnum):
    """One kind for each sentence that a reader can do something about."""

    FOREIGN = "foreign"
    """Not made here: another page or file stands where ours should be."""
    NEWER = "newer"
    """Made by a later version of this program."""
    CUT = "cut"
    """Its end is missing."""
    DAMAGED = "damaged"
    """Its bytes are not those that were sealed, or it stands in another's place."""
    TOO_LARGE = "too large"
    """Larger than anything that is sealed here."""
    WEAK = "weak"
    """Asks for fewer or more rounds of stretching than are allowed: somebody changed it."""
    NO_PHRASE = "no phrase"
    """A phrase belongs to it, and none was given."""
    WRONG_PHRASE = "wrong phrase"
    """It is whole, and this phrase does not open it."""
    OTHER_KEY = "other key"
    """It is whole, and sealed with another key: replaced, or taken down."""
