"""Small real photos, made as the tests run."""

import struct
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

from PIL import Image

from sitegen.pictures.head import PhotoHead, head
from sitegen.pictures.plan import Job, Look, plan

# CIE 1931 chromaticities of red, green and blue; white is D65 (0.3127, 0.3290) in all three. From memory of
# IEC 61966-2-1 (sRGB), Adobe RGB (1998) section 4.3.1, and SMPTE EG 432-1 (the primaries of Display P3).
SRGB = ((0.640, 0.330), (0.300, 0.600), (0.150, 0.060))
ADOBE_RGB = ((0.640, 0.330), (0.210, 0.710), (0.150, 0.060))
DISPLAY_P3 = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
_D65 = (0.3127, 0.3290)
_D50 = (0.9642, 1.0, 0.8249)
_BRADFORD = ((0.8951, 0.2664, -0.1614), (-0.7502, 1.7135, 0.0367), (0.0389, -0.0685, 1.0296))

Matrix = tuple[tuple[float, ...], ...]
Primaries = tuple[tuple[float, float], ...]


def product(one: Matrix, other: Matrix) -> Matrix:
    columns = list(zip(*other, strict=True))
    return tuple(
        tuple(sum(a * b for a, b in zip(row, column, strict=True)) for column in columns) for row in one
    )


def inverse(m: Matrix) -> Matrix:
    (a, b, c), (d, e, f), (g, h, i) = m
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    rows = (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )
    return tuple(tuple(value / det for value in row) for row in rows)


def to_xyz(primaries: Primaries) -> Matrix:
    """The matrix from linear RGB to CIE XYZ with white at D65."""
    raw = tuple(zip(*((x / y, 1.0, (1 - x - y) / y) for x, y in primaries), strict=True))
    white = product(inverse(raw), tuple((value,) for value in _white()))
    return tuple(tuple(value * white[n][0] for n, value in enumerate(row)) for row in raw)


def _white() -> tuple[float, float, float]:
    x, y = _D65
    return x / y, 1.0, (1 - x - y) / y


def srgb_curve(value: float) -> float:
    """From encoded to linear, IEC 61966-2-1."""
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)


def srgb_encode(value: float) -> float:
    return 12.92 * value if value <= 0.0031308 else float(1.055 * value ** (1 / 2.4) - 0.055)


def rgb_profile(primaries: Primaries, curve: Callable[[float], float]) -> bytes:
    """A display profile as ICC.1:2001-04 lays it out: three colorants adapted to D50, one curve for all."""
    from_white = product(_BRADFORD, tuple((value,) for value in _white()))
    to_white = product(_BRADFORD, tuple((value,) for value in _D50))
    scale = tuple(tuple(to_white[r][0] / from_white[r][0] * (r == c) for c in range(3)) for r in range(3))
    adapted = product(product(product(inverse(_BRADFORD), scale), _BRADFORD), to_xyz(primaries))
    points = [round(65535 * curve(n / 1023)) for n in range(1024)]
    trc = b"curv\0\0\0\0" + struct.pack(">I1024H", 1024, *points)
    name = b"A profile of the tests\0"
    desc = b"desc\0\0\0\0" + struct.pack(">I", len(name)) + name + bytes(78)
    tags = {b"desc": desc, b"cprt": b"text\0\0\0\0none\0", b"wtpt": _xyz(_D50)}
    tags |= {key: _xyz([row[n] for row in adapted]) for n, key in enumerate((b"rXYZ", b"gXYZ", b"bXYZ"))}
    tags |= {b"rTRC": trc, b"gTRC": trc, b"bTRC": trc}
    return _icc(tags)


def _xyz(values: tuple[float, ...] | list[float]) -> bytes:
    return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(value * 65536) for value in values))


def _icc(tags: dict[bytes, bytes]) -> bytes:
    table, body = b"", b""
    start = 128 + 4 + 12 * len(tags)
    for key, value in tags.items():
        table += key + struct.pack(">2I", start + len(body), len(value))
        body += value + bytes(-len(value) % 4)
    size = start + len(body)
    header = struct.pack(">I4sI4s4s4s", size, b"\0" * 4, 0x02400000, b"mntr", b"RGB ", b"XYZ ")
    header += struct.pack(">6H", 2027, 1, 1, 0, 0, 0) + b"acsp" + bytes(24) + struct.pack(">I", 0)
    header += struct.pack(">3i", *(round(value * 65536) for value in _D50))
    return header.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body


def png_header(width: int, height: int) -> bytes:
    """The first bytes of a PNG of this size, and no pixel."""
    ihdr = b"IHDR" + struct.pack(">2I5B", width, height, 8, 2, 0, 0, 0)
    idat = b"IDAT" + zlib.compress(b"")
    chunks = [
        struct.pack(">I", len(one) - 4) + one + struct.pack(">I", zlib.crc32(one)) for one in (ihdr, idat)
    ]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


def scene(width: int, height: int) -> Image.Image:
    """A photo-like picture in which no corner looks like another."""
    image = Image.radial_gradient("L").resize((width, height))
    image = Image.merge("RGB", (image, Image.linear_gradient("L").resize((width, height)), image))
    image.paste((240, 30, 30), (0, 0, width // 3, height // 4))
    image.paste((30, 200, 60), (width - width // 4, 0, width, height // 3))
    image.paste((250, 240, 200), (0, height - height // 5, width // 6, height))
    return image


def job_of(path: Path, look: Look | None = None) -> Job:
    found = head(path)
    assert isinstance(found, PhotoHead), found
    return plan(path, found, look or Look())


def decoded(content: bytes | Path) -> Image.Image:
    with Image.open(content if isinstance(content, Path) else BytesIO(content)) as image:
        return image.convert("RGB")
