"""Crockford's base 32 in lower case: letters and digits alone, so that nothing breaks off a link.

Published as "Base 32" by Douglas Crockford; without its check symbol and without hyphens.
"""

import re

SYMBOLS = "0123456789abcdefghjkmnpqrstvwxyz"
_VALUES = {symbol: value for value, symbol in enumerate(SYMBOLS)}
_LOOK_ALIKES = str.maketrans("oil", "011")
_CAPITALS = re.compile("[A-Z]")


def encode(data: bytes) -> str:
    """Write *data* in symbols, five bits each, the last one filled up with noughts.

    >>> encode(bytes([0, 255]))
    '03zg'
    """
    width = -(-len(data) * 8 // 5)
    number = int.from_bytes(data) << (width * 5 - len(data) * 8)
    return "".join(SYMBOLS[number >> 5 * place & 31] for place in reversed(range(width)))


def fold(text: str) -> str:
    """Read capitals as small letters, `o` as 0, `i` and `l` as 1; only ASCII is folded.

    >>> fold("OIL8")
    '0118'
    """
    return _CAPITALS.sub(lambda found: found[0].lower(), text).translate(_LOOK_ALIKES)


def decode(text: str) -> bytes | None:
    """Read whole bytes from folded symbols; None for any other text, also where spare bits are not nought.

    >>> decode("03zg") == bytes([0, 255]), decode("03zh"), decode("03z")
    (True, None, None)
    """
    length, spare = divmod(len(text) * 5, 8)
    if spare >= 5 or not all(symbol in _VALUES for symbol in text):
        return None
    number = 0
    for symbol in text:
        number = number << 5 | _VALUES[symbol]
    if number & (1 << spare) - 1:
        return None
    return (number >> spare).to_bytes(length)
