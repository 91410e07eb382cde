"""The record of an event on the desk, in plain words."""

import datetime as dt

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.totals import totals
from sitegen.records.agreed import Approval, Noted, Reply, Withdrawal
from sitegen.records.journal import Record, sealed
from sitegen.records.revisions import Sent
from sitegen.records.snapshot import Snapshot, snapshot
from sitegen.render.desk import Recorded
from sitegen.render.desk_figures import figures_for
from sitegen.render.desk_progress import Move, Moved
from sitegen.render.desk_record import record_rows
from sitegen.render.desk_since import since_approval
from sitegen.values.money import Currency
from tests.render import sample

FIGURES = figures_for("en-US", Currency("USD", 2), dt.date(2031, 6, 1))
DAY = dt.date(2031, 5, 3)
FIRST = snapshot(sample.priced())
SECOND = snapshot(sample.priced(sample.BOUQUETS, sample.TABLES | {"quantity": "11"}))
CHOSEN = Picks((Pick((1, 0, 1), 7), Pick((), 1, out=True), Pick((), 12)), frozenset({1}))


def records(*bodies: tuple[str, object]) -> list[Record]:
    return [sealed(at, kind, DAY, "", body) for at, (kind, body) in enumerate(bodies, 1)]


def reply(picks: Picks, of: Snapshot = FIRST, revision: int = 1, **more: object) -> Reply:
    total = totals(of.shown.table, picks).total
    made = {"code": "x", "shown": total, "phone": 10, "turn": 1, **more}
    return Reply(revision, picks, total, **made)  # type: ignore[arg-type]  # fields by name


def told(*bodies: tuple[str, object]) -> list[tuple[str, tuple[str, ...]]]:
    return [(row.what, row.lines) for row in record_rows(records(*bodies), FIGURES)]


def test_what_was_sent_says_what_is_new_against_the_one_before() -> None:
    newest, first = told(("revision", Sent(1, FIRST)), ("revision", Sent(2, SECOND)))
    assert first == (f"Revision 1 sent, {money(FIRST)}", ())
    assert newest[0].startswith(f"Revision 2 sent, {money(SECOND)} (−$")
    assert "Low bowls: eleven instead of twelve" in newest[1]
    assert "Arch: no longer in it" in newest[1]


def money(of: Snapshot) -> str:
    total = totals(of.shown.table, usual_picks(of.shown.table)).total
    return f"${total // 100:,}.{total % 100:02}"


def test_a_reply_says_what_it_picks_and_its_notes() -> None:
    notes = (Noted("arch", "No lilies"), Noted("", "Ring us"))
    (what, lines), _ = told(("revision", Sent(1, FIRST)), ("reply", reply(CHOSEN, notes=notes)))
    total = totals(FIRST.shown.table, CHOSEN).total
    assert what == f"Reply from phone 000A to revision 1, ${total // 100:,}.{total % 100:02}"
    assert lines == (
        "Attendants' bouquets: Fuller; Long trail; 7, instead of 5",
        "Arch: left out",
        "Late collection: added",
        "Arch, their note: “No lilies”",
        "On all of it, their note: “Ring us”",
    )


def test_a_reply_to_an_older_revision_or_with_another_total_says_so() -> None:
    usual = reply(usual_picks(FIRST.shown.table), shown=1)
    (what, lines), *_ = told(("revision", Sent(1, FIRST)), ("revision", Sent(2, SECOND)), ("reply", usual))
    assert what.endswith("; they had revision 2 by then; their page showed $0.01")
    assert lines == ("As we suggest",)


def test_an_approval_says_where_it_came_from_and_a_withdrawal_what_it_takes_back() -> None:
    total = totals(FIRST.shown.table, CHOSEN).total
    rows = told(
        ("revision", Sent(1, FIRST)),
        ("reply", reply(CHOSEN)),
        ("approval", Approval(1, CHOSEN, total, 2)),
        ("withdrawal", Withdrawal(3, "postponed")),
        ("approval", Approval(1, usual_picks(FIRST.shown.table), 1, None, "they rang")),
        ("placed", {}),
    )
    placed, by_hand, withdrawn, approved, *_ = [(what.replace("\u00a0", " "), lines) for what, lines in rows]
    assert placed[0] == "Order placed"
    assert by_hand == ("Approved, revision 1, $0.01", ("they rang", "As we suggest"))
    assert withdrawn == ("Approval of Sat, May 3 withdrawn", ("postponed",))
    assert approved[0].endswith("; from the reply of Sat, May 3")
    assert "Arch: left out" in approved[1]


def test_what_was_never_sent_is_still_told() -> None:
    """A revision that is gone from the records leaves bare facts, and no fault."""
    (what, lines), *_ = told(("reply", reply(CHOSEN)))
    assert (what, lines) == ("Reply from phone 000A to revision 1", ())


def test_no_record_no_row() -> None:
    assert record_rows((), FIGURES) == ()
    assert isinstance(record_rows(records(("placed", {})), FIGURES)[0], Recorded)


def test_what_moved_says_what_it_does_to_what_is_left() -> None:
    moves = (Move("Arch", "its materials cost otherwise", -600), Move("Payments", "have changed", 0))
    since = since_approval(Moved(DAY, moves, 30200, 29600), FIGURES)
    assert since.title.replace("\u00a0", " ") == "Since approval on Sat, May 3"
    assert [(one.label, one.amount) for one in (*since.moves, *since.sums)] == [
        ("Arch: its materials cost otherwise", "−6.00"),
        ("Payments: have changed", ""),
        ("Left after what is in the recipes, as approved", "302.00"),
        ("Made as the content is today", "296.00"),
    ]
    assert since.closing == "No agreed figure changes."
    nothing = since_approval(Moved(DAY, (), 30200, 30200), FIGURES)
    assert (nothing.sums, nothing.closing) == ((), "Nothing has moved.")
