from collections.abc import Callable
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageOps, ImageStat
from PIL.PngImagePlugin import PngInfo

from sitegen.pictures.develop import _largest, decodes, develop
from sitegen.pictures.head import PhotoHead, head
from sitegen.pictures.opening import Fault, open_file
from sitegen.pictures.plan import Cut, Job, Look, plan
from tests.pictures.photos import (
    ADOBE_RGB,
    DISPLAY_P3,
    SRGB,
    decoded,
    inverse,
    job_of,
    product,
    rgb_profile,
    scene,
    srgb_curve,
    srgb_encode,
    to_xyz,
)

KINDS = ["JPEG", "PNG", "WEBP", "AVIF", "GIF"]


def made(job: Job) -> list[bytes]:
    stream = open_file(job.path)
    assert not isinstance(stream, Fault)
    with stream:
        found = develop(stream, job, {one.name for one in job.renditions})
        assert not isinstance(found, Fault), found
        return [content for _, content in found]


def pixels(path: Path, look: Look | None = None) -> Image.Image:
    """The photo's upright sRGB pixels at the first size, before they are encoded."""
    stream = open_file(path)
    assert not isinstance(stream, Fault)
    with stream:
        found = _largest(stream, job_of(path, look))
    assert isinstance(found, Image.Image), found
    assert (found.mode, found.info) == ("RGB", {})
    return found


def fault_of(path: Path) -> tuple[Fault | None, Fault | None]:
    """What developing and what mere decoding finds wrong."""
    stream = open_file(path)
    assert not isinstance(stream, Fault)
    with stream:
        alone = decodes(stream)
        job = plan(path, PhotoHead("JPEG", 100, 100, ""), Look())
        found = develop(stream, job, ())
        return found if isinstance(found, Fault) else None, alone


def unlike(one: Image.Image, other: Image.Image) -> float:
    """The mean difference of two pictures of one size, in levels of 255."""
    assert one.size == other.size
    return max(ImageStat.Stat(ImageChops.difference(one, other)).mean)


@pytest.mark.parametrize("turn", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_every_orientation_is_turned_upright_pixel_by_pixel(tmp_path: Path, turn: int, kind: str) -> None:
    path, exif = tmp_path / "a", Image.Exif()
    exif[0x0112] = turn
    scene(90, 60).save(path, kind, exif=exif)
    with Image.open(path) as image:
        upright = ImageOps.exif_transpose(image)
    assert pixels(path).tobytes() == upright.tobytes()
    assert upright.size == ((60, 90) if turn >= 5 else (90, 60))


@pytest.mark.parametrize("turn", range(1, 9))
def test_a_cut_is_of_the_upright_photo(tmp_path: Path, turn: int) -> None:
    path, exif = tmp_path / "a.png", Image.Exif()
    exif[0x0112] = turn
    scene(400, 300).save(path, exif=exif)
    with Image.open(path) as image:
        upright = ImageOps.exif_transpose(image)
    cut = Cut(Fraction(1, 10), Fraction(1, 5), Fraction(1, 2), Fraction(4, 5))
    found = head(path)
    assert isinstance(found, PhotoHead)
    job = plan(path, found, Look(), cut)
    stream = open_file(path)
    assert not isinstance(stream, Fault)
    with stream:
        part = _largest(stream, job)
    assert isinstance(part, Image.Image)
    assert unlike(part, upright.crop(job.box)) < 0.02


@pytest.mark.parametrize("kind", KINDS)
def test_renditions_are_webp_and_jpeg_of_the_planned_sizes(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "a"
    scene(1000, 750).save(path, kind)
    look = Look((500, 200), 300)
    job = job_of(path, look)
    contents = made(job)
    with Image.open(path) as image:
        whole = image.convert("RGB")
    for one, content in zip(job.renditions, contents, strict=True):
        with Image.open(BytesIO(content)) as image:
            assert (image.format, image.size) == (one.encoding.format, (one.width, one.height))
            assert one.encoding.format == "WEBP" or image.info["progressive"]
        plain = whole.resize((one.width, one.height), Image.Resampling.LANCZOS)
        assert unlike(decoded(content), plain) < 3.5


def test_same_photo_same_bytes_whatever_is_wanted(photo: Path) -> None:
    job = job_of(photo, Look((800, 400, 200), 400))
    contents = made(job)
    assert made(job) == contents
    last = job.renditions[-1]
    stream = open_file(photo)
    assert not isinstance(stream, Fault)
    with stream:
        found = develop(stream, job, {last.name})
        assert not isinstance(found, Fault)
        assert list(found) == [(last, contents[-1])]


def test_no_metadata_is_left(tmp_path: Path) -> None:
    path, exif = tmp_path / "a.jpg", Image.Exif()
    exif[0x0112] = 6
    exif[0x010E] = "CANARY-description"
    exif[0x8298] = "CANARY-copyright"
    exif.get_ifd(0x8825).update({1: "N", 2: (47.0, 11.0, 13.0), 29: "CANARY-gps"})
    profile = rgb_profile(DISPLAY_P3, srgb_curve)
    scene(900, 600).save(path, exif=exif, xmp=b"<CANARY-xmp/>", comment=b"CANARY-note", icc_profile=profile)
    planted = path.read_bytes()
    assert planted.count(b"CANARY") == 5  # the photo does carry them
    contents = made(job_of(path, Look((600, 300), 300)))
    assert len(contents) == 3
    for content in contents:
        for mark in (b"CANARY", b"Exif", b"EXIF", b"XMP", b"ICC", b"A profile of the tests", b"acsp"):
            assert mark not in content
        with Image.open(BytesIO(content)) as image:
            assert not image.getexif()
            assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density", "progressive"} | {
                "progression",
                "loop",
                "background",
                "timestamp",
                "duration",
            }


def test_text_in_a_png_is_dropped(tmp_path: Path) -> None:
    path, text = tmp_path / "a.png", PngInfo()
    text.add_text("Comment", "CANARY")
    scene(90, 60).save(path, pnginfo=text)
    assert b"CANARY" in path.read_bytes()
    assert all(b"CANARY" not in content for content in made(job_of(path)))


@pytest.mark.parametrize(
    ("primaries", "curve"),
    [(DISPLAY_P3, srgb_curve), (ADOBE_RGB, lambda value: value ** (563 / 256)), (SRGB, srgb_curve)],
)
def test_colours_are_those_of_the_photos_own_profile(
    tmp_path: Path, primaries: tuple[tuple[float, float], ...], curve: Callable[[float], float]
) -> None:
    """Against the definitions: decode by the curve, by the primaries to CIE XYZ, on to sRGB (IEC 61966-2-1)."""
    path = tmp_path / "a.png"
    matrix = product(inverse(to_xyz(SRGB)), to_xyz(primaries))
    for level in [(200, 120, 100), (128, 128, 128), (90, 120, 80), (250, 245, 235)]:
        linear = tuple((curve(one / 255),) for one in level)
        expected = [255 * srgb_encode(row[0]) for row in product(matrix, linear)]
        assert all(0 <= one <= 255 for one in expected)
        Image.new("RGB", (8, 8), level).save(path, icc_profile=rgb_profile(primaries, curve))
        found = pixels(path).getpixel((4, 4))
        assert isinstance(found, tuple)
        assert found == pytest.approx(expected, abs=1.5)


@pytest.mark.parametrize("profile", [b"rubbish", b"\0" * 300, rgb_profile(SRGB, srgb_curve)[:200]])
def test_a_damaged_profile_is_left_out(tmp_path: Path, profile: bytes) -> None:
    path = tmp_path / "a.png"
    Image.new("RGB", (8, 8), (200, 120, 100)).save(path, icc_profile=profile)
    assert pixels(path).getpixel((4, 4)) == (200, 120, 100)


def test_a_profile_for_other_pixels_is_left_out(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    Image.new("L", (8, 8), 90).save(path, icc_profile=rgb_profile(ADOBE_RGB, srgb_curve))
    assert pixels(path).getpixel((4, 4)) == (90, 90, 90)


def test_what_is_transparent_is_white(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    half = round(100 * 128 / 255 + 255 * 127 / 255)
    for mode, colour in [("RGBA", (200, 100, 0, 0)), ("RGBA", (100, 100, 100, 128)), ("LA", (100, 128))]:
        Image.new(mode, (40, 30), colour).save(path)
        expected = 255 if colour[-1] == 0 else half
        assert pixels(path).getpixel((4, 4)) == (expected,) * 3
    # Colour hidden under transparency must not bleed out where the picture is made smaller.
    image = Image.new("RGBA", (400, 300), (255, 0, 0, 0))
    image.paste((0, 0, 255, 255), (200, 0, 400, 300))
    image.save(path)
    small = pixels(path, Look((40,), 40))
    assert small.getpixel((5, 5)) == (255, 255, 255)
    assert small.getpixel((35, 5)) == (0, 0, 255)
    for x in range(40):
        red, green, _ = small.getpixel((x, 5))  # type: ignore[misc]
        assert red == green


def test_transparent_palettes_and_single_transparent_colours_are_white(tmp_path: Path) -> None:
    path = tmp_path / "a"
    palette = Image.new("P", (40, 30), 1)
    palette.putpalette([10, 20, 30, 40, 50, 60])
    palette.save(path, "PNG", transparency=1)
    assert pixels(path).getpixel((4, 4)) == (255, 255, 255)
    palette.save(path, "GIF", transparency=0)
    assert pixels(path).getpixel((4, 4)) == (40, 50, 60)
    Image.new("RGB", (40, 30), (9, 9, 9)).save(path, "PNG", transparency=(9, 9, 9))
    assert pixels(path).getpixel((4, 4)) == (255, 255, 255)


def test_a_palette_is_resized_as_colours(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    checks = Image.new("1", (400, 300))
    checks.putdata([(x + y) % 2 * 255 for y in range(300) for x in range(400)])
    for mode in ("1", "P"):
        checks.convert(mode).save(path)
        assert pixels(path, Look((40,), 40)).getpixel((20, 15)) == pytest.approx((127.5,) * 3, abs=3)


def test_sixteen_bits_of_grey_become_eight(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    for level in (0, 300, 40_000, 65_535):
        Image.new("I;16", (40, 30), level).save(path)
        assert pixels(path).getpixel((4, 4)) == (round(level / 257),) * 3


def test_sixteen_bits_of_grey_with_a_transparent_level(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    Image.new("I;16", (40, 30), 40_000).save(path, transparency=7)
    with Image.open(path) as image:
        assert image.info["transparency"] == 7
    assert pixels(path).getpixel((4, 4)) == (156, 156, 156)


def test_ink_becomes_light(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    for ink, light in [((0, 0, 0, 0), 255), ((0, 0, 0, 255), 0)]:
        Image.new("CMYK", (40, 30), ink).save(path)
        assert pixels(path).getpixel((4, 4)) == (light,) * 3


@pytest.mark.parametrize("kind", ["GIF", "WEBP", "PNG"])
def test_the_first_picture_of_several_is_taken(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "a"
    red, blue = Image.new("RGB", (40, 30), (250, 0, 0)), Image.new("RGB", (40, 30), (0, 0, 250))
    red.save(path, kind, save_all=True, append_images=[blue], duration=100)
    with Image.open(path) as image:
        assert getattr(image, "n_frames", 1) == 2
    assert unlike(pixels(path), red) < 6


def test_only_the_first_picture_of_a_phones_jpeg_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    scene(900, 600).save(path, "MPO", save_all=True, append_images=[Image.new("RGB", (200, 200))])
    assert unlike(pixels(path, Look((400,), 400)), scene(900, 600).resize((400, 267))) < 3


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("kept", [0.5, 0.9])
def test_a_photo_cut_short_is_a_fault(tmp_path: Path, kind: str, kept: float) -> None:
    path = tmp_path / "a"
    scene(400, 300).save(path, kind)
    whole = path.read_bytes()
    assert fault_of(path) == (None, None)
    path.write_bytes(whole[: int(len(whole) * kept)])
    developing, decoding = fault_of(path)
    assert developing is decoding
    # Some formats are refused whole, at the header, when their length is wrong.
    assert developing in (
        {Fault.TRUNCATED} if kind in {"JPEG", "PNG", "GIF"} else {Fault.TRUNCATED, *OTHER_WAYS}
    )


OTHER_WAYS = (Fault.UNREADABLE, Fault.NOT_A_PHOTO)
SAMPLES = [scene(64, 48), scene(64, 48).convert("P"), scene(64, 48).convert("L")]


def _sample(kind: str, image: Image.Image) -> bytes:
    out = BytesIO()
    image.convert("RGB" if kind == "JPEG" else image.mode).save(
        out, kind, icc_profile=rgb_profile(SRGB, srgb_curve)
    )
    return out.getvalue()


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    content=st.sampled_from(
        [_sample(kind, image) for kind in ("JPEG", "PNG", "WEBP", "GIF") for image in SAMPLES]
    ),
    changes=st.lists(st.tuples(st.floats(0, 0.999), st.binary(min_size=1, max_size=4)), max_size=6),
    kept=st.floats(0.1, 1),
)
def test_no_damage_raises(
    tmp_path: Path, content: bytes, changes: list[tuple[float, bytes]], kept: float
) -> None:
    damaged = bytearray(content)
    for at, new in changes:
        start = int(at * len(damaged))
        damaged[start : start + len(new)] = new
    path = tmp_path / "a"
    path.write_bytes(damaged[: int(len(damaged) * kept)])
    found = head(path)
    if isinstance(found, PhotoHead):
        stream = open_file(path)
        assert not isinstance(stream, Fault)
        with stream:
            result = develop(stream, plan(path, found, Look((60, 30), 30)), ())
            assert isinstance(result, Fault) or list(result) == []
