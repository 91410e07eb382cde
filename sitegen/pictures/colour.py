"""Any photo's pixels to plain opaque sRGB.

The dear steps stand after the first resize, where they cost a tenth: `shrunk` first, then `to_srgb`.
"""

from functools import cache
from io import BytesIO

from PIL import Image, ImageChops, ImageCms

from sitegen.pictures.turn import Box

_WHITE = (255, 255, 255, 255)
_DEEP = "I;16"  # 16-bit grey: it converts to no other mode without loss, and resizes as it is
_ALPHA = frozenset({"RGBA", "LA", "PA", "RGBa", "La"})


def shrunk(image: Image.Image, size: tuple[int, int], box: Box) -> Image.Image:
    """Return the part *box* (in pixels) of *image* at *size*, opaque: what was transparent is white.

    *image* may be changed on the way.
    """
    image = _plain(image)
    if image.mode != "RGBA":
        return image.resize(size, Image.Resampling.LANCZOS, box)
    see_through = ImageChops.invert(image.getchannel("A"))
    image.paste(_WHITE, mask=see_through)
    # Band by band: resizing RGBA as a whole would first copy it all, 48 MB for 12 megapixels.
    bands = [image.getchannel(band).resize(size, Image.Resampling.LANCZOS, box) for band in "RGB"]
    return Image.merge("RGB", bands)


def to_srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    """Convert to sRGB by the photo's own ICC profile; one that is damaged or for other pixels is left out."""
    if image.mode == _DEEP:
        image = image.convert("I").point(lambda level: level * (1 / 257) + 0.5).convert("L")
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            converted = ImageCms.profileToProfile(image, source, _srgb(), outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, TypeError, ValueError):
            converted = None
        if converted:
            return converted
    return image.convert("RGB")


def _plain(image: Image.Image) -> Image.Image:
    """Leave the modes in which resizing would take single pixels or mix colour with transparency."""
    if image.mode == _DEEP:
        return image
    if image.mode in _ALPHA or "transparency" in image.info:
        return image if image.mode == "RGBA" else image.convert("RGBA")
    if image.mode == "P":
        return image.convert("RGB")
    return image.convert("L") if image.mode == "1" else image


@cache
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))
