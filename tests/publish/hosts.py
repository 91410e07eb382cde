"""Hosts for tests: in memory, and around another host to note, fail or kill at each operation."""

import os
import signal
from collections.abc import Callable
from dataclasses import dataclass, field

from sitegen.publish.fault import Fault, Kind
from sitegen.publish.host import Entry, Host


@dataclass
class Memory:
    """A host that is a dict: every write is whole."""

    files: dict[str, bytes] = field(default_factory=dict)
    place: str = "memory"

    def size(self, path: str) -> int | None:
        return len(self.files[path]) if path in self.files else None

    def put_new(self, path: str, data: bytes) -> None:
        self.files[path] = data

    replace = put_new

    def read(self, path: str) -> bytes | None:
        return self.files.get(path)

    def list(self, folder: str) -> tuple[Entry, ...]:
        inside = [path for path in sorted(self.files) if path.rpartition("/")[0] == folder]
        return tuple(Entry(path.rpartition("/")[2], len(self.files[path])) for path in inside)

    def delete(self, path: str) -> None:
        self.files.pop(path, None)

    def close(self) -> None:
        pass


def _nothing(number: int, verb: str, path: str) -> None:
    del number, verb, path


@dataclass
class Watched:
    """Around *inner*: *before* is called with number, verb and path of each operation, *after* when it is done."""

    inner: Host
    before: Callable[[int, str, str], None]
    after: Callable[[int, str, str], None] = _nothing
    done: list[tuple[str, str]] = field(default_factory=list)

    @property
    def place(self) -> str:
        return self.inner.place

    def _note(self, verb: str, path: str, act: Callable[[], object]) -> object:
        number = len(self.done)
        self.done.append((verb, path))
        self.before(number, verb, path)
        result = act()
        self.after(number, verb, path)
        return result

    def size(self, path: str) -> int | None:
        return self._note("size", path, lambda: self.inner.size(path))  # type: ignore[return-value]

    def put_new(self, path: str, data: bytes) -> None:
        self._note("put_new", path, lambda: self.inner.put_new(path, data))

    def replace(self, path: str, data: bytes) -> None:
        self._note("replace", path, lambda: self.inner.replace(path, data))

    def read(self, path: str) -> bytes | None:
        return self._note("read", path, lambda: self.inner.read(path))  # type: ignore[return-value]

    def list(self, folder: str) -> tuple[Entry, ...]:
        return self._note("list", folder, lambda: self.inner.list(folder))  # type: ignore[return-value]

    def delete(self, path: str) -> None:
        self._note("delete", path, lambda: self.inner.delete(path))

    def close(self) -> None:
        self.inner.close()


def noting(inner: Host) -> Watched:
    return Watched(inner, _nothing)


def failing(inner: Host, at: int, kind: Kind, *, sticky: bool) -> Watched:
    """Fail the operation with number *at*, and with *sticky* all from there on."""

    def before(number: int, verb: str, path: str) -> None:
        del verb
        if number == at or (sticky and number > at):
            raise Fault(kind, inner.place, path)

    return Watched(inner, before)


def killing(inner: Host, at: int, *, after: bool) -> Watched:
    """Kill this very process at operation *at*, before it or when it is done."""

    def kill(number: int, verb: str, path: str) -> None:
        del verb, path
        if number == at:
            os.kill(os.getpid(), signal.SIGKILL)

    return Watched(inner, _nothing if after else kill, kill if after else _nothing)
