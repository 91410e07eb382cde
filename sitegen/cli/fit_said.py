"""What fits a budget in sentences for the florist: what it gives up, what each saves, and the next steps."""

import shlex
from collections.abc import Iterator
from fractions import Fraction

from sitegen.build.applied import Start
from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.totals import totals
from sitegen.cli.picking import as_said
from sitegen.fit.fit import Fit, Fitted, GivenUp
from sitegen.records.shown import Shown
from sitegen.render.changes import voice_of
from sitegen.reply.difference import picks_difference
from sitegen.values.money import Currency
from sitegen.values.number import decimal_text


def told(found: Fitted, shown: Shown, budget: Fraction, start: Start) -> Iterator[str]:
    """Say what was found for a *budget* in units of the currency."""
    units = Currency(shown.currency, shown.table.digits).units(budget)
    if start.agreed:
        was = voice_of(shown).money.exact(start.agreed.approval.total)
        yield f"Approved on {start.agreed.day} at {was}; this would be a change of that, at prices of now."
    if found.fit is None:
        yield from _too_little(found.least, shown, units)
    else:
        yield from _fitting(found.fit, shown, units, start)
        yield from _steps(found, found.fit, shown)
        yield from _next(found.fit, shown, budget, start)


def _too_little(least: Fit, shown: Shown, units: int) -> Iterator[str]:
    exact = voice_of(shown).money.exact
    yield f"{shown.names}: a budget of {exact(units)} is too little."
    above = exact(least.total - units)
    yield f"Even the least that it can come to, {exact(least.total)}, is {above} above it."
    yield from _given_up("What would be given up for it, and what each saves:", least, shown)
    yield "Next  raise the budget, or make pieces optional, smaller or fewer"


def _fitting(best: Fit, shown: Shown, units: int, start: Start) -> Iterator[str]:
    exact = voice_of(shown).money.exact
    yield f"{shown.names}: {exact(best.total)} of a budget of {exact(units)}"
    said = "As agreed" if start.agreed else "As you suggest"
    yield f"{said} it comes to {exact(suggested(shown, best.picks))}."
    if not best.given_up:
        yield f"It fits as it stands, with {exact(units - best.total)} to spare: nothing is given up."
    else:
        yield f"Of what matters it keeps {best.kept} of {best.matters}."
        yield from _given_up("Given up, and what each saves:", best, shown)
    yield from _charges(best.picks, shown)
    if best.total < shown.least:
        yield f"Note  That is below your least of {exact(shown.least)}; the couple's page would say so."
    if not best.proven:
        yield "Note  The search ended before it was proven that nothing keeps more."


def suggested(shown: Shown, picks: Picks) -> int:
    """Give the total as suggested, with the charges of *picks*."""
    return totals(shown.table, Picks(usual_picks(shown.table).pieces, picks.charges)).total


def _given_up(head: str, of: Fit, shown: Shown) -> Iterator[str]:
    money = voice_of(shown).money
    yield head
    amounts = [money.exact(one.saves) for one in of.given_up]
    width = max(map(len, amounts), default=0)
    for one, amount in zip(of.given_up, amounts, strict=True):
        title = shown.pieces[one.piece].title
        yield f"  {amount:>{width}}  {title}: {what(one, of.picks, shown)} ({_matters(one)})"


def _matters(one: GivenUp) -> str:
    """What the files say of it; and where more goes with it, what that comes to."""
    more = one.weight != one.matters
    return f"matters {one.matters}" + (f", with its count and answers {one.weight}" if more else "")


def what(one: GivenUp, picks: Picks, shown: Shown) -> str:
    """Say what stands in the place of something that *picks* give up."""
    pick, piece = picks.pieces[one.piece], shown.table.pieces[one.piece]
    if one.choice is not None:
        answers = shown.pieces[one.piece].choices[one.choice].answers
        now, usual = pick.answers[one.choice], piece.usual[one.choice]
        return f"{answers[now].label}, instead of {answers[usual].label}"
    return "left out" if pick.out or not pick.quantity else f"{pick.quantity}, instead of {piece.quantity}"


def _charges(picks: Picks, shown: Shown) -> Iterator[str]:
    chosen = [shown.labels.charges[i] for i in sorted(picks.charges)]
    if chosen:
        yield f"With {', '.join(chosen)}, as their last reply asks for."


def _steps(found: Fitted, best: Fit, shown: Shown) -> Iterator[str]:
    exact = voice_of(shown).money.exact
    for head, way, step in (("more", 1, found.more), ("less", -1, found.less)):
        if step is not None:
            apart = exact(way * (step.total - best.total))
            yield f"One step {head}: {exact(step.total)}, {apart} {head}, keeps {step.kept}:"
            yield from _differing(best, step, shown)


def _differing(best: Fit, step: Fit, shown: Shown) -> Iterator[str]:
    money = voice_of(shown).money
    for row in picks_difference(shown, best.picks, step.picks).rows:
        moved = f" ({money.change(row.moved)})" if row.moved else ""
        yield f"  {row.name}: {'; '.join(row.what)}{moved}"


def _next(best: Fit, shown: Shown, budget: Fraction, start: Start) -> Iterator[str]:
    name = shlex.quote(start.content.folder.id)
    yield f"Next  sitegen preview {name} --fit {decimal_text(budget)}, to see the proposal like this"
    if said := as_said(shown, best.picks):
        words = " ".join(shlex.quote(word) for word in said)
        if start.agreed:
            yield f"      sitegen send {name}, where the files have changed since, and then"
        yield f'      sitegen approve {name} --pick {words} --why "…", once they agree to it'
