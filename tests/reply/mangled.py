"""What mail and messengers do to a line of text: twenty ways, each on its own function.

Observed habits of mail programs; the names say which. RFC 2045 6.7 is quoted-printable, RFC 3676 flowed text.
"""

import html
import quopri
import re
import textwrap
from collections.abc import Callable

Mangle = Callable[[str], str]


def wrapped(width: int) -> Mangle:
    def wrap(text: str) -> str:
        return "\n".join(part for line in text.split("\n") for part in (textwrap.wrap(line, width) or [""]))

    return wrap


def hard_wrapped(text: str) -> str:
    """Cut anywhere, as programs do with words that are longer than a line."""
    return "\n".join(text[i : i + 72] for i in range(0, len(text), 72))


def full_width(text: str) -> str:
    return "".join(chr(ord(char) + 0xFEE0) if "!" <= char <= "~" else char for char in text)


def soft_breaks(text: str) -> str:
    return quopri.encodestring(text.encode()).decode()


def spelled_bytes(text: str) -> str:
    """Quoted-printable of a cautious mailer, which spells hyphens too."""
    return soft_breaks(text).replace("-", "=2D")


def look_alikes(text: str) -> str:
    """What a person reads off a screen: only within groups that hold digits."""
    return re.sub(r"(?<=-)[0-9A-Z]+(?=-)", lambda found: found[0].replace("0", "O").replace("1", "l"), text)


MANGLES: dict[str, Mangle] = {
    "quoted": lambda text: "".join(f"> {line}\n" for line in text.split("\n")),
    "quoted twice": lambda text: "".join(f">> {line}\n" for line in text.split("\n")),
    "wrapped at 76": wrapped(76),
    "wrapped at 60": wrapped(60),
    "wrapped hard": hard_wrapped,
    "quoted-printable": soft_breaks,
    "quoted-printable, hyphens too": spelled_bytes,
    "no-break spaces": lambda text: text.replace("-", "\u00a0-").replace(" ", "\u00a0"),
    "zero-width spaces": "\u200b".join,
    "soft hyphens": lambda text: text.replace("-", "\u00ad-"),
    "no-break hyphens": lambda text: text.replace("-", "\u2011"),
    "dashes": lambda text: text.replace("-", "\u2013"),
    "long dashes": lambda text: text.replace("-", "\u2014"),
    "small letters": str.lower,
    "full width": full_width,
    "look-alikes": look_alikes,
    "signed": lambda text: f"{text}\n-- \nSent from my phone 1.0\n",
    "hyphens to spaces": lambda text: text.replace("-", " "),
    "all hyphens deleted": lambda text: text.replace("-", ""),
    "entities": lambda text: html.escape(text).replace("-", "&#8209;").replace("\n", "<br>\n"),
    "line ends of Windows": lambda text: text.replace("\n", "\r\n"),
    "a page": lambda text: f'<div dir="ltr">{html.escape(text).replace("-", "-<wbr>")}</div>',
}
