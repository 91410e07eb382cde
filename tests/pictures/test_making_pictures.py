import os
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from sitegen.pictures import make as module
from sitegen.pictures.head import PhotoFault
from sitegen.pictures.make import make, verify
from sitegen.pictures.opening import Fault
from sitegen.pictures.plan import WHOLE, Cut, Job, Look, plan
from sitegen.pictures.store import Store
from tests.pictures.photos import decoded, job_of, scene

SMALL = Look((300, 150), 150)


def photos(folder: Path, *names: str) -> list[Path]:
    for number, name in enumerate(names):
        scene(400 + number, 300).save(folder / name)
    return [folder / name for name in names]


def listing(store: Store) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in store.folder.iterdir()}


def test_everything_planned_is_made_and_nothing_twice(store: Store, tmp_path: Path) -> None:
    jobs = [job_of(path, SMALL) for path in photos(tmp_path, "a.jpg", "b.jpg", "c.png")]
    told: list[tuple[int, int]] = []
    assert make(jobs, store, lambda done, of: told.append((done, of))) == ()
    assert told == [(1, 3), (2, 3), (3, 3)]
    assert set(listing(store)) == {one.name for job in jobs for one in job.renditions}
    for job in jobs:
        for one in job.renditions:
            assert decoded(store.path(one.name)).size == (one.width, one.height)


def test_a_second_run_starts_no_process_and_touches_nothing(
    store: Store, photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = job_of(photo, SMALL)
    make([job], store)
    before = {path: path.stat() for path in store.folder.iterdir()}
    monkeypatch.setattr(module, "ProcessPoolExecutor", None)
    photo.unlink()  # not even read
    assert make([job], store) == ()
    assert {path: path.stat() for path in store.folder.iterdir()} == before


def test_one_that_is_gone_is_made_again_with_the_same_bytes(
    store: Store, photo: Path, tmp_path: Path
) -> None:
    job = job_of(photo, SMALL)
    make([job], store)
    before = listing(store)
    store.path(job.renditions[-1].name).unlink()
    make([job], store)
    assert listing(store) == before
    elsewhere = Store(tmp_path / "elsewhere")
    make([job], elsewhere)
    assert listing(elsewhere) == before


def test_faults_name_their_photos_in_order_and_stop_no_other(store: Store, tmp_path: Path) -> None:
    paths = photos(tmp_path, "a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg")
    jobs = [job_of(path, SMALL) for path in paths]
    paths[3].unlink()
    scene(80, 60).save(paths[4])
    paths[1].write_bytes(paths[1].read_bytes()[:2000])
    jobs[1] = job_of(paths[1], SMALL)
    assert make(jobs, store) == (
        PhotoFault(paths[1], Fault.TRUNCATED),
        PhotoFault(paths[3], Fault.MISSING),
        PhotoFault(paths[4], Fault.CHANGED),
    )
    assert set(listing(store)) == {one.name for job in (jobs[0], jobs[2]) for one in job.renditions}


def test_a_photo_that_became_a_pipe_is_not_waited_for(store: Store, photo: Path) -> None:
    job = job_of(photo, SMALL)
    photo.unlink()
    os.mkfifo(photo)
    assert make([job], store) == (PhotoFault(photo, Fault.NOT_A_FILE),)


def test_one_photo_in_two_places_is_made_once_and_blamed_in_both(store: Store, tmp_path: Path) -> None:
    first, second = photos(tmp_path, "a.jpg", "b.jpg")
    first.write_bytes(second.read_bytes()[:2000])
    second.write_bytes(first.read_bytes())
    cut = Cut(WHOLE.left, WHOLE.top, WHOLE.right / 2, WHOLE.bottom)
    jobs = [job_of(first, SMALL), job_of(second, SMALL), plan(first, job_of(first).photo, SMALL, cut)]
    told: list[int] = []
    faults = make(jobs, store, lambda done, _: told.append(done))
    assert faults == (PhotoFault(first, Fault.TRUNCATED), PhotoFault(second, Fault.TRUNCATED))
    assert told == [1, 2]


def test_verifying_finds_the_same_and_writes_nothing(store: Store, tmp_path: Path) -> None:
    good, cut_short = photos(tmp_path, "a.jpg", "b.jpg")
    cut_short.write_bytes(cut_short.read_bytes()[:2000])
    jobs = [job_of(good, SMALL), job_of(cut_short, SMALL)]
    assert verify(jobs, store) == (PhotoFault(cut_short, Fault.TRUNCATED),)
    assert not store.folder.exists()


def test_a_disk_that_refuses_is_raised(tmp_path: Path, photo: Path) -> None:
    blocked = tmp_path / "cache"
    blocked.write_text("a file where the folder should be")
    with pytest.raises(OSError, match="cache"):
        make([job_of(photo, SMALL)], Store(blocked))


def _dies_of_some(job: Job) -> Fault | None:
    """Stands for a decoder that crashes on some photos."""
    if job.path.name in {"b.jpg", "d.jpg"}:
        os._exit(11)
    return None


def test_a_worker_that_dies_is_reported_and_the_rest_is_done(tmp_path: Path) -> None:
    jobs = [job_of(path, SMALL) for path in photos(tmp_path, "a.jpg", "b.jpg", "c.jpg", "d.jpg")]
    told: list[int] = []
    found = module.in_workers(jobs, _dies_of_some, lambda done, _: told.append(done))
    assert found == {jobs[1].renditions: Fault.CRASHED, jobs[3].renditions: Fault.CRASHED}
    assert told == [1, 2, 3, 4]


_BUILD = """
import sys
from pathlib import Path
from sitegen.pictures.make import make
from sitegen.pictures.store import Store
from tests.pictures.photos import job_of

if __name__ == "__main__":
    make([job_of(path) for path in sorted(Path(sys.argv[1]).glob("*.jpg"))], Store(Path(sys.argv[2])))
"""


def test_a_killed_run_leaves_whole_files_and_no_process(store: Store, tmp_path: Path) -> None:
    for number in range(8):
        scene(2400 + number, 1800).save(tmp_path / f"{number}.jpg")
    script = tmp_path / "build.py"
    script.write_text(_BUILD)
    root = Path(__file__).parents[2]
    command = [sys.executable, str(script), str(tmp_path), str(store.folder)]
    build = subprocess.Popen(command, env={**os.environ, "PYTHONPATH": str(root)}, stderr=subprocess.PIPE)
    jobs = [job_of(path) for path in sorted(tmp_path.glob("*.jpg"))]
    sizes = {one.name: (one.width, one.height) for job in jobs for one in job.renditions}
    deadline = time.monotonic() + 60
    while not any(store.path(name).exists() for name in sizes) and time.monotonic() < deadline:
        time.sleep(0.01)
    build.kill()
    # The pipe closes when the last process that holds it has ended: the workers do not outlive the build.
    build.communicate(timeout=20)
    made = [path for path in store.folder.iterdir() if path.name in sizes]
    assert 0 < len(made) < len(sizes)
    for path in made:
        assert decoded(path).size == sizes[path.name]
    assert all(path.name.endswith(".part") for path in store.folder.iterdir() if path not in made)


def test_equal_photos_under_other_names_make_equal_files(store: Store, photo: Path) -> None:
    job = job_of(photo, SMALL)
    make([job], store)
    before = listing(store)
    moved = photo.rename(photo.with_name("odd\nname \x1b[31m<b>.jpg"))
    assert make([replace(job, path=moved)], store) == ()
    assert job_of(moved, SMALL).renditions == job.renditions
    assert listing(store) == before
