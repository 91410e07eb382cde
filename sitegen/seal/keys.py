"""The secrets of one event: made, renewed, and turned into links and keys. The only chance in the package.

Everything else comes from these bytes alone, so that equal content and secrets give equal files.
"""

from dataclasses import dataclass, field, replace
from secrets import choice, token_bytes
from string import ascii_lowercase

from sitegen.seal.cover import Stretch
from sitegen.seal.failure import Failure
from sitegen.seal.link import Kind, Link
from sitegen.seal.lock import SECRET, Keys, choose_keys, view_keys, view_secret
from sitegen.seal.phrase import FOR_A_COUPLE, phrase_key, words

_FRESH = 28  # letters: more than 128 bits


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase and what it is stretched to, kept so that a build need not do it again."""

    words: str = field(repr=False)
    stretch: Stretch
    key: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Secrets:
    """What an event's site hangs on; whoever holds *choose* reads it and answers for the couple.

    *pid* names the folder and is public. *former* are the names that it had before it was renewed. *fresh* is
    no secret: it is sealed with everything, so that another one makes other files of the same pictures.
    """

    pid: bytes
    choose: bytes = field(repr=False)
    former: tuple[bytes, ...] = ()
    phrase: Phrase | None = None
    fresh: str = ""

    @property
    def renewals(self) -> int:
        return len(self.former)


def new_secrets() -> Secrets:
    return Secrets(token_bytes(SECRET), token_bytes(SECRET))


def renewed(own: Secrets) -> Secrets:
    """Another folder and link; the old ones open nothing that is sealed from now on. A phrase stays."""
    return replace(own, pid=token_bytes(SECRET), choose=token_bytes(SECRET), former=(*own.former, own.pid))


def freshened(own: Secrets) -> Secrets:
    """The same link, and every file another than before: nobody can tell which picture stayed the same."""
    # Letters alone: a digit could pass for an amount of money where the page is searched for such.
    return replace(own, fresh="".join(choice(ascii_lowercase) for _ in range(_FRESH)))


def with_phrase(own: Secrets) -> Secrets:
    """Ask for a phrase as well, a new one of generated words: one that people think up is soon guessed."""
    phrase, stretch = new_phrase(FOR_A_COUPLE), new_stretch()
    key = phrase_key(phrase, stretch)
    if isinstance(key, Failure):
        raise TypeError("a stretch of our own is always allowed")
    return replace(own, phrase=Phrase(phrase, stretch, key))


def new_phrase(count: int) -> str:
    return " ".join(choice(words()) for _ in range(count))


def new_stretch() -> Stretch:
    return Stretch(token_bytes(SECRET))


def choose_link(own: Secrets) -> Link:
    """The couple's link."""
    return Link(Kind.CHOOSE, own.pid, own.choose)


def view_link(own: Secrets) -> Link:
    """A link that shows everything and cannot answer."""
    return Link(Kind.VIEW, own.pid, view_secret(own.pid, own.choose))


def keys_of(own: Secrets) -> Keys:
    return link_keys(choose_link(own), own.phrase.key if own.phrase else b"")


def link_keys(link: Link, phrase_key: bytes = b"") -> Keys:
    """The keys that a link gives, with the stretched phrase where one is asked for."""
    make = choose_keys if link.kind is Kind.CHOOSE else view_keys
    return make(link.pid, link.secret, phrase_key)
