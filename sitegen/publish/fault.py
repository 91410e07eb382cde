"""What can go wrong outside, as kinds, each with one sentence that says what to do.

A fault travels as an exception from an adapter to the command's own function,
which gives it back as a value; no secret is ever part of one.
"""

import errno
from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "refused",
    "absent",
    "full",
    "denied",
    "unreachable",
    "host-key",
    "again",
    "busy",
    "certificate",
    "insecure",
    "redirect",
    "answers-all",
    "password",
    "media",
    "differs",
    "not-served",
    "stranger",
    "rename",
    "unread",
    "cached",
    "unopened",
    "never",
    "receipt",
]

_SENTENCES: dict[Kind, str] = {
    "refused": "{place} refused {detail}. Its own pages or its support can say why; then publish again.",
    "absent": "{detail} is not there at {place}. Make that folder or bucket, or correct publish.yaml.",
    "full": "There is no room left at {place}. Make room and publish again: it carries on where it stopped.",
    "denied": (
        "{place} does not let you in: {detail}. Check user, password or key, and that the folder may be "
        "written to."
    ),
    "unreachable": "{place} cannot be reached: {detail}. Check the connection and the name in publish.yaml.",
    "host-key": (
        "{place} showed the key {detail}, which is not the one in publish.yaml. Nothing was sent. Ask "
        "your host for its key's fingerprint by another way; only if it is this one, write host_key: with"
        " it."
    ),
    "again": (
        "{place} did not answer as it should, several times: {detail}. Publish again later: it carries on"
        " where it stopped."
    ),
    "busy": "Another publish is running on this computer. Let it end, then publish again.",
    "certificate": (
        "{place} cannot prove that it is itself: {detail}. Couples would see a warning. Renew its "
        "certificate, then publish again."
    ),
    "insecure": (
        "{place} begins with http, and browsers open a sealed page only over https. Switch https on at "
        "your host, and write the address with https:// in publish.yaml."
    ),
    "redirect": (
        "{place} sends readers on to {detail}, and the key at a link's end can be lost on the way. Write "
        "the address that it leads to in publish.yaml."
    ),
    "answers-all": (
        "{place} answers with a page for a name that nobody has. A missing picture would look like one "
        "that is there. Switch off the setting that serves one page for every address (single-page mode),"
        " then publish again."
    ),
    "password": (
        "{place} asks readers for a password, so that couples could not open their page. Switch that off "
        "for this folder."
    ),
    "media": (
        "{place} gives out {detail}, so that a phone would not show the page. Set the type of .html files"
        " to text/html at your host, then publish again."
    ),
    "differs": (
        "{place} gives out other bytes than were sent for {detail}. Switch off what rewrites pages on the"
        " way (optimisers, mail hiding, added scripts), then publish again."
    ),
    "not-served": (
        "{place} does not give out {detail}, although it was stored. Check that the address in "
        "publish.yaml shows the folder that is written to, that everybody may read it, and that a "
        "folder's index.html is served."
    ),
    "stranger": (
        "The page at {place} is not the one that was last published from here. Look who changed it. If it"
        " was you on another computer, or the receipts are lost, publish again and say to take it over."
    ),
    "rename": (
        "{place} cannot put a new file in an old one's place in one step, so that couples could see half "
        "a page. Ask your host for OpenSSH's SFTP server, or publish to a folder or to S3-compatible "
        "storage."
    ),
    "cached": (
        "{place} still gives out the page from before: something on the way keeps copies for a while. "
        "Look again later with publish --verify."
    ),
    "unopened": "The page at {place} does not open: {detail}. Build again, then publish again.",
    "never": "Nothing was published from here to {place} under this link. Publish the event first.",
    "unread": (
        "{detail} cannot be read or written on this computer. Check the disk and the rights, then publish"
        " again."
    ),
    "receipt": (
        "The receipt {detail} is not as it was written. Move it away, and publish with --take-over. What was "
        "published elsewhere, or under an older link, is known no more: take it down at that host."
    ),
}


class Fault(Exception):
    """Something outside failed: *kind* says how, *place* where, *detail* a few words more; never a secret."""

    def __init__(self, kind: Kind, place: str, detail: str = "") -> None:
        super().__init__(f"{kind} at {place}: {detail}")
        self.kind: Kind = kind
        self.place = place
        self.detail = detail


@dataclass(frozen=True, slots=True)
class Stopped:
    """The work ended early: *kind* for machines, *sentence* says what happened and what to do."""

    kind: Kind
    sentence: str


def stopped(fault: Fault, state: str = "") -> Stopped:
    """Turn *fault* into what the command gives back; *state* says what readers see now."""
    said = _SENTENCES[fault.kind].format(place=fault.place, detail=fault.detail or "something")
    return Stopped(fault.kind, f"{said} {state}".strip())


_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_DENIED = {errno.EACCES, errno.EPERM, errno.EROFS}
_AGAIN = {errno.EIO, errno.EAGAIN, errno.EINTR, errno.ETIMEDOUT, errno.EBUSY, errno.ESTALE}


def os_fault(error: OSError, place: str, what: str) -> Fault:
    """Sort an error of the operating system while at work on *what*."""
    if error.errno in _FULL:
        return Fault("full", place, what)
    if error.errno in _DENIED:
        said = "it is read-only" if error.errno == errno.EROFS else f"{what} may not be touched"
        return Fault("denied", place, said)
    if error.errno in {errno.ENOENT, errno.ENOTDIR}:
        return Fault("absent", place, what)
    if error.errno in _AGAIN or isinstance(error, TimeoutError | ConnectionError):
        return Fault("again", place, f"{what}, {error.strerror or 'no answer'}")
    return Fault("refused", place, f"{what} ({error.strerror or 'no reason given'})")
