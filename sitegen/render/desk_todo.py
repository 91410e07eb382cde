"""What an event asks of the florist, in order, each with the command for it."""

import datetime as dt
from collections.abc import Iterator, Sequence

from sitegen.choices.totals import Totals
from sitegen.price.priced import PricedEvent
from sitegen.records.agreed import last_reply
from sitegen.render.desk import Todo
from sitegen.render.desk_dates import Due
from sitegen.render.desk_figures import Figures
from sitegen.render.desk_late import below_least
from sitegen.render.desk_next import (
    approve_command,
    mail_command,
    order_command,
    paid_entry,
    send_command,
)
from sitegen.render.desk_progress import Progress
from sitegen.render.words import Words

_SOON = dt.timedelta(days=7)


def todo_of(
    priced: PricedEvent, totals: Totals, dates: Sequence[Due], figures: Figures, progress: Progress
) -> Iterator[Todo]:
    """Say what is next, the late first, then day by day; nothing where the event is over or closed."""
    _, event, name = figures.voice.words, priced.folder.event, priced.folder.id
    if event.closed is not None or event.date < figures.today:
        return
    for late in below_least(priced, totals, figures.voice):
        why = _("Change the pieces, or the least in event.md.")
        yield Todo(_("now"), capital(late), why, mail_command(name), late=True)
    for due in dates:
        if due.kind == "payment" and due.day < figures.today and progress.stage == "approved":
            said, why = (
                _("{payment} not received", payment=due.what),
                _("Once it is in, add this to paid: […] in event.md."),
            )
            entry = paid_entry(figures.today, due.amount)
            yield Todo(_("since {day}", day=figures.day(due.day)), said, why, entry, late=True)
    coming = [due for due in dates if due.day >= figures.today]
    changes = next((due for due in coming if due.kind == "changes"), None)
    when = _("before {day}", day=figures.day(changes.day)) if changes else _("next")
    yield from _turn(when, name, progress, _)
    for due in coming:
        if due.kind == "payment" and progress.stage == "approved" and due.day < figures.today + _SOON:
            why, entry = (
                _("Once it is in, add this to paid: […] in event.md."),
                paid_entry(figures.today, due.amount),
            )
            yield Todo(_("by {day}", day=figures.day(due.day)), capital(due.what), why, entry)
        if due.kind == "order":
            why = _("The last day for it. Order only what was agreed.")
            yield Todo(_("by {day}", day=figures.day(due.day)), capital(due.what), why, order_command(name))


def _turn(when: str, name: str, progress: Progress, _: Words) -> Iterator[Todo]:
    """Say whose turn it is on the way to an approval, or to the approval of a change."""
    stage = progress.stage
    if stage == "draft":
        why = _("It makes a revision, and the message that goes with it.")
        yield Todo(when, _("Send the proposal"), why, send_command(name))
    elif stage == "answered":
        why = _("It freezes answers, counts, recipes and prices.")
        yield Todo(when, _("Approve what you agreed on"), why, approve_command(name))
    elif progress.pending:
        why = _("They have a newer proposal than the one approved, and what was approved holds until then.")
        yield Todo(
            when, _("Approve the change, once they agree"), why, approve_command(name, _unanswered(progress))
        )
    elif stage == "sent" and not progress.current:
        why = _("They would see or pay something new: this says what, in a message to them.")
        yield Todo(when, _("Send what has changed"), why, send_command(name))
    elif stage == "sent":
        why = _("It is with them. Paste their message into this command.")
        yield Todo(when, _("Read their reply"), why, "sitegen reply")


def _unanswered(progress: Progress) -> int | None:
    """The revision that they have, where no reply to it is recorded."""
    answered = last_reply(progress.records)
    return None if answered and answered.reply.revision == progress.revision else progress.revision


def capital(text: str) -> str:
    """Begin *text* with a capital."""
    return text[:1].upper() + text[1:]
