"""The walk of a content folder: what is read, what is left out with a warning, what is refused."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from sitegen.load.tree import LARGEST, Tree, scan

EVENT = "events/2031-06-14-x"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    root = tmp_path / "content"
    for name in ("studio.md", f"{EVENT}/event.md", f"{EVENT}/01-a.md", f"{EVENT}/photos/a.jpg"):
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(name, encoding="utf-8")
    return root


def told(tree: Tree) -> list[tuple[str, str]]:
    problems = [*tree.problems, *(problem for event in tree.events for problem in event.problems)]
    return [(problem.code, problem.place.source.path) for problem in problems]


def test_what_is_there_is_read_in_the_order_of_names(root: Path) -> None:
    (root / EVENT / "02-b.md").write_text("b", encoding="utf-8")
    (root / "events/2030-01-01-y").mkdir()
    tree = scan(root, "mine")
    assert told(tree) == []
    assert list(tree.shared) == ["studio.md"]
    assert [event.id for event in tree.events] == ["2030-01-01-y", "2031-06-14-x"]
    event = tree.events[1]
    assert event.event is not None
    assert event.event.shown == f"mine/{EVENT}/event.md"
    assert list(event.pieces) == ["01-a.md", "02-b.md"]
    assert list(event.photos) == ["a.jpg"]


@pytest.mark.parametrize("name", [".hidden.md", "_draft.md", "~lock.md", "a.md~", "notes.txt"])
def test_hidden_and_other_files_are_left_out_silently(root: Path, name: str) -> None:
    (root / EVENT / name).write_text("x", encoding="utf-8")
    assert told(scan(root, "c")) == []


def _self(path: Path) -> None:
    path.symlink_to(path.name)


def _up(path: Path) -> None:
    path.symlink_to("..")


@pytest.mark.parametrize(
    ("name", "make", "code"),
    [
        ("02-b.md", os.mkfifo, "file-kind"),
        ("02-b.md", _self, "file-link"),
        ("02-b.md", lambda path: path.symlink_to("not-there.md"), "file-link"),
        ("02-b.md", lambda path: path.symlink_to("/etc/passwd"), "file-outside"),
        ("02-b.md", lambda path: path.symlink_to("../../../secret"), "file-outside"),
        ("02-b.md", lambda path: path.symlink_to("../../../content2/secret.md"), "file-outside"),
        ("02-b.md", lambda path: path.symlink_to(path.parents[3] / "content2" / "secret.md"), "file-outside"),
        ("02-b.md", lambda path: path.write_bytes(b"x" * (LARGEST + 1)), "file-large"),
        ("02\n\x1b[31m<b>.md", lambda path: path.write_bytes(b""), "name-odd"),
        ("02-\udcff.md", lambda path: path.write_bytes(b""), "name-odd"),
        ("02-\u202egpj.md", lambda path: path.write_bytes(b""), "name-odd"),
        ("photos/b.jpg", os.mkfifo, "file-kind"),
        ("photos/b.jpg", _self, "file-link"),
        ("photos/b.jpg", lambda path: path.symlink_to("/etc/passwd"), "file-outside"),
        ("photos/<script>.jpg", lambda path: path.write_bytes(b"x"), "name-odd"),
    ],
)
def test_what_cannot_be_trusted_is_left_out_and_told(
    root: Path, name: str, make: Callable[[Path], object], code: str
) -> None:
    (root.parent / "secret").write_text("secret", encoding="utf-8")
    (root.parent / "content2").mkdir()
    (root.parent / "content2" / "secret.md").write_text("secret", encoding="utf-8")
    make(root / EVENT / name)
    tree = scan(root, "c")
    assert [found for found, _ in told(tree)] == [code]
    assert all(path.isprintable() and "<" not in path for _, path in told(tree))
    assert list(tree.events[0].pieces) == ["01-a.md"]
    assert list(tree.events[0].photos) == ["a.jpg"]


@pytest.mark.parametrize("make", [_self, _up])
@pytest.mark.parametrize("name", ["events/loop", f"{EVENT}/photos", "events"])
def test_a_folder_linked_to_itself_is_left_out(root: Path, name: str, make: Callable[[Path], None]) -> None:
    if (root / name).exists():
        (root / name).rename(root.parent / "away")
    make(root / name)
    assert ("folder-link", f"c/{name}") in told(scan(root, "c"))


def test_a_file_of_just_the_largest_size_is_read(root: Path) -> None:
    (root / EVENT / "02-b.md").write_bytes(b"x" * LARGEST)
    tree = scan(root, "c")
    assert told(tree) == []
    assert len(tree.events[0].pieces["02-b.md"].data) == LARGEST


def test_links_within_the_content_are_followed(root: Path) -> None:
    (root / EVENT / "02-b.md").symlink_to("01-a.md")
    tree = scan(root, "c")
    assert told(tree) == []
    assert tree.events[0].pieces["02-b.md"].data == tree.events[0].pieces["01-a.md"].data


def test_the_content_folder_may_be_a_link_itself(root: Path) -> None:
    (root.parent / "link").symlink_to(root)
    assert told(scan(root.parent / "link", "c")) == []


@pytest.mark.parametrize("name", ["stok.yaml", "stems.yml", "Studio.md", "supplier.yaml"])
def test_a_misspelt_file_is_told(root: Path, name: str) -> None:
    (root / name).write_text("x", encoding="utf-8")
    assert told(scan(root, "c")) == [("file-unknown", f"c/{name}")]


@pytest.mark.parametrize("name", ["README.md", "notes.md", "prices.ods"])
def test_other_files_beside_the_shared_ones_are_no_mistake(root: Path, name: str) -> None:
    (root / name).write_text("x", encoding="utf-8")
    assert told(scan(root, "c")) == []


def test_a_folder_that_may_not_be_opened_is_told(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Root may open any folder, so the refusal of the system is played."""
    whole = os.scandir

    def refuse(path: Path) -> object:
        if Path(path).name == "2031-06-14-x":
            raise PermissionError(13, "Permission denied", str(path))
        return whole(path)

    monkeypatch.setattr(os, "scandir", refuse)
    assert told(scan(root, "c")) == [("folder-closed", f"c/{EVENT}")]


def test_a_digest_changes_with_everything_that_counts(root: Path) -> None:
    before = scan(root, "c")
    (root / EVENT / "01-a.md").write_text("other", encoding="utf-8")
    after = scan(root, "c")
    assert before.events[0].digest() != after.events[0].digest()
    assert before.digest() == after.digest()
    os.utime(root / EVENT / "photos/a.jpg", ns=(1, 1))
    assert scan(root, "c").events[0].digest() != after.events[0].digest()
    (root / "studio.md").write_text("other", encoding="utf-8")
    assert scan(root, "c").digest() != after.digest()


def test_records_are_no_content_but_a_change_of_them_makes_pages_anew(root: Path) -> None:
    bare = scan(root, "c").events[0].digest()
    record = root / EVENT / "records/0001-revision.json"
    record.parent.mkdir()
    record.write_text("{}", encoding="utf-8")
    (record.parent / ".lock").write_text("", encoding="utf-8")
    (record.parent / "notes.md").write_text("no piece", encoding="utf-8")
    tree = scan(root, "c")
    event = tree.events[0]
    assert told(tree) == []
    assert list(event.records) == ["0001-revision.json", "notes.md"]
    assert list(event.pieces) == ["01-a.md"]
    assert event.folder == root / EVENT
    assert event.digest() != bare
    os.utime(record, ns=(1, 1))
    assert scan(root, "c").events[0].digest() != event.digest()
    (root / "records").mkdir()
    assert scan(root, "c").digest() == tree.digest()
