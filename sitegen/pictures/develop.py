"""One photo to its renditions, in memory.

Decode no larger than needed, resize once from that, then colour, turn, and each smaller size from the one
above it. Nothing of the photo but its pixels goes on: the metadata is dropped before anything is encoded.
"""

from collections.abc import Collection, Iterator, Sequence
from io import BufferedReader, BytesIO
from math import ceil

from PIL import Image

from sitegen.pictures.colour import shrunk, to_srgb
from sitegen.pictures.opening import Fault, guarded, open_image
from sitegen.pictures.plan import Encoding, Job, Rendition
from sitegen.pictures.turn import Box, stored_box, turn_of, turned_size, upright


def develop(
    stream: BufferedReader, job: Job, wanted: Collection[str]
) -> Iterator[tuple[Rendition, bytes]] | Fault:
    """Return the bytes of each rendition that is named in *wanted*, or what is wrong with the photo."""
    pixels = _largest(stream, job)
    return pixels if isinstance(pixels, Fault) else sized(pixels, job.renditions, wanted)


def decodes(stream: BufferedReader) -> Fault | None:
    """Read all of the photo, at the smallest size its format offers, and keep nothing."""
    image = open_image(stream)
    if isinstance(image, Fault):
        return image
    image.draft(None, (1, 1))
    return _load(image)


def _largest(stream: BufferedReader, job: Job) -> Image.Image | Fault:
    image = open_image(stream)
    if isinstance(image, Fault):
        return image
    turn, profile = turn_of(image), image.info.get("icc_profile")
    size = turned_size((job.renditions[0].width, job.renditions[0].height), turn)
    part = stored_box(_fractions(job), turn)
    # The decoder may stop at 1/2, 1/4 or 1/8 so long as the part is no smaller than what is made of it.
    least = (ceil(size[0] / (part[2] - part[0])), ceil(size[1] / (part[3] - part[1])))
    image.draft(None, least)
    if fault := _load(image):
        return fault
    box = (part[0] * image.width, part[1] * image.height, part[2] * image.width, part[3] * image.height)
    pixels = upright(to_srgb(shrunk(image, size, box), profile), turn)
    pixels.info = {}
    return pixels


def sized(
    pixels: Image.Image, renditions: Sequence[Rendition], wanted: Collection[str]
) -> Iterator[tuple[Rendition, bytes]]:
    """Return the bytes of each of *renditions*, widest first, that is named in *wanted*."""
    for one in renditions:
        if pixels.size != (one.width, one.height):
            pixels = pixels.resize((one.width, one.height), Image.Resampling.LANCZOS)
        if one.name in wanted:
            yield one, _encoded(pixels, one.encoding)


def _encoded(pixels: Image.Image, encoding: Encoding) -> bytes:
    out = BytesIO()
    if encoding.format == "WEBP":
        pixels.save(out, "WEBP", quality=encoding.quality, method=encoding.method)
    else:
        pixels.save(out, "JPEG", quality=encoding.quality, progressive=True, optimize=True)
    return out.getvalue()


def _load(image: Image.Image) -> Fault | None:
    done = guarded(image.load)
    return done if isinstance(done, Fault) else None


def _fractions(job: Job) -> Box:
    left, top, right, bottom = job.box
    width, height = job.photo.width, job.photo.height
    return left / width, top / height, right / width, bottom / height
