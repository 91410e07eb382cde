"""Secrets in `publish.yaml`, which may be shared: found, told where they belong, and never shown again."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sitegen.publish.credentials import WHERE
from sitegen.values.node import Map, Node, Path, Scalar, Seq
from sitegen.values.number import shorten
from sitegen.values.problem import Problem
from sitegen.values.source import Place, Source

_WHY = "This file is copied and shared with the content; whoever reads it could change your site."
_KEY = re.compile(
    r"pass(word|wd|phrase)?|.*(password|passphrase|secret|token|credential|private|(access|api).?key).*|key(.?id)?",
    re.IGNORECASE,
)
_LOGIN = re.compile(r"[a-z0-9+.-]+://[^/@\s]*:[^/@\s]*@", re.IGNORECASE)
_NAMES = {
    "sftp": "SITEGEN_SFTP_PASSWORD (a password) or SITEGEN_SFTP_KEY (a key's file)",
    "s3": "SITEGEN_S3_KEY_ID and SITEGEN_S3_SECRET",
}


@dataclass(frozen=True, slots=True)
class Planted:
    """A secret: what to say of it, and the stretches of the file to hide."""

    problem: Problem
    spots: tuple[Place, ...]


def secrets_in(node: Node, path: Path = ()) -> Iterator[Planted]:
    """Find lines that name a secret, and values that look like one."""
    if isinstance(node, Seq):
        for i, item in enumerate(node.items):
            yield from secrets_in(item, (*path, i))
    elif isinstance(node, Map):
        for name, (key, value) in node.entries.items():
            if name != "host_key" and _KEY.fullmatch(name):
                what = f'"{shorten(name)}" does not belong in this file'
                yield Planted(_problem(key, (*path, name), what), tuple(_scalars(value)))
            else:
                yield from secrets_in(value, (*path, name))
    elif "PRIVATE KEY" in node.text or _LOGIN.match(node.text):
        yield Planted(_problem(node, path, "a secret stands here"), (node.place,))


def masked(problems: Sequence[Problem], hidden: Sequence[Planted]) -> list[Problem]:
    """Say of each place with a secret only that, and hide secrets in the lines that are shown."""
    if not hidden:
        return list(problems)
    own = {secret.problem.place: secret.problem for secret in hidden}
    source = _hidden(hidden[0].problem.place.source, [spot for secret in hidden for spot in secret.spots])
    kept = [problem for problem in problems if own.get(problem.place, problem) is problem]
    return [
        replace(
            one,
            place=Place(source, one.place.start, one.place.end),
            related=tuple((word, Place(source, at.start, at.end)) for word, at in one.related),
        )
        for one in kept
    ]


def _hidden(source: Source, spots: Sequence[Place]) -> Source:
    text = source.text
    for spot in spots:
        stars = re.sub(r"[^\n]", "*", text[spot.start : spot.end])
        text = text[: spot.start] + stars + text[spot.end :]
    return Source(source.path, text)


def _scalars(node: Node) -> Iterator[Place]:
    if isinstance(node, Scalar):
        yield node.place
    elif isinstance(node, Seq):
        for item in node.items:
            yield from _scalars(item)
    else:
        for _, value in node.entries.values():
            yield from _scalars(value)


def _problem(at: Scalar, path: Path, what: str) -> Problem:
    names = _NAMES.get(str(path[0]), f"{_NAMES['sftp']}, or {_NAMES['s3']}")
    fix = f"delete it here, change it at your host if others have seen it, and {WHERE.format(name=names)}"
    return Problem("key-unknown", at.place, what, _WHY, fix)
