"""Make what the cache lacks, in parallel over the cores.

A worker is a fresh process, so that a photo can neither crash nor bloat the build itself. It is forked from a
server that has loaded what painting needs and nothing else: the next save in a preview finds it waiting. With
nothing to do no process is started.
"""

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from io import BufferedReader
from multiprocessing import connection
from typing import Protocol, TypeVar

from sitegen.pictures.develop import decodes, develop
from sitegen.pictures.head import PhotoFault, PhotoHead, digest, stamp_of
from sitegen.pictures.opening import Fault, open_file
from sitegen.pictures.plan import Job, Rendition
from sitegen.pictures.store import Store, missing, put

Progress = Callable[[int, int], object]


class Made(Protocol):
    """Whatever becomes files under the names of its renditions."""

    @property
    def renditions(self) -> tuple[Rendition, ...]:
        """What is made of it, widest first."""


M = TypeVar("M", bound=Made)

# A worker takes about 60 MB for a photo of 12 megapixels: many more could fill a small machine.
_WORKERS_MOST = 8


def make(jobs: Sequence[Job], store: Store, on_progress: Progress | None = None) -> tuple[PhotoFault, ...]:
    """Make all renditions that *store* lacks; return what is wrong with photos, in the order of *jobs*.

    *on_progress* is told how many photos of how many are done. Raises OSError where the disk refuses; what
    was made until then stays.
    """
    return _faults(jobs, in_workers(unmade(jobs, store), partial(_make_one, store=store), on_progress))


def verify(jobs: Sequence[Job], store: Store, on_progress: Progress | None = None) -> tuple[PhotoFault, ...]:
    """Find the photos that `make` would refuse, and write nothing. What *store* holds has decoded before."""
    return _faults(jobs, in_workers(unmade(jobs, store), _verify_one, on_progress))


def unmade(jobs: Sequence[M], store: Store) -> list[M]:
    """Leave out what is there, and all but the first of jobs that make the same files."""
    first = {job.renditions: job for job in reversed(jobs)}
    return [job for job in reversed(first.values()) if missing(store, job.renditions)]


def _faults(jobs: Sequence[Job], found: dict[tuple[Rendition, ...], Fault]) -> tuple[PhotoFault, ...]:
    """Name each path once, also where one photo is cut twice or lies in two places."""
    by_path = {job.path: found[job.renditions] for job in jobs if job.renditions in found}
    return tuple(PhotoFault(path, fault) for path, fault in by_path.items())


def in_workers(
    todo: Sequence[M], task: Callable[[M], Fault | None], on_progress: Progress | None
) -> dict[tuple[Rendition, ...], Fault]:
    """Do *task* with each, in fresh processes; return what went wrong, by renditions."""
    found: dict[tuple[Rendition, ...], Fault | None] = {}

    def done(job: M, fault: Fault | None) -> None:
        found[job.renditions] = fault
        if on_progress:
            on_progress(len(found), len(todo))

    if todo:
        _pooled(todo, task, done)
    # A worker died, and took the pool with it: alone in a pool, each photo left shows whether it was the one.
    for job in todo:
        if job.renditions not in found:
            _pooled([job], task, done)
            if job.renditions not in found:
                done(job, Fault.CRASHED)
    return {renditions: fault for renditions, fault in found.items() if fault}


def _pooled(
    jobs: Sequence[M], task: Callable[[M], Fault | None], done: Callable[[M, Fault | None], None]
) -> None:
    """Do *jobs* in a pool and tell *done* of each; when a worker dies, return with the rest undone."""
    workers = min(os.cpu_count() or 1, len(jobs), _WORKERS_MOST)
    with ProcessPoolExecutor(workers, _context(), _start_worker) as pool:
        try:
            futures = {pool.submit(task, job): job for job in jobs}
            for future in as_completed(futures):
                done(futures[future], future.result())
        except BrokenProcessPool:
            return
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _context() -> multiprocessing.context.BaseContext:
    if "forkserver" not in multiprocessing.get_all_start_methods():  # Windows
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["__main__", __name__])
    return context


def _make_one(job: Job, store: Store) -> Fault | None:
    stream = open_file(job.path)
    if isinstance(stream, Fault):
        return stream
    with stream:
        if not _as_planned(stream, job.photo):
            return Fault.CHANGED
        made = develop(stream, job, {one.name for one in missing(store, job.renditions)})
        if isinstance(made, Fault):
            return made
        for one, content in made:
            put(store, one.name, content)
    return None


def _as_planned(stream: BufferedReader, photo: PhotoHead) -> bool:
    """The names promise the bytes that were planned: a photo saved anew since then waits for the next run."""
    return stamp_of(os.fstat(stream.fileno())) == photo.stamp or digest(stream) == photo.digest


def _verify_one(job: Job) -> Fault | None:
    stream = open_file(job.path)
    if isinstance(stream, Fault):
        return stream
    with stream:
        return decodes(stream)


def _start_worker() -> None:
    """Leave Ctrl-C to the build, which lets photos in hand be finished; and end when the build is killed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent:
        connection.wait([parent.sentinel])
        os._exit(1)
