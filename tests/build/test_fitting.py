"""What fits a budget, as the command says it and as a preview shows it; a preview at a recorded reply."""

import datetime as dt
import json
import re
from pathlib import Path
from typing import Any

import pytest

from sitegen.build.quick import Outcome
from sitegen.build.settings import Applied, Settings
from sitegen.preview.serve import rebuild
from tests.build.test_moment_two import EVENT, change, code, message, piped, sent
from tests.running import Command, whole
from tests.seal.scripts import in_node

BOWLS = f"events/{EVENT}/02-low-bowls.md"


def fitted(run: Command, *arguments: str) -> dict[str, Any]:
    done = run("fit", EVENT, "--json", *arguments)
    assert done.returncode in {0, 1}, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def shown(studio: Path, **applied: Any) -> tuple[Outcome, str]:
    """Build what a preview shows, and give the table of the couple's page."""
    settings = Settings(
        studio / "content",
        studio / ".sitegen" / "cache" / "applied",
        dt.date(2031, 6, 1),
        "content",
        quick=True,
        applied=Applied(EVENT, **applied),
    )
    outcome = rebuild(settings)
    page = settings.out / "desk" / EVENT / "proposal.html"
    return outcome, page.read_text("utf-8") if page.is_file() else ""


def total_of(page: str) -> str:
    found = re.search(r'data-figure="total"[^>]*>([^<]*)<', page)
    assert found
    return found[1]


def test_a_budget_is_met_and_what_goes_is_said(run: Command, studio: Path) -> None:
    suggested = fitted(run, "--budget", "99999")
    assert (suggested["ok"], suggested["fit"]["given_up"], suggested["more"]) == (True, [], None)
    usual = suggested["suggested"]
    assert suggested["fit"]["total"] == usual
    # The event's own budget is far above; a little less than is suggested gives up what matters least.
    found = fitted(run, "--budget", str(float(usual) - 1))
    (gone,) = found["fit"]["given_up"]
    assert float(found["fit"]["total"]) <= float(usual) - 1
    assert float(found["fit"]["total"]) + float(gone["saves"]) == pytest.approx(float(usual))
    assert found["more"]["total"] == usual
    assert found["less"]["kept"] < found["fit"]["kept"]
    done = run("fit", EVENT, "--budget", str(float(usual) - 1))
    for said in ("Given up, and what each saves:", "One step more:", "One step less:", "--pick"):
        assert said in done.stdout
    assert not (studio / "out").exists()


def test_what_matters_most_stays(run: Command, studio: Path) -> None:
    before = fitted(run, "--budget", "470")["fit"]
    change(studio, BOWLS, "group: Tables", "group: Tables\nmatters: 5")
    change(studio, BOWLS, "usual: true}", "usual: true, matters: 5}")
    after = fitted(run, "--budget", "470")["fit"]
    assert after["kept"] > before["kept"]
    assert sum(one["weight"] for one in after["given_up"]) == after["matters"] - after["kept"]


def test_after_an_approval_a_budget_is_met_from_what_was_agreed(run: Command, studio: Path) -> None:
    sent(run)
    by_hand = ("approve", EVENT, "--why", "they rang", "--yes", "--pick")
    assert run(*by_hand, "bowls.fullness=lush", "low-bowls=6", "late=in").returncode == 0
    assert run("build").returncode == 0
    figures = json.loads((studio / "out" / "desk" / EVENT / "figures.json").read_text("utf-8"))
    whole = fitted(run, "--budget", "99999")
    assert (whole["approved"], whole["suggested"]) == ("2031-06-01", figures["total"])
    assert (whole["fit"]["given_up"], whole["fit"]["pick"]) == ([], [])
    below = str(float(figures["total"]) - 1)
    done = run("fit", EVENT, "--budget", below)
    assert f"Approved on 2031-06-01 at ${figures['total']}" in done.stdout
    assert f"As agreed it comes to ${figures['total']}" in done.stdout
    best = fitted(run, "--budget", below)["fit"]
    outcome, page = shown(studio, budget=int(float(below)))
    assert (outcome.ok, total_of(page)) == (True, f"${best['total']}")
    # What fit says to approve changes what was agreed, and nothing else.
    assert run(*by_hand, *best["pick"]).returncode == 0
    assert fitted(run, "--budget", "99999")["suggested"] == best["total"]


def test_a_budget_that_nothing_meets_is_said(run: Command) -> None:
    done = run("fit", EVENT, "--budget", "100")
    assert done.returncode == 1
    assert "a budget of $100.00 is too little" in done.stdout
    found = fitted(run, "--budget", "100")
    assert (found["ok"], found["fit"]) == (False, None)
    least = found["least"]["total"]
    assert fitted(run, "--budget", least)["fit"] == found["least"]


def test_the_budget_of_the_event_is_the_default(run: Command, studio: Path) -> None:
    assert fitted(run)["budget"] == "900.00"
    change(studio, f"events/{EVENT}/event.md", "budget: 900.00\n", "")
    done = run("fit", EVENT)
    assert (done.returncode, "say --budget" in done.stderr) == (2, True)
    assert run("fit", EVENT, "--budget", "1e3").returncode == 2


def test_charges_that_the_couple_asked_for_are_kept(run: Command, studio: Path) -> None:
    sent(run)
    plain = fitted(run, "--budget", "99999")["suggested"]
    body = code(in_node, studio, charges=[1])
    assert piped(run, studio, message(body), "--yes").returncode == 0
    found = fitted(run, "--budget", "99999")
    assert float(found["suggested"]) == float(plain) + 150
    assert found["fit"]["charges"] == ["late"]


def test_a_preview_shows_what_fits_and_leaves_what_is_built(run: Command, studio: Path) -> None:
    sent(run)
    before = whole(studio / "out")
    best = fitted(run, "--budget", "470")["fit"]
    outcome, page = shown(studio, budget=470)
    assert outcome.ok
    assert total_of(page) == f"${best['total']}"
    assert whole(studio / "out") == before
    assert run("fit", EVENT, "--budget", "470").returncode == 0


def test_a_preview_shows_a_recorded_reply_on_the_content_of_today(run: Command, studio: Path) -> None:
    sent(run)
    assert piped(run, studio, message(code(in_node, studio)), "--yes").returncode == 0
    outcome, page = shown(studio, reply=2)
    assert (outcome.ok, outcome.findings) == (True, ())
    data = re.search(r'id="figures"[^>]*>(.*?)</script>', page, re.DOTALL)
    assert data
    bowls = json.loads(data[1])["table"]["pieces"][1]
    assert (bowls["usual"], bowls["quantity"]) == ([2], 6)
    change(studio, BOWLS, "id: lush", "id: fullest")
    outcome, _ = shown(studio, reply=2)
    assert [(one.code, one.severity) for one in outcome.findings] == [("apply-lost", "warning")]


def test_what_cannot_be_shown_is_said(run: Command, studio: Path) -> None:
    sent(run)
    for applied in ({"reply": 1}, {"reply": 7}, {"budget": 10}):
        outcome, _ = shown(studio, **applied)
        assert (outcome.ok, [one.code for one in outcome.findings]) == (False, ["apply-nothing"])
    assert run("preview", "--fit", "900").returncode == 2
    assert run("preview", EVENT, "--fit", "lots").returncode == 2
    assert run("preview", EVENT, "--fit", "900", "--reply", "2").returncode == 2
