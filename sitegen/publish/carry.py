"""Carries a plan's files to the host: blobs, a look at them from outside, then the page in one step."""

from dataclasses import dataclass
from functools import partial

from sitegen.publish.address import Address
from sitegen.publish.fault import Fault
from sitegen.publish.host import read_back
from sitegen.publish.look import Seen, hashed
from sitegen.publish.plan import Plan, Step
from sitegen.publish.reader import gives_out, pages_as_sent
from sitegen.publish.retry import steadily
from sitegen.publish.site import SealedSite, blob_path, digest, index_path
from sitegen.publish.way import Moved, Progress, Way

_BEFORE = "What readers see has not changed."
_SWITCHING = "Readers see the page from before or the new one, each of them whole."
_AFTER = "The new page is in place."


@dataclass(slots=True)
class Carrier:
    """One site on its way. *readers* is what to say that they see, should it be cut off now."""

    site: SealedSite
    way: Way
    progress: Progress
    readers: str = _BEFORE

    def carry(self, plan: Plan, seen: Seen) -> list[Step]:
        """Send and check, then switch; give what was sent. Raises `Fault`."""
        todo = plan.of("send", "check", "switch")
        sent: list[Step] = []
        total = sum(step.size for step in todo)
        done = 0
        for i, step in enumerate(todo):
            self.progress(Moved(i, len(todo), done, total, step.path))
            if step.verb == "switch":
                self._before_switch(sent, seen)
                self.readers = _SWITCHING
            if step.verb != "check" or not self._sound(step.path):
                self._send(step.path)
                sent.append(step)
            done += step.size
            self.progress(Moved(i + 1, len(todo), done, total, step.path))
        self.readers = _AFTER
        return sent

    def own(self, name: str) -> bytes | None:
        """Give a blob from this computer."""
        return self._content(blob_path(self.site.pid, name)) if name in self.site.blobs else None

    def _content(self, path: str) -> bytes:
        try:
            return self.site.content(path)
        except OSError:
            raise Fault("unread", "this computer", path) from None

    def _send(self, path: str) -> None:
        """Write one file and read it back; done twice it does no harm."""
        data = self._content(path)
        host = self.way.host

        def act() -> None:
            (host.put_new if path.endswith(".bin") else host.replace)(path, data)
            read_back(host, path, data)

        steadily(act, self.way.wait)

    def _sound(self, path: str) -> bool:
        return steadily(lambda: self.way.host.read(path), self.way.wait) == self._content(path)

    def _before_switch(self, sent: list[Step], seen: Seen) -> None:
        """Blobs must be given out before a page names them, and the page must still be the one looked at.

        How pages come out is tried on the one for lost readers, before any couple's.
        """
        if self.way.address and not self.way.lags:
            for step in sent:
                steadily(partial(self._given_out, self.way.address, step.path, seen), self.way.wait)
        path = index_path(self.site.pid)
        if steadily(lambda: hashed(self.way.host, path), self.way.wait) != seen.index:
            raise Fault("stranger", self.way.page(self.site.pid))

    def _given_out(self, address: Address, path: str, seen: Seen) -> None:
        sha = digest(self._content(path))
        if path.endswith(".bin"):
            gives_out(address, path, sha)
        elif path.endswith(".html"):
            # A cache may still hold the one from before, but not where nothing was before.
            pages_as_sent(address, path, sha if seen.index is None else "")
