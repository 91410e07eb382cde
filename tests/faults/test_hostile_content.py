"""Content that is broken, hostile or huge: each one clear message with its place, exit code 1, nothing written.

The list is that of what florists' folders were seen to hold, and of what would be put there to do harm.
"""

import datetime as dt
import os
import re
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from hypothesis import given, settings
from PIL import Image

from sitegen.build.event import work_out
from sitegen.check.shared import check_shared
from sitegen.cli.main import run
from sitegen.pictures.memo import Memo
from tests.check.folder import FILES, tree_of
from tests.check.mutations import likely_files
from tests.messages.prepare import EVENT, replace
from tests.messages.telling import findings_in
from tests.pictures.photos import png_header

BASE = Path(__file__).parents[1] / "messages" / "base"
PIECE = EVENT / "01-bouquet.md"
EVENT_MD = EVENT / "event.md"
STEMS = Path("content/stems.yaml")
TODAY = "2031-03-01"
# Whatever is slow here stands for something that grows with the square of a file, and would take far longer.
SECONDS = 4


@pytest.fixture
def home(tmp_path: Path) -> Path:
    shutil.copytree(BASE, tmp_path / "home")
    return tmp_path / "home"


def build(home: Path) -> int:
    return run(["build", "--content", str(home / "content"), "--out", str(home / "out"), "--today", TODAY])


def _written(home: Path) -> list[str]:
    return sorted(path.name for path in home.rglob("*.html"))


def test_the_base_builds(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert build(home) == 0, capsys.readouterr()
    assert "index.html" in _written(home)


BAD_LINES = [
    # (file, what stands there, what is put in its place, code, line)
    (PIECE, "place: barn", "plaze: barn", "key-unknown", 9),
    (PIECE, "piece: Bouquet\n", "", "key-missing", 1),
    (EVENT_MD, "for: Ada and Ben", "for: {a: b}", "value-type", 3),
    (EVENT_MD, "places:\n  - {id: barn, name: Barn}", "places: barn", "value-type", 6),
    (PIECE, "recipe:\n  rose: 7\n  fern: 3", "recipe: [rose, fern]", "value-type", 4),
    (STEMS, "price: 20.00", "price: 4,10", "value-unreadable", 6),
    (STEMS, "bunch: 10", "bunch: 0", "value-unreadable", 6),
    (STEMS, "price: 20.00", "price: 0", "value-unreadable", 6),
    (STEMS, "price: 20.00", "price: 20.00, months: Jnue", "value-unreadable", 6),
    (STEMS, 'colour: "#e6c3b8"', "colour: #e6c3b8", "key-missing", 4),
    (PIECE, "rose: 7", "rose: -7", "value-unreadable", 5),
    (PIECE, "rose: 7", "rose:", "key-missing", 5),
    (EVENT_MD, "2031-06-14", "2031-06-31", "value-unreadable", 4),
    (EVENT_MD, "2031-06-14", "14.6.2031", "value-unreadable", 4),
    (PIECE, "---\nWords.\n", "", "front-open", 1),
    (PIECE, "  fern: 3", "\tfern: 3", "yaml-syntax", 6),
    (PIECE, "  fern: 3", "  rose: 3", "key-repeated", 6),
    (PIECE, "rose: 7", "rose: &a 7", "yaml-anchor", 5),
    (PIECE, "rose: 7\n  fern: 3", "rose: &a 7\n  fern: *a", "yaml-alias", 6),
    (STEMS, "fern:\n", "fern:\n  <<: {latin: x}\n", "yaml-merge", 8),
    (PIECE, "rose: 7", "rose: !!python/object/apply:os.system 7", "yaml-tag", 5),
    (STEMS, "fern:\n", "---\nfern:\n", "yaml-second", 7),
    (PIECE, "place: barn", "place: barn\nchoices: [{id: a, ask: b, answers: []}]", "answers-none", 10),
    (PIECE, "place: barn", 'place: "-"', "value-unreadable", 9),
    (PIECE, "place: barn", "minutes: 1e9", "value-unreadable", 9),
    (PIECE, "place: barn", "minutes: ٣", "value-unreadable", 9),
    (PIECE, "place: barn", "minutes: 1234567890123", "value-unreadable", 9),
    (PIECE, "place: barn", "quantity: 999999999999", "quantity-many", 9),
    (PIECE, "Words.", "Wo\x00rds.", "words-control", 11),
    (PIECE, "piece: Bouquet", "piece: Bou\x1b[31mquet", "yaml-syntax", 2),
    (PIECE, "piece: Bouquet", 'piece: "Bou\\e[31mquet"', "value-unreadable", 2),
    (PIECE, "piece: Bouquet", f"piece: {'a' * 20_001}", "value-unreadable", 2),
]


@pytest.mark.parametrize("bad", BAD_LINES, ids=lambda bad: f"{bad[3]}-{bad[2][:20]!r}")
def test_a_bad_line_is_one_message_with_its_place(
    home: Path, bad: tuple[Path, str, str, str, int], capsys: pytest.CaptureFixture[str]
) -> None:
    path, old, new, code, line = bad
    replace(home / path, old, new)
    found = [(found.code, found.path, found.line) for found in findings_in(home)]
    assert found == [(code, path.as_posix(), line)]
    assert build(home) == 1
    said = "".join(capsys.readouterr())
    assert "Traceback" not in said
    assert f"{path.name}:{line}:" in said
    assert _written(home) == []


def _not_utf8(home: Path) -> None:
    (home / PIECE).write_bytes((home / PIECE).read_bytes().replace(b"Bouquet", b"Bouqu\xe9t"))


def _utf16(home: Path) -> None:
    (home / PIECE).write_bytes((home / PIECE).read_text(encoding="utf-8").encode("utf-16"))


def _surrogate(home: Path) -> None:
    (home / PIECE).write_bytes((home / PIECE).read_bytes().replace(b"Bouquet", b"Bou\xed\xa0\x80quet"))


def _twice(home: Path) -> None:
    shutil.copy(home / PIECE, home / EVENT / "02_bouquet.md")


def _secret(home: Path) -> None:
    (home / "secret.md").write_text("secret", encoding="utf-8")
    (home / EVENT / "02-link.md").symlink_to(home / "secret.md")


def _large(home: Path) -> None:
    (home / EVENT / "02-large.md").write_bytes(b"---\n" * 2_500_000)


def _empty(home: Path) -> None:
    shutil.rmtree(home / "content")
    (home / "content").mkdir()


def _deep(home: Path) -> None:
    replace(home / PIECE, "rose: 7", "rose: " + "[" * 200_000)


def _deep_keys(home: Path) -> None:
    lines = "".join(f"{' ' * n}a:\n" for n in range(1200))
    replace(home / PIECE, "place: barn\n", lines)


@pytest.mark.parametrize(
    ("spoil", "code", "name"),
    [
        (_not_utf8, "file-encoding", "01-bouquet.md"),
        (_utf16, "file-encoding", "01-bouquet.md"),
        (_surrogate, "file-encoding", "01-bouquet.md"),
        (_twice, "piece-repeated", "02_bouquet.md"),
        (_secret, "file-outside", "02-link.md"),
        (_large, "file-large", "02-large.md"),
        (_empty, "content-empty", "content"),
        (_deep, "yaml-syntax", "01-bouquet.md"),
        (_deep_keys, "yaml-deep", "01-bouquet.md"),
        (lambda home: (home / EVENT_MD).unlink(), "event-missing", "event.md"),
        (lambda home: (home / "content/studio.md").unlink(), "file-missing", "studio.md"),
        (lambda home: (home / "content/studio.md").write_bytes(b""), "front-missing", "studio.md"),
        (lambda home: (home / EVENT / "README.md").write_text("words"), "front-missing", "README.md"),
        (lambda home: (home / "content/suppliers.yaml").write_text("- farm"), "yaml-shape", "suppliers.yaml"),
    ],
    ids=lambda value: value.__name__ if callable(value) else value,
)
def test_a_bad_file_is_one_message_with_its_name(
    home: Path, spoil: Callable[[Path], object], code: str, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(home)
    begun = time.process_time()
    assert [(found.code, Path(found.path).name) for found in findings_in(home)] == [(code, name)]
    assert time.process_time() - begun < SECONDS
    assert build(home) == 1
    assert "Traceback" not in "".join(capsys.readouterr())
    assert _written(home) == []


@pytest.mark.parametrize(
    ("name", "make"),
    [
        ("02\n\x1b[31m<b>.md", lambda path: path.write_bytes(b"x")),
        ("02-\udcff.md", lambda path: path.write_bytes(b"x")),
        ("02-pipe.md", os.mkfifo),
        ("02-self.md", lambda path: path.symlink_to(path.name)),
        ("photos", lambda path: path.symlink_to(".")),
        ("../loop", lambda path: path.symlink_to("..")),
        ("02-gone.md", lambda path: path.symlink_to("gone.md")),
    ],
)
def test_an_odd_file_is_left_out_with_a_warning(
    home: Path, name: str, make: Callable[[Path], object], capsys: pytest.CaptureFixture[str]
) -> None:
    make(home / EVENT / name)
    assert [found.severity for found in findings_in(home)] == ["warning"]
    assert build(home) == 0
    said = "".join(capsys.readouterr())
    assert "\x1b" not in said
    assert "<b>" not in said
    assert "index.html" in _written(home)


def _truncated(path: Path) -> None:
    Image.effect_noise((400, 300), 80).convert("RGB").save(path, "JPEG")
    path.write_bytes(path.read_bytes()[:-4000])


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (_truncated, "breaks off: the file is cut short"),
        (lambda path: path.write_bytes(b""), "is empty: 0 bytes"),
        (lambda path: path.write_bytes(png_header(60_000, 60_000)), "has more than 120 million pixels"),
        (lambda path: path.write_bytes(SVG), "is not a photo, whatever its name says"),
        (
            lambda path: path.write_bytes(b"\xff\xd8\xff\xe0" + bytes(200)),
            "cannot be read: the file is damaged",
        ),
        (
            lambda path: path.write_bytes(b"II*\x00" + bytes(64)),
            "is TIFF or camera raw, which browsers do not show",
        ),
        (
            lambda path: path.write_bytes(b"%!PS-Adobe-3.0 EPSF-3.0\n"),
            "is not a photo, whatever its name says",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_bad_photo_is_one_message_where_it_is_named(
    home: Path, make: Callable[[Path], object], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (home / EVENT / "photos").mkdir()
    make(home / EVENT / "photos/rose.jpg")
    replace(home / PIECE, "place: barn", "place: barn\nphotos: [{file: rose.jpg, alt: A rose}]")
    found = findings_in(home)
    assert [(one.code, one.line, one.what) for one in found] == [("photo-unreadable", 10, f"rose.jpg {said}")]
    assert build(home) == 1
    assert "Traceback" not in "".join(capsys.readouterr())
    assert _written(home) == []


@pytest.mark.parametrize("name", ["../../../secret.jpg", "/etc/passwd", "a\\b.jpg", "photos/rose.jpg"])
def test_a_photo_elsewhere_is_never_opened(home: Path, name: str) -> None:
    replace(home / PIECE, "place: barn", f"place: barn\nphotos: [{{file: '{name}', alt: A rose}}]")
    assert [found.code for found in findings_in(home)] == ["photo-folder"]


def _many_unknown(home: Path) -> None:
    replace(home / PIECE, "recipe:\n", "recipe:\n" + "".join(f"  s{n}: 1\n" for n in range(15_000)))


def _many_keys(home: Path) -> None:
    replace(home / PIECE, "place: barn\n", "".join(f"k{n}: 1\n" for n in range(15_000)))


def _many_empty(home: Path) -> None:
    replace(home / PIECE, "place: barn\n", "".join(f"k{n}:\n" for n in range(15_000)))


def _many_stems(home: Path) -> None:
    with (home / STEMS).open("a", encoding="utf-8") as file:
        file.writelines(f"s{n}: {{nam: x}}\n" for n in range(10_000))


def _many_repeated(home: Path) -> None:
    replace(home / PIECE, "recipe:\n", "recipe:\n" + "  rose: 1\n" * 15_000)


def _many_anchors(home: Path) -> None:
    replace(home / PIECE, "recipe:\n", "recipe:\n" + "".join(f"  s{n}: &a{n} 1\n" for n in range(10_000)))


def _one_line(home: Path) -> None:
    replace(home / PIECE, "piece: Bouquet", "piece: Bouquet " + "x" * 900_000)


def _many_choices(home: Path) -> None:
    one = "  - {{id: c{0}, ask: b, answers: [{{id: a, label: A}}, {{id: b, label: B, recipe: {{rose: {0}}}}}]}}\n"
    lines = "".join(one.format(n) for n in range(2_000))
    replace(home / PIECE, "place: barn\n", f"place: barn\nchoices:\n{lines}")


def _many_answers(home: Path) -> None:
    answers = ", ".join(f"{{id: a{n}, label: A}}" for n in range(8_000))
    replace(
        home / PIECE, "place: barn\n", f"place: barn\nchoices: [{{id: c, ask: b, answers: [{answers}]}}]\n"
    )


def _many_brackets(home: Path) -> None:
    replace(home / PIECE, "Words.", "[a](" * 4_900)


def _long_number(home: Path) -> None:
    replace(home / PIECE, "rose: 7", f"rose: {'9' * 900_000}")


@pytest.mark.parametrize(
    "spoil",
    [
        _many_unknown, _many_keys, _many_empty, _many_stems, _many_repeated, _many_anchors, _one_line, _many_choices,
        _many_answers, _many_brackets, _long_number,
    ],
)  # fmt: skip
def test_much_of_something_is_told_at_once(home: Path, spoil: Callable[[Path], object]) -> None:
    spoil(home)
    begun = time.process_time()
    found = findings_in(home)
    assert time.process_time() - begun < SECONDS
    assert 0 < len(found) <= 402


HOSTILE = (
    "<script>alert(1)</script><img src=x onerror=alert(1)>\" onmouseover='alert(1)' {{ 7 * 7 }} </title>"
)


def test_markup_in_any_words_reaches_every_page_inert(home: Path) -> None:
    quoted = "'" + HOSTILE.replace("'", "''") + "'"
    for path in (EVENT_MD, PIECE, STEMS, Path("content/goods.yaml"), Path("content/studio.md")):
        text = (home / path).read_text(encoding="utf-8").replace("Rose, blush", "Rose")
        for key in ("event", "for", "piece", "group", "name", "studio"):
            text = re.sub(
                rf"(?m)((?:^|[ {{])\b{key}): [^,}}\n]+", lambda found: f"{found[1]}: {quoted}", text
            )
        (home / path).write_text(
            re.sub(r"(Words|Dear both|Terms)\.", lambda _: HOSTILE, text), encoding="utf-8"
        )
    choice = f"[{{id: a, ask: {quoted}, answers: [{{id: b, label: {quoted}}}, {{id: c, label: {quoted}}}]}}]"
    replace(home / PIECE, "place: barn", f"place: barn\nchoices: {choice}")
    assert build(home) == 0
    pages = sorted((home / "out").rglob("*.html"))
    assert len(pages) >= 3
    for page in pages:
        soup = BeautifulSoup(page.read_text(encoding="utf-8"), "html.parser")
        assert soup.find_all(lambda tag: any(name.startswith("on") for name in tag.attrs)) == []
        assert soup.find_all(src="x") == []
        assert [one for one in soup.find_all("script") if one.text.startswith("alert")] == []
        assert "49" not in soup.get_text().split()


def test_line_ends_and_a_byte_order_mark_change_nothing(home: Path) -> None:
    assert build(home) == 0
    before = {path.relative_to(home): path.read_bytes() for path in (home / "out").rglob("*.html")}
    for path in sorted((home / "content").rglob("*.*")):
        if path.is_file():
            path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert build(home) == 0
    assert {path.relative_to(home): path.read_bytes() for path in (home / "out").rglob("*.html")} == before


@given(likely_files())
@settings(max_examples=150, deadline=None)
def test_what_check_lets_pass_is_priced_and_ordered(files: dict[str, str]) -> None:
    tree = tree_of(files)
    work_out(tree.events[0], check_shared(tree), dt.date(2031, 3, 1), Memo())


def test_the_unchanged_files_are_priced_and_ordered() -> None:
    tree = tree_of(FILES)
    worked, problems = work_out(tree.events[0], check_shared(tree), dt.date(2031, 3, 1), Memo())
    assert worked is not None, problems


def test_work_beyond_the_calendar_still_builds(home: Path) -> None:
    """Minutes as large as a number may be: every sheet of hours comes out, and no sum leaves the calendar."""
    most = "999999999999"
    work = f"minutes: {most}\nsite: {{minutes: {most}}}\nquantity: 99"
    replace(
        home / PIECE,
        "place: barn",
        f"place: barn\n{work}\nsecond_place: {{place: barn, minutes: {most}, from: 16:00}}",
    )
    hours = f"access: 09:00, ready: 14:00, starts: 15:00, ends: 18:00, clear: 23:00, travel: {most}"
    replace(home / EVENT_MD, "{id: barn, name: Barn}", f"{{id: barn, name: Barn, {hours}}}")
    lines = f"work: {{bunch: {most}, pull: {most}, load: {most}, travel: {most}, strike: {most}}}"
    replace(home / "content" / "studio.md", "language:", f"{lines}\ncrew: {{hands: 1, hours: 8}}\nlanguage:")
    assert build(home) == 0
    assert "order.html" in _written(home)
