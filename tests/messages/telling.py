"""All problems of a content folder as `sitegen check` tells them, on a day of its own."""

import datetime as dt
from pathlib import Path

from sitegen import report
from sitegen.build.inspect import inspect
from sitegen.build.quick import survey
from sitegen.build.settings import Settings
from sitegen.report import Finding

TODAY = dt.date(2031, 3, 1)


def findings_in(home: Path, today: dt.date = TODAY) -> tuple[Finding, ...]:
    """Check the folder `content` in *home*: every problem, in order. Nothing is written."""
    settings = Settings(home / "content", home / "out", today, "content")
    return inspect(survey(settings)).findings


def codes_in(home: Path) -> list[str]:
    return [found.code for found in findings_in(home)]


def told(home: Path, code: str = "") -> str:
    """What the florist reads about `content` in *home*: all, or the findings of one *code*."""
    findings = [found for found in findings_in(home) if code in ("", found.code)]
    return report.whole(findings, "") + "\n" if findings else ""
