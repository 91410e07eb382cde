import hashlib
import os
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from sitegen.pictures.head import PhotoFault, PhotoHead, head
from sitegen.pictures.opening import BYTES_MOST, Fault
from tests.pictures.photos import png_header, scene


def kind_of(path: Path) -> Fault | None:
    found = head(path)
    return found.kind if isinstance(found, PhotoFault) else None


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "AVIF", "GIF"])
def test_a_head_tells_format_size_and_digest_of_the_bytes(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "any name"
    scene(90, 60).save(path, kind)
    mark = hashlib.blake2b(path.read_bytes(), digest_size=20).hexdigest()
    assert head(path) == PhotoHead(kind, 90, 60, mark)


@pytest.mark.parametrize("turn", range(1, 9))
def test_the_size_is_that_of_the_upright_photo(tmp_path: Path, turn: int) -> None:
    exif = Image.Exif()
    exif[0x0112] = turn
    for name in ("a.jpg", "a.png", "a.webp"):
        scene(90, 60).save(tmp_path / name, exif=exif)
        found = head(tmp_path / name)
        assert isinstance(found, PhotoHead)
        # EXIF 2.32 (CIPA DC-008) 4.6.4: from 5 on, the 0th row is a side of the picture.
        assert (found.width, found.height) == ((60, 90) if turn >= 5 else (90, 60))


@pytest.mark.parametrize("exif", [b"Exif\0\0rubbish", b"Exif\0\0MM\0*\xff\xff\xff\xff", b"\0" * 40])
def test_damaged_exif_counts_as_upright(tmp_path: Path, exif: bytes) -> None:
    path = tmp_path / "a.jpg"
    scene(90, 60).save(path, exif=exif)
    found = head(path)
    assert isinstance(found, PhotoHead)
    assert (found.width, found.height) == (90, 60)


def test_several_pictures_in_one_jpeg_are_the_first(tmp_path: Path) -> None:
    path = tmp_path / "phone.jpg"
    scene(90, 60).save(path, "MPO", save_all=True, append_images=[scene(40, 40)])
    found = head(path)
    assert isinstance(found, PhotoHead)
    assert (found.format, found.width, found.height) == ("JPEG", 90, 60)


def test_what_is_no_regular_file_is_never_opened(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.jpg"
    os.mkfifo(pipe)
    # A writer that may not wait fails as long as nobody has the pipe open: opening it would let one in.
    assert kind_of(pipe) is Fault.NOT_A_FILE
    with pytest.raises(OSError, match="No such device"):
        os.open(pipe, os.O_WRONLY | os.O_NONBLOCK)
    assert kind_of(tmp_path) is Fault.NOT_A_FILE


@pytest.mark.timeout(10)
def test_a_file_swapped_for_a_pipe_at_the_last_moment_is_not_waited_for(
    tmp_path: Path, photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pipe, regular = tmp_path / "pipe.jpg", photo.stat()
    os.mkfifo(pipe)
    monkeypatch.setattr(Path, "stat", lambda _: regular)
    assert kind_of(pipe) is Fault.NOT_A_FILE


def test_what_is_not_there_or_may_not_be_reached(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    (tmp_path / "round").symlink_to(tmp_path / "round")
    assert kind_of(tmp_path / "gone.jpg") is Fault.MISSING
    assert kind_of(tmp_path / "file" / "under.jpg") is Fault.MISSING
    assert kind_of(tmp_path / "round") is Fault.UNREADABLE
    assert kind_of(tmp_path / ("long" * 100)) is Fault.UNREADABLE
    assert kind_of(tmp_path / "nul\0.jpg") is Fault.UNREADABLE


@pytest.mark.parametrize(
    ("content", "fault"),
    [
        (b"", Fault.EMPTY),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", Fault.NOT_A_PHOTO),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n", Fault.NOT_A_PHOTO),
        (b"\xff\xd8\xff\xe1", Fault.UNREADABLE),
        (b"\x89PNG\r\n\x1a\n" + b"\0" * 30, Fault.UNREADABLE),
        (b"RIFF\x10\0\0\0WEBPVP8 rubbish ", Fault.UNREADABLE),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", Fault.OTHER_FORMAT),
        (b"II*\0\x08\0\0\0", Fault.OTHER_FORMAT),
        (png_header(60_000, 60_000), Fault.TOO_LARGE),
        (png_header(12_001, 10_000), Fault.TOO_LARGE),
    ],
)
def test_what_is_no_usable_photo_whatever_its_name_says(tmp_path: Path, content: bytes, fault: Fault) -> None:
    path = tmp_path / "photo.jpg"
    path.write_bytes(content)
    assert kind_of(path) is fault


def test_the_largest_cameras_are_allowed(tmp_path: Path) -> None:
    path = tmp_path / "large.png"
    path.write_bytes(png_header(12_000, 10_000))
    assert kind_of(path) is None


def test_a_file_larger_than_any_photo_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "large.jpg"
    with path.open("wb") as stream:
        stream.truncate(BYTES_MOST + 1)  # a hole: it takes no room on the disk
    assert kind_of(path) is Fault.TOO_LARGE


def test_a_real_postscript_photo_reaches_no_interpreter(tmp_path: Path) -> None:
    path = tmp_path / "photo.jpg"
    out = BytesIO()
    scene(20, 20).save(out, "EPS")
    path.write_bytes(out.getvalue())
    with Image.open(path) as image:
        assert image.format == "EPS"  # Pillow alone would take it
    assert kind_of(path) is Fault.NOT_A_PHOTO
