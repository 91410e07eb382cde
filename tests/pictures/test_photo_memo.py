import os
from pathlib import Path

import pytest

from sitegen.pictures import memo as module
from sitegen.pictures.head import PhotoFault, PhotoHead, head
from sitegen.pictures.memo import Memo, open_memo, remembered_head, save_memo
from sitegen.pictures.store import Store
from tests.pictures.photos import scene


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The photos that were really read, in order."""
    paths: list[Path] = []

    def noted(path: Path) -> PhotoHead | PhotoFault:
        paths.append(path)
        return head(path)

    monkeypatch.setattr(module, "head", noted)
    return paths


def test_an_unchanged_photo_is_read_once_over_two_builds(store: Store, photo: Path, read: list[Path]) -> None:
    first = open_memo(store)
    found = remembered_head(first, photo)
    save_memo(first)
    assert found == head(photo)
    assert remembered_head(open_memo(store), photo) == found
    assert read == [photo]


def test_a_changed_photo_is_read_again(store: Store, photo: Path, read: list[Path]) -> None:
    memo = open_memo(store)
    before = remembered_head(memo, photo)
    state, content = photo.stat(), bytearray(photo.read_bytes())
    content[-3] ^= 1
    photo.write_bytes(content)
    # Size and time of writing as before: the time of the last change still tells.
    os.utime(photo, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert photo.stat().st_size == state.st_size
    after = remembered_head(memo, photo)
    assert isinstance(before, PhotoHead)
    assert isinstance(after, PhotoHead)
    assert before.digest != after.digest
    assert read == [photo, photo]


def test_faults_are_not_remembered(store: Store, tmp_path: Path) -> None:
    memo, path = open_memo(store), tmp_path / "a.jpg"
    assert isinstance(remembered_head(memo, path), PhotoFault)
    scene(90, 60).save(path)
    assert isinstance(remembered_head(memo, path), PhotoHead)


def test_photos_that_are_gone_are_forgotten(store: Store, photo: Path, tmp_path: Path) -> None:
    memo, other = open_memo(store), tmp_path / "other.jpg"
    scene(90, 60).save(other)
    remembered_head(memo, photo)
    remembered_head(memo, other)
    other.unlink()
    save_memo(memo)
    assert set(open_memo(store).heads) == {str(photo)}


def test_nothing_is_written_when_nothing_was_learned(store: Store, photo: Path) -> None:
    memo = open_memo(store)
    save_memo(memo)
    assert not store.folder.exists()
    remembered_head(memo, photo)
    save_memo(memo)
    written = store.path("heads.json").stat().st_ino
    again = open_memo(store)
    remembered_head(again, photo)
    save_memo(again)
    assert store.path("heads.json").stat().st_ino == written


def test_a_memo_without_a_store_remembers_for_the_run(photo: Path, read: list[Path]) -> None:
    memo = Memo()
    assert remembered_head(memo, photo) == remembered_head(memo, photo)
    save_memo(memo)
    assert read == [photo]


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"[]",
        b"{",
        b"\xff",
        b"3",
        b'{"1": {}}',
        b'{"2": 3}',
        b'{"2": {"a": []}}',
        b'{"2": {"a": [[1], [2]]}}',
        b'{"2": {"a": ["JPEG", 1, 1, "", [1, 2, 3, "x"]]}}',
    ],
)
def test_a_damaged_memo_is_only_slower(store: Store, photo: Path, content: bytes) -> None:
    store.folder.mkdir()
    store.path("heads.json").write_bytes(content)
    memo = open_memo(store)
    assert memo.heads == {}
    assert remembered_head(memo, photo) == head(photo)


def test_a_name_that_is_no_text_is_remembered(store: Store, photo: Path, read: list[Path]) -> None:
    odd = photo.rename(photo.with_name(os.fsdecode(b"\xff\n.jpg")))
    memo = open_memo(store)
    found = remembered_head(memo, odd)
    save_memo(memo)
    assert remembered_head(open_memo(store), odd) == found
    assert read == [odd]
