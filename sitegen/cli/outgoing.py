"""What the commands that go out share: one event, built and worked out, its key, and the way to its host."""

import argparse
import importlib
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Event as Pause

from sitegen.build.event import Worked, work_out
from sitegen.build.lock import locked
from sitegen.build.quick import SEALED, SITE_FILES, Survey, survey, unchanged
from sitegen.build.run import build
from sitegen.build.sealed import key_store, receipts_in
from sitegen.build.settings import Settings
from sitegen.check.shared import check_shared
from sitegen.cli.exits import CONTENT, OUTSIDE, USAGE, Stop, say
from sitegen.cli.progress import watched
from sitegen.model.publish import S3, Sftp
from sitegen.pictures.memo import Memo
from sitegen.publish.address import Address
from sitegen.publish.credentials import WHERE, Lookup, lookup, s3_login, sftp_login
from sitegen.publish.folder import FolderHost, kept_in_history
from sitegen.publish.host import Host
from sitegen.publish.settings import PublishSettings, read_settings
from sitegen.publish.site import SealedSite
from sitegen.publish.way import Way
from sitegen.report import finding, whole
from sitegen.seal.base32 import encode
from sitegen.seal.keys import Secrets
from sitegen.seal.store import KeyFault, KeyTrouble, find
from sitegen.values.problem import Problem, has_errors, in_order


@dataclass(frozen=True, slots=True)
class Outgoing:
    """One event, as it stands built."""

    found: Survey
    worked: Worked
    own: Secrets

    @property
    def event(self) -> str:
        return self.worked.folder.id

    @property
    def settings(self) -> Settings:
        return self.found.settings

    def site(self) -> SealedSite:
        """Read what the build has sealed. Raises OSError."""
        folder = self.settings.out / SEALED
        own = folder / encode(self.own.pid)
        blobs: dict[str, bytes | Path] = {f"b/{path.name}": path for path in sorted(own.glob("b/*.bin"))}
        shared = {name: (folder / name).read_bytes() for name in SITE_FILES}
        return SealedSite(own.name, (own / "index.html").read_bytes(), blobs, shared)


def ready(settings: Settings, *, quiet: bool) -> Outgoing:
    """Build the one event that is named, and work it out. Raises `Stop`."""
    found = survey(settings)
    if len(found.wanted) != 1:
        raise Stop("name one event", USAGE)
    settings = replace(settings, events=found.wanted)
    if not found.nothing_to_do:
        with locked(settings), watched(quiet=quiet) as progress:
            outcome = build(found, progress)
    else:
        outcome = unchanged(found)
    if outcome.findings and not quiet:
        say(whole(outcome.findings, "" if outcome.ok else "Nothing was written."), error=True)
    if not outcome.ok:
        raise Stop("nothing goes out while there are errors in the content", CONTENT)
    found = survey(settings)
    worked, problems = work_out(
        found.files(found.wanted[0]), check_shared(found.tree), settings.today, Memo()
    )
    if worked is None:
        raise _stopped(problems)
    own = find(key_store(settings.home), worked.folder.id)
    if isinstance(own, KeyFault):
        raise Stop(lost(own), OUTSIDE)
    if worked.folder.event.closed:
        raise Stop(f"{worked.folder.id} is {worked.folder.event.closed}: nothing of it goes out", USAGE)
    return Outgoing(found, worked, own)


def lost(fault: KeyFault) -> str:
    """Say that a key cannot be used, and that nothing was put in its place."""
    state = "is lost" if fault.trouble is KeyTrouble.MISSING else f"is {fault.trouble}"
    return (
        f"the key of {fault.event} {state} ({fault.path}). Nothing was overwritten. Take it from your backup:"
        f" sitegen keys import FILE. Without one the couple need a new link: sitegen link {fault.event} "
        "--renew"
    )


def _stopped(problems: list[Problem]) -> Stop:
    say(whole([finding(problem) for problem in in_order(problems)], "Nothing was sent."), error=True)
    return Stop("nothing goes out while there are errors in the content", CONTENT)


def target_of(found: Survey) -> PublishSettings:
    """Read publish.yaml. Raises `Stop` where it has errors."""
    target, problems = read_settings(found.tree.shared.get("publish.yaml"), found.settings.content)
    if target is None or has_errors(problems):
        raise _stopped(problems)
    out, folder = found.settings.out.resolve(), target.target
    if isinstance(folder, Path) and (folder.is_relative_to(out) or out.is_relative_to(folder)):
        how = "Name another folder in publish.yaml, such as ../published"
        raise Stop(
            f"{folder} would be given out together with {out}, where stands what you pay. {how}", USAGE
        )
    return target


def way_of(found: Survey, event: str, now: int) -> Way:
    """Give the way to the host of publish.yaml, and to its readers. Raises `Stop`."""
    target = target_of(found)
    address = Address(target.address) if target.address else None
    in_folder = isinstance(target.target, Path)
    lags = in_folder and address is not None and not address.loopback
    receipts = receipts_in(found.settings.home)
    return Way(_host(target), address, receipts, event, now, _wait, lags)


def _wait(seconds: int) -> None:
    Pause().wait(seconds)


def _host(target: PublishSettings) -> Host:
    if isinstance(target.target, Path):
        return FolderHost(target.target)
    secrets = lookup(os.environ, _keyring())
    return _sftp(target.target, secrets) if isinstance(target.target, Sftp) else _s3(target.target, secrets)


def _sftp(target: Sftp, secrets: Lookup) -> Host:
    from sitegen.publish.sftp import SftpHost

    return SftpHost(target, sftp_login(secrets))


def _s3(target: S3, secrets: Lookup) -> Host:
    from sitegen.publish.s3 import S3Host

    login = s3_login(secrets)
    if login is None:
        names = "SITEGEN_S3_KEY_ID and SITEGEN_S3_SECRET"
        raise Stop(f"there is no key for {target.bucket}: {WHERE.format(name=names)}", OUTSIDE)
    try:
        return S3Host(target, login)
    except ValueError:  # said of an endpoint that is an address, and none that such storage may have
        raise Stop(
            f"{target.endpoint} is no address of a storage: correct endpoint in publish.yaml", USAGE
        ) from None


def _keyring() -> Callable[[str, str], str | None] | None:
    """The system's keyring, where the library for it is installed and one is there."""
    try:
        ring = importlib.import_module("keyring")
    except ImportError:
        return None

    def ask(service: str, name: str) -> str | None:
        try:
            found = ring.get_password(service, name)
        except ring.errors.KeyringError:
            return None
        return str(found) if found else None

    return ask


def history_note(way: Way) -> str:
    """Say that a version history keeps what is withdrawn; empty where there is none."""
    if isinstance(way.host, FolderHost) and kept_in_history(way.host.root):
        return "A version history (git) lies over this folder: what it keeps, no withdrawal takes back."
    return ""


def now_of(options: argparse.Namespace) -> int:
    """The seconds since 1970, as the command line read them from the clock."""
    return int(options.now)


def counted(number: int) -> str:
    """Say a number of files."""
    return "1 file" if number == 1 else f"{number} files"
