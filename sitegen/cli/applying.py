"""What `sitegen preview` is told to show a proposal at: a budget, or a recorded reply."""

import argparse
from dataclasses import replace

from sitegen.build.quick import Survey
from sitegen.build.settings import Applied, Settings
from sitegen.cli.exits import USAGE, Stop
from sitegen.values.number import Unreadable, number


def applied(settings: Settings, found: Survey, options: argparse.Namespace) -> Settings:
    """Give settings that show the one named event so, in a place apart: what is built stays as it is."""
    if not settings.events:
        raise Stop("name the event whose proposal is to be shown: sitegen preview EVENT --fit N", USAGE)
    try:
        budget = None if options.fit is None else number(options.fit)
    except Unreadable as bad:
        raise Stop(f"--fit: {bad.what}; {bad.fix}", USAGE) from None
    apart = settings.home / "cache" / "applied"
    return replace(settings, out=apart, applied=Applied(found.wanted[0], budget, options.reply))
