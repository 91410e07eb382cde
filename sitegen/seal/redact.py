"""Takes secrets out of any text before it is shown or kept: messages of libraries hold whole addresses."""

import re
from collections.abc import Iterable

from sitegen.seal.base32 import SYMBOLS, encode
from sitegen.seal.keys import Secrets, choose_link, view_link
from sitegen.seal.link import fragment

HIDDEN = "…"

_ANY = f"[{SYMBOLS}oil]"
# Behind a mark also one that was cut; without a mark only a whole one, as words look alike.
_KEY = re.compile(
    f"((?:#|%(?:25)*23)/?)[cv][1-9il]{_ANY}{{10,}}|(?<![0-9a-z])[cv][1-9il]{_ANY}{{30}}(?![0-9a-z])",
    re.IGNORECASE,
)


def redact(text: str, known: Iterable[Secrets] = ()) -> str:
    """Put `…` for every key of a link, and for everything of the *known* secrets."""
    for own in known:
        for secret in _texts(own):
            text = re.sub(re.escape(secret), HIDDEN, text, flags=re.IGNORECASE)
    return _KEY.sub(lambda found: (found[1] or "") + HIDDEN, text)


def _texts(own: Secrets) -> list[str]:
    links = (choose_link(own), view_link(own))
    keys = [form for link in links for form in (fragment(link), encode(link.secret), link.secret.hex())]
    phrase = [own.phrase.words, encode(own.phrase.key), own.phrase.key.hex()] if own.phrase else []
    return keys + phrase
