from pathlib import Path

import pytest

from sitegen.pictures.plan import WEBP, Rendition
from sitegen.pictures.store import Store, missing, prune, put

ONE = Rendition("0" * 24 + "-480.webp", 480, 360, WEBP)
OTHER = Rendition("1" * 24 + "-960.webp", 960, 720, WEBP)


def names(store: Store) -> list[str]:
    return sorted(path.name for path in store.folder.iterdir())


def test_what_is_put_is_no_longer_missing(store: Store) -> None:
    assert missing(store, (ONE, OTHER)) == (ONE, OTHER)
    put(store, ONE.name, b"pixels")
    assert missing(store, (ONE, OTHER)) == (OTHER,)
    assert store.path(ONE.name).read_bytes() == b"pixels"
    assert names(store) == [ONE.name]


def test_a_refused_disk_leaves_nothing(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    put(store, OTHER.name, b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    for name in (ONE.name, OTHER.name):
        with pytest.raises(OSError, match="No space"):
            put(store, name, b"new")
    assert names(store) == [OTHER.name]
    assert store.path(OTHER.name).read_bytes() == b"old"


def test_what_a_killed_run_left_counts_for_nothing_and_is_pruned(store: Store) -> None:
    put(store, ONE.name, b"pixels")
    store.path(f"{OTHER.name}.123.part").write_bytes(b"pix")
    store.path("heads.json.123.part").write_bytes(b"{")
    assert missing(store, (OTHER,)) == (OTHER,)
    assert prune(store, {ONE.name}) == 2
    assert names(store) == [ONE.name]


def test_pruning_keeps_what_is_used_and_what_is_not_ours(store: Store) -> None:
    for one in (ONE, OTHER):
        put(store, one.name, b"pixels")
    for foreign in ("heads.json", "note.txt", "holiday-480.webp", "not.a.part"):
        store.path(foreign).write_text("mine")
    assert prune(store, {OTHER.name}) == 1
    assert names(store) == sorted([OTHER.name, "heads.json", "note.txt", "holiday-480.webp", "not.a.part"])


def test_pruning_a_cache_that_is_not_there(tmp_path: Path) -> None:
    assert prune(Store(tmp_path / "none"), ()) == 0
