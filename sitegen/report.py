"""Problems as text for people and as lines for machines. Prints nothing itself.

Tone: the first line alone is enough for an editor: path, line, column,
severity, one sentence in lower case without a full stop, stable code last.
`why` speaks of the florist's work, `fix` is something she could type. Places
show the author's own line. No word of Python reaches her.
"""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from sitegen.values.number import many
from sitegen.values.problem import Problem
from sitegen.values.source import Place


@dataclass(frozen=True, slots=True)
class Finding:
    """A problem without its source: flat, so that it can be kept and told again."""

    severity: str
    code: str
    path: str
    line: int
    column: int
    width: int
    excerpt: str
    what: str
    why: str
    fix: str
    related: tuple[str, ...]
    event: str


def finding(problem: Problem) -> Finding:
    """Flatten *problem*; whatever would move a terminal's cursor is replaced."""
    place = problem.place
    return Finding(
        problem.severity,
        problem.code,
        _safe(place.source.path),
        place.line,
        place.column,
        place.width,
        _safe(place.excerpt),
        _safe(problem.what),
        _safe(problem.why),
        _safe(problem.fix),
        tuple(_safe(f"{word}: {_at(there)}") for word, there in problem.related),
        problem.event,
    )


def _at(place: Place) -> str:
    return str(place) if place.source.text else place.source.path


def _safe(text: str) -> str:
    return "".join(char if char.isprintable() else " " if char == "\t" else "�" for char in text)


def text(found: Finding) -> str:
    """Show one finding with the author's line, underlined, and what to do."""
    head = f"{found.path}:{found.line}:{found.column}: {found.severity}: {found.what}  [{found.code}]"
    lines = [head]
    if found.excerpt.strip():
        number = str(found.line)
        bar = " " * len(number) + " |"
        excerpt, start = _around(found)
        lines += [bar, f"{number} | {excerpt}", f"{bar} {' ' * start}{'^' * min(found.width, 100)}"]
    lines += [f"see:  {related}" for related in found.related]
    return "\n".join([*lines, f"why:  {found.why}", f"fix:  {found.fix}"])


def _around(found: Finding, most: int = 160) -> tuple[str, int]:
    """Cut a very long line around its fault; give where the fault begins in what is left."""
    start = found.column - 1
    if len(found.excerpt) <= most:
        return found.excerpt, start
    first = max(0, start - most // 2)
    return found.excerpt[first : first + most], start - first


def count(findings: Sequence[Finding]) -> str:
    """Say how many errors and warnings, in how many files: `3 errors in 2 files`."""
    parts = []
    for severity in ("error", "warning"):
        of_kind = [found for found in findings if found.severity == severity]
        if of_kind:
            files = len({found.path for found in of_kind})
            parts.append(f"{many(len(of_kind), severity)} in {many(files, 'file')}")
    return " and ".join(parts)


def whole(findings: Sequence[Finding], closing: str) -> str:
    """All findings, one below the other, then how many, and *closing*."""
    blocks = [text(found) for found in findings]
    if findings:
        blocks.append(f"{count(findings)}. {closing}".rstrip())
    elif closing:
        blocks.append(closing)
    return "\n\n".join(blocks)


def plain(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    """Findings as plain data for JSON."""
    return [asdict(found) for found in findings]


def again(data: dict[str, Any]) -> Finding:
    """Take back what `plain` gave."""
    return Finding(**{**data, "related": tuple(data["related"])})
