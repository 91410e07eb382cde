"""`sitegen fit`: what keeps the most of a proposal within a budget, and what that gives up."""

import argparse
from fractions import Fraction
from typing import Any

from sitegen.build.applied import Start, fitted, start_of
from sitegen.build.quick import Survey
from sitegen.cli.exits import CONTENT, DONE, USAGE, Stop, say, say_json
from sitegen.cli.fit_said import suggested, told, what
from sitegen.cli.picking import as_said
from sitegen.cli.recording import event_named, journal_of, worked_out
from sitegen.fit.fit import Fit, Fitted
from sitegen.model.content import EventFolder
from sitegen.records.shown import Shown
from sitegen.records.snapshot import snapshot
from sitegen.values.money import Currency
from sitegen.values.number import Unreadable, number


def fit(options: argparse.Namespace, survey: Survey) -> int:
    """Say what fits the budget of an event; nothing is written."""
    event = event_named(survey, options.event)
    records = journal_of(survey, event).records
    start = start_of(worked_out(survey, event).content, records)
    budget = _budget(options, start.content.folder)
    units = start.content.shared.currency.units(budget)
    found = fitted(start, units)
    shown = snapshot(start.content).shown
    if options.json:
        say_json(_plain(found, shown, units, start))
    else:
        for line in told(found, shown, budget, start):
            say(line)
    return DONE if found.fit else CONTENT


def _budget(options: argparse.Namespace, event: EventFolder) -> Fraction:
    if options.budget is None:
        if event.event.budget is None:
            raise Stop("say --budget N, or write a budget in event.md", USAGE)
        return event.event.budget
    try:
        return number(options.budget)
    except Unreadable as bad:
        raise Stop(f"--budget: {bad.what}; {bad.fix}", USAGE) from None


def _plain(found: Fitted, shown: Shown, units: int, start: Start) -> dict[str, Any]:
    money = Currency(shown.currency, shown.table.digits)
    return {
        "ok": found.fit is not None,
        "event": start.content.folder.id,
        "approved": start.agreed.day.isoformat() if start.agreed else None,
        "budget": money.text(units),
        "currency": money.code,
        "suggested": money.text(suggested(shown, (found.fit or found.least).picks)),
        "fit": _plain_fit(found.fit, shown, money),
        "more": _plain_fit(found.more, shown, money),
        "less": _plain_fit(found.less, shown, money),
        "least": _plain_fit(found.least, shown, money),
    }


def _plain_fit(of: Fit | None, shown: Shown, money: Currency) -> dict[str, Any] | None:
    if of is None:
        return None
    return {
        "total": money.text(of.total),
        "kept": of.kept,
        "matters": of.matters,
        "proven": of.proven,
        "charges": [shown.table.charges[i].id for i in sorted(of.picks.charges)],
        "pick": as_said(shown, of.picks),
        "given_up": [
            {
                "piece": shown.pieces[one.piece].id,
                "choice": None if one.choice is None else shown.pieces[one.piece].choices[one.choice].id,
                "what": what(one, of.picks, shown),
                "matters": one.matters,
                "weight": one.weight,
                "saves": money.text(one.saves),
            }
            for one in of.given_up
        ],
    }
