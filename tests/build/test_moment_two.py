"""The second moment, whole: sent, chosen, replied, approved; then nothing that was agreed moves any more."""

import json
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from sitegen.cli import approve as approving
from sitegen.cli.main import run as in_process
from sitegen.render.scripts import joined
from sitegen.seal.keys import Secrets
from sitegen.seal.store import Store, find
from tests.running import Command, sitegen
from tests.seal.scripts import BOTH, Run, in_either, in_node

EVENT = "2031-09-13-millrace"
Figures = dict[str, Any]
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module", params=BOTH)
def script(request: pytest.FixtureRequest) -> Iterator[Run]:
    yield from in_either(request)


def figures(studio: Path) -> Figures:
    found: Figures = json.loads((studio / "out" / "desk" / EVENT / "figures.json").read_text("utf-8"))
    return found


def page(studio: Path, name: str) -> str:
    return (studio / "out" / "desk" / EVENT / name).read_text("utf-8")


def key(studio: Path) -> Secrets:
    own = find(Store(studio / ".sitegen" / "keys"), EVENT)
    assert isinstance(own, Secrets)
    return own


CODE = (
    joined("text.js", "code.js", "sums.js")
    + """
const { link, table, revision, phone, turn, lush, count, total, charges } = given;
const keys = await deriveKeys(linkOf({ kind: "c", ...link }));
const picks = usualPicks(table);
picks.pieces[1] = { answers: [lush], quantity: count, out: false };
picks.charges = charges ?? [];
const shown = total ?? totals(table, picks).total;
const said = { revision, phone, turn, notes: await notesDigest([[2, "No lilies"]]), total: shown, picks };
return replyCode(keys.reply, unhex(link.pid), table, said);
"""
)


def code(script: Run, studio: Path, own: Secrets | None = None, **said: Any) -> str:
    """What the page writes, from the table that it carries and the couple's link."""
    data = re.search(r'id="figures"[^>]*>(.*?)</script>', page(studio, "proposal.html"), re.DOTALL)
    assert data
    used = own or key(studio)
    given = {
        "link": {"pid": used.pid.hex(), "secret": used.choose.hex()},
        "table": json.loads(data[1])["table"],
        "revision": 1,
        "phone": 7,
        "turn": 1,
        "lush": 2,
        "count": 6,
        **said,
    }
    made: str = script(CODE, given)
    return made


def message(line: str) -> str:
    quoted = "\n".join(f"> {part}" for part in re.findall(".{1,60}", f"Please leave this line in: {line}"))
    return f"Hello Ilse!\n\nLow bowls\n[2: No lilies :2]\n\n{quoted}\n\nNoor"


def piped(run: Command, studio: Path, text: str, *arguments: str) -> "subprocess.CompletedProcess[str]":
    file = studio / "mail.txt"
    file.write_text(text, encoding="utf-8")
    return run("reply", str(file), *arguments)


def sent(run: Command) -> None:
    for arguments in (("build",), ("send", EVENT)):
        done = run(*arguments)
        assert done.returncode == 0, done.stderr


def approved(run: Command, studio: Path, script: Run) -> Figures:
    sent(run)
    assert piped(run, studio, message(code(script, studio)), "--yes").returncode == 0
    done = run("approve", EVENT, "--yes")
    assert done.returncode == 0, done.stderr
    assert run("build").returncode == 0
    return figures(studio)


def change(studio: Path, name: str, old: str, new: str) -> None:
    path = studio / "content" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def agreed(found: Figures) -> Figures:
    """All that an approval freezes: what is needed is bought at the prices of its own day, and taken in then."""
    bought = {"order", "deliveries", "days"}
    return {name: value for name, value in found.items() if name not in bought} | {
        "need": found["order"]["need"]
    }


def test_from_sending_to_approval(run: Command, studio: Path, script: Run) -> None:
    sent(run)
    done = piped(run, studio, message(code(script, studio)), "--yes", "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, said["recorded"], said["broken"]) == (0, 2, [])
    (one,) = said["codes"]
    assert (one["verdict"], one["event"], one["alarm"], one["notes_whole"]) == ("valid", EVENT, False, True)
    assert one["notes"] == [{"piece": "low-bowls", "text": "No lilies"}]
    (row,) = one["changes"]
    assert (row["name"], row["what"]) == ("Low bowls", ["Lush, instead of Full", "6, instead of 5"])
    assert run("build").returncode == 0
    assert figures(studio)["stage"] == "answered"
    assert run("approve", EVENT, "--yes").returncode == 0
    assert run("build").returncode == 0
    now = figures(studio)
    assert (now["stage"], now["revision"], now["total"]) == ("approved", 1, one["total"])
    bowls = now["pieces"][1]
    assert (bowls["quantity"], bowls["answers"]) == (6, {"fullness": "lush"})
    order = page(studio, "order.html")
    assert "Revision 1, approved" in order
    assert 'class="draft"' not in order
    assert f"${one['total']}" in page(studio, "proposal.html")
    assert "Approved on" in page(studio, "proposal.html")


def test_nothing_agreed_moves_when_the_content_does(run: Command, studio: Path) -> None:
    before = approved(run, studio, in_node)
    proposal = page(studio, "proposal.html")
    change(studio, "stems.yaml", "price: ", "price: 9")
    change(studio, f"events/{EVENT}/02-low-bowls.md", "olive: 2.5", "olive: 4")
    change(studio, f"events/{EVENT}/event.md", "discount: {percent: 5%}", "discount: {percent: 50%}")
    change(studio, "studio.md", "language: en-US", "language: es")
    done = run("build")
    assert done.returncode == 0, done.stderr
    after = figures(studio)
    assert agreed(after) == agreed(before)
    assert after["order"]["cost"] != before["order"]["cost"]
    assert page(studio, "proposal.html") == proposal
    assert "approved-moved" in done.stderr
    assert "Low bowls" in done.stderr
    told = page(studio, "index.html")
    assert "Since approval on" in told
    assert "No agreed figure changes." in told
    assert "approved-moved" not in told
    (studio / "content" / "events" / EVENT / "02-low-bowls.md").unlink()
    assert run("build").returncode == 0
    assert agreed(figures(studio)) == agreed(before)


def test_a_change_after_approval_is_a_new_revision_with_both_totals(run: Command, studio: Path) -> None:
    before = approved(run, studio, in_node)
    change(studio, "stems.yaml", "price: ", "price: 9")
    done = run("send", EVENT)
    assert done.returncode == 0, done.stderr
    assert "revision 2" in done.stdout
    assert f"you approved ${before['total']}. With this change, what you chose comes to $" in done.stdout
    assert run("build").returncode == 0
    now = figures(studio)
    assert (now["stage"], now["revision"], now["total"]) == ("approved", 2, before["total"])
    told = page(studio, "proposal.html")
    assert "Approved on" not in told
    assert f"you approved ${before['total']}. With this change, what you chose comes to $" in told
    assert "Until you agree to it, what you approved holds." in told
    assert "Approve the change, once they agree" in page(studio, "index.html")
    assert run("approve", EVENT, "--yes").returncode == 2
    done = run("approve", EVENT, "--revision", "2", "--why", "they rang", "--yes")
    assert done.returncode == 0, done.stderr
    assert f"it was ${before['total']}" in done.stdout
    assert run("build").returncode == 0
    assert figures(studio)["total"] != before["total"]


def test_an_approval_is_withdrawn_and_stands_in_the_records(run: Command, studio: Path) -> None:
    approved(run, studio, in_node)
    records = studio / "content" / "events" / EVENT / "records"
    kept = {path.name: path.read_bytes() for path in records.glob("*.json")}
    assert run("approve", EVENT, "--withdraw", "--yes").returncode == 2
    assert run("approve", EVENT, "--withdraw", "--why", "postponed", "--yes").returncode == 0
    assert {name: (records / name).read_bytes() for name in kept} == kept
    assert len(list(records.glob("*.json"))) == len(kept) + 1
    assert run("build").returncode == 0
    assert figures(studio)["stage"] == "answered"
    assert 'class="draft"' in page(studio, "order.html")


def test_an_approval_by_hand_names_what_was_agreed(run: Command, studio: Path) -> None:
    sent(run)
    by_hand = ("approve", EVENT, "--pick", "bowls.fullness=lush", "low-bowls=6", "--yes")
    done = run(*by_hand)
    assert (done.returncode, "--why" in done.stderr) == (2, True)
    done = run(*by_hand, "--why", "they rang on Monday")
    assert done.returncode == 0, done.stderr
    assert "Lush, instead of Full; 6, instead of 5" in done.stdout
    assert run("build").returncode == 0
    bowls = figures(studio)["pieces"][1]
    assert (bowls["quantity"], bowls["answers"]) == (6, {"fullness": "lush"})
    assert run(*by_hand, "--why", "they rang again").returncode == 2


SUMMARY = (
    joined("text.js", "notes.js", "sums.js", "send.js")
    + """
const { data } = given;
const picks = usualPicks(data.table);
const atFirst = totals(data.table, picks);
picks.pieces[1] = { answers: [2], quantity: 6, out: false };
const parts = { summary: summaryOf(data, picks, totals(data.table, picks), atFirst), code: given.code };
return wholeMessage({ ...parts, notes: notesText(data, ["", "No lilies"]) }, data.words);
"""
)


def test_what_they_wrote_beside_their_choices_is_shown_and_kept(run: Command, studio: Path) -> None:
    sent(run)
    data = re.search(r'id="figures"[^>]*>(.*?)</script>', page(studio, "proposal.html"), re.DOTALL)
    assert data
    given = {"data": json.loads(data[1]), "code": code(in_node, studio)}
    whole: str = in_node(SUMMARY, given)

    def beside(text: str, *arguments: str) -> str:
        (one,) = json.loads(piped(run, studio, text, "--json", *arguments).stdout)["codes"]
        assert (one["verdict"], one["notes_whole"]) == ("valid", True)
        said: str = one["beside"]
        return said

    wrapped = "\n".join(f"> {line}" for long in whole.splitlines() for line in re.findall(".{1,50}", long))
    assert (beside(whole), beside(wrapped)) == ("", "")
    assert beside(f"{whole}\n\nOn Sunday you wrote:\n> Dear all,\n> here it is") == "On Sunday you wrote:"
    changed = whole.replace("6, instead of 5", "7, instead of 5")
    assert beside(changed).startswith("- Low bowls: Lush, instead of Full; 7, instead of 5")
    wish = f"Could the arch be <b>yellow</b>?\n\n{whole}\n{'x' * 9_000}"
    assert beside(wish, "--yes").startswith("Could the arch be <b>yellow</b>?\nxxx")
    assert run("build").returncode == 0
    told = page(studio, "index.html")
    assert "Beside it: “Could the arch be &lt;b&gt;yellow&lt;/b&gt;?”" in told
    assert "x" * 301 not in told


def test_an_approval_writes_nothing_before_it_is_confirmed_and_loses_no_message(
    run: Command, studio: Path
) -> None:
    done = run("approve", EVENT, "--why", "agreed at the table")
    assert (done.returncode, "nothing was recorded" in done.stderr) == (2, True)
    assert not (studio / "content" / "events" / EVENT / "records").exists()
    done = run("approve", EVENT, "--why", "agreed at the table", "--yes")
    assert f"sitegen send {EVENT}" in done.stdout
    first = run("send", EVENT)
    assert "Dear " in first.stdout
    assert "here is our proposal for your day." in first.stdout
    assert run("send", EVENT).stdout == first.stdout
    change(studio, "stems.yaml", "price: ", "price: 9")
    done = run("approve", EVENT, "--revision", "1", "--pick", "low-bowls=6", "--why", "they rang", "--yes")
    assert f"send it first: sitegen send {EVENT}" in done.stdout
    later = run("send", EVENT)
    assert "has changed:" in later.stdout
    assert "has changed:" in run("send", EVENT).stdout


def test_a_reply_after_an_approval_changes_nothing_that_was_agreed(run: Command, studio: Path) -> None:
    sent(run)
    later = code(in_node, studio, turn=9, count=8)
    before = approved(run, studio, in_node)
    done = piped(run, studio, later, "--yes")
    assert "Recorded" in done.stdout
    assert "You approved this event on 2031-06-01" in done.stdout
    assert run("build").returncode == 0
    assert agreed(figures(studio)) == agreed(before)


def test_every_kind_of_reply_is_told_apart(run: Command, studio: Path) -> None:
    sent(run)
    good = code(in_node, studio)
    own = key(studio)

    def verdicts(text: str, *arguments: str) -> tuple[list[str], list[str], Any]:
        done = piped(run, studio, text, "--json", *arguments)
        assert "Traceback" not in done.stderr
        said = json.loads(done.stdout)
        return [one["verdict"] for one in said["codes"]], said["broken"], said["recorded"]

    assert verdicts(good[:60], "--yes") == ([], ["cut"], None)
    other = "0" if good[20] != "0" else "1"
    assert verdicts(good[:20] + other + good[21:], "--yes") == ([], ["damaged"], None)
    stranger = Secrets(bytes(16), own.choose)
    assert verdicts(code(in_node, studio, stranger), "--yes") == (["unknown"], [], None)
    forger = Secrets(own.pid, bytes(16))
    assert verdicts(code(in_node, studio, forger), "--yes") == (["forged"], [], None)
    assert verdicts(code(in_node, studio, revision=9), "--yes") == (["ahead"], [], None)
    assert verdicts(code(in_node, studio, revision=0), "--yes") == (["ahead"], [], None)
    assert "never sent" in piped(run, studio, code(in_node, studio, revision=0)).stdout
    assert verdicts(good, "--yes") == (["valid"], [], 2)
    assert verdicts(good, "--yes") == (["repeated"], [], None)
    assert verdicts(code(in_node, studio, turn=0, lush=0), "--take", "1")[0] == ["older"]
    change(studio, f"events/{EVENT}/02-low-bowls.md", "label: Lush", "label: Fullest")
    assert run("send", EVENT).returncode == 0
    stale = code(in_node, studio, turn=5)
    done = piped(run, studio, stale, "--yes")
    assert (done.returncode, "stale" in done.stdout) == (1, True)
    assert "--take" in done.stderr
    assert run("link", EVENT, "--phrase").returncode == 0
    assert verdicts(good, "--yes") == (["old link"], [], None)
    assert "before its page asked for a phrase" in piped(run, studio, good).stdout


def test_a_first_approval_that_is_killed_between_its_two_records_is_carried_on(
    run: Command, studio: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def killed(*_: object) -> None:
        raise KeyboardInterrupt

    order = ["approve", EVENT, "--pick", "low-bowls=6", "--why", "agreed at the table", "--yes"]
    with monkeypatch.context() as patched, suppress(KeyboardInterrupt):
        patched.setattr(approving, "recorded", killed)
        in_process([*order, "--content", str(studio / "content"), "--today", "2031-06-01"])
    records = studio / "content" / "events" / EVENT / "records"
    assert [path.name for path in sorted(records.glob("0*"))] == ["0001-revision.json"]
    assert run(*order).returncode == 0
    names = [path.name for path in sorted(records.glob("0*"))]
    assert names == ["0001-revision.json", "0002-approval.json"]
    change(studio, f"events/{EVENT}/02-low-bowls.md", "label: Lush", "label: Fullest")
    assert run("send", EVENT).returncode == 0
    older = run("approve", EVENT, "--revision", "1", "--pick", "low-bowls=4", "--why", "they rang", "--yes")
    assert "They have had revision 2" in older.stdout


def test_two_phones_are_both_shown_and_the_florist_decides(run: Command, studio: Path) -> None:
    sent(run)
    both = code(in_node, studio, phone=1) + "\n\n" + code(in_node, studio, phone=2, lush=0)
    done = piped(run, studio, both, "--yes")
    assert done.returncode == 1
    assert "--take" in done.stderr
    assert (done.stdout.count("a reply to revision 1"), "Recorded" in done.stdout) == (2, False)
    done = piped(run, studio, both, "--take", "2")
    assert "Recorded" in done.stdout
    again = piped(run, studio, both, "--yes")
    assert (again.returncode, "Recorded" in again.stdout) == (1, False)
    for argument in ("1", "2"):  # the other counts after all, and then the first again
        assert "Recorded" in piped(run, studio, both, "--take", argument).stdout
    again = piped(run, studio, both, "--take", "2")
    assert (again.returncode, "Recorded" in again.stdout) == (0, False)
    assert "Nothing was recorded" in again.stdout
    assert run("build").returncode == 0
    done = piped(run, studio, code(in_node, studio, phone=1, turn=2), "--yes")
    assert "from another phone" in done.stdout
    assert "Lush, instead of Airy" in done.stdout


def test_the_same_choices_at_another_price_are_not_called_the_same(run: Command, studio: Path) -> None:
    sent(run)
    assert piped(run, studio, code(in_node, studio), "--yes").returncode == 0
    before = json.loads(piped(run, studio, code(in_node, studio), "--json").stdout)["codes"][0]["total"]
    change(studio, f"events/{EVENT}/02-low-bowls.md", "olive: 2.5", "olive: 9")
    assert run("send", EVENT).returncode == 0
    assert run("build").returncode == 0
    again = code(in_node, studio, revision=2, turn=2)
    done = piped(run, studio, again)
    now = json.loads(piped(run, studio, again, "--json").stdout)["codes"][0]
    assert (now["was"], now["changes"], now["total"] != before) == (before, [], True)
    assert "nothing differs" in done.stdout
    was, comes_to = (f"${float(one):,.2f}" for one in (before, now["total"]))
    assert f"Total {comes_to}, it was {was} (" in done.stdout
    assert (
        f"came to {was} in revision 1, and the same choices come to {comes_to} in revision 2" in done.stdout
    )


def test_a_total_that_differs_is_an_alarm(run: Command, studio: Path) -> None:
    sent(run)
    wrong = code(in_node, studio, total=12345)
    done = piped(run, studio, wrong, "--yes")
    assert done.returncode == 1
    assert "ALARM: their page showed $123.45" in done.stdout
    assert "Recorded" not in done.stdout
    assert "Recorded" in piped(run, studio, wrong, "--take", "1").stdout


def test_records_changed_by_hand_are_named_and_never_used(run: Command, studio: Path) -> None:
    approved(run, studio, in_node)
    record = studio / "content" / "events" / EVENT / "records" / "0003-approval.json"
    record.write_bytes(record.read_bytes().replace(b'"quantity":6', b'"quantity":7'))
    for arguments in (("build",), ("approve", EVENT, "--yes"), ("send", EVENT), ("compare", EVENT)):
        done = run(*arguments)
        assert done.returncode == 1
        assert "0003-approval.json" in done.stderr
        assert "Traceback" not in done.stderr


def test_text_without_a_code_is_only_read(run: Command, studio: Path) -> None:
    done = piped(run, studio, "We want it \x1b[31mall\u202e\n" + "long " * 9999, "--yes")
    assert done.returncode == 1
    assert "no code" in done.stdout
    inside = sitegen(studio / "content", "reply", "../mail.txt", "--content", ".")
    assert (inside.returncode, "no code" in inside.stdout) == (1, True)
    assert not set("\x1b\u202e") & set(done.stdout)
    assert len(done.stdout) < 5000


def test_two_replies_at_once_lose_nothing(run: Command, studio: Path) -> None:
    sent(run)
    running = []
    for phone in (1, 2, 3):
        file = studio / f"mail-{phone}.txt"
        file.write_text(code(in_node, studio, phone=phone), encoding="utf-8")
        arguments = [sys.executable, "-m", "sitegen", "reply", str(file), "--yes"]
        running.append(
            subprocess.Popen(
                arguments, cwd=studio, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
                env={**os.environ, "SITEGEN_TODAY": "2031-06-01"},
            )
        )  # fmt: skip
    said = [process.communicate(timeout=60)[1] for process in running]
    done = [process.returncode for process in running]
    records = studio / "content" / "events" / EVENT / "records"
    assert len(list(records.glob("*-reply.json"))) == done.count(0) >= 1
    for code_, text in zip(done, said, strict=True):
        assert (code_, "run this again" in text) in {(0, False), (3, True)}
    assert run("check").returncode == 0


def test_a_disk_that_refuses_is_said_and_nothing_is_recorded(run: Command, studio: Path) -> None:
    sent(run)
    records = studio / "content" / "events" / EVENT / "records"
    kept = {path.name for path in records.glob("*.json")}
    (records / ".lock").unlink(missing_ok=True)
    (records / ".lock").mkdir()  # what cannot be locked cannot be written
    done = piped(run, studio, code(in_node, studio), "--yes")
    assert done.returncode == 3
    assert "Traceback" not in done.stderr
    assert {path.name for path in records.glob("*.json")} == kept


def test_revisions_are_compared_in_words_and_money(run: Command, studio: Path) -> None:
    assert run("compare", EVENT).returncode == 2
    sent(run)
    assert "Nothing has changed." in run("compare", EVENT).stdout
    change(studio, f"events/{EVENT}/02-low-bowls.md", "usual: 5", "usual: 6")
    assert "Low bowls: six instead of five" in run("compare", EVENT).stdout
    assert "revision 2" in run("send", EVENT).stdout
    for arguments in (("compare", EVENT, "1", "2"), ("compare", EVENT, "1")):
        assert "Low bowls: six instead of five" in run(*arguments).stdout
    assert run("compare", EVENT, "1", "9").returncode == 2
