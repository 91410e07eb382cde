"""None at market on Tuesday: what stands in for a stem before an approval is priced; after it, it is only made."""

import json
from pathlib import Path
from typing import Any

from bs4 import BeautifulSoup

from tests.running import Command

EVENT = "2031-09-13-millrace"
EVENT_MD = f"events/{EVENT}/event.md"
SWAP = "swaps: [{from: dahlia-apricot, to: rose-cream, each: 1.5, why: none at market}]"
ROSE = """
rose-cream:
  name: Dahlia, cream
  role: form
  colour: "#f5efe6"
  offers: [{supplier: river-market, bunch: 5, price: 97.31}]
"""


def change(studio: Path, name: str, old: str, new: str) -> None:
    path = studio / "content" / name
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def figures(studio: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((studio / "out" / "desk" / EVENT / "figures.json").read_text("utf-8"))
    return found


def money(found: dict[str, Any]) -> list[Any]:
    """All that was agreed to be paid, and what it was thought to cost."""
    of_pieces = [[piece[key] for key in ("each", "line", "cost")] for piece in found["pieces"]]
    return [of_pieces, *(found[key] for key in ("subtotal", "total", "payments"))]


def text_of(studio: Path, name: str) -> str:
    page = BeautifulSoup((studio / "out" / "desk" / EVENT / name).read_bytes(), "html.parser")
    return " ".join(page.get_text(" ").split())


def agreed(run: Command, *arguments: str) -> None:
    done = run("approve", EVENT, "--why", "on the phone", "--yes", *arguments)
    assert done.returncode == 0, done.stderr


def with_rose(studio: Path) -> None:
    with (studio / "content" / "stems.yaml").open("a", encoding="utf-8") as file:
        file.write(ROSE)


def built(run: Command, studio: Path) -> dict[str, Any]:
    done = run("build")
    assert done.returncode == 0, done.stderr
    return figures(studio)


def test_after_an_approval_it_changes_what_is_made_and_no_price(run: Command, studio: Path) -> None:
    with_rose(studio)
    agreed(run)
    before = built(run, studio)
    change(studio, EVENT_MD, "guests: 40", SWAP)
    after = built(run, studio)
    assert money(after) == money(before)
    # Dahlias: 7 in the bouquet and ⅔ in each of five bowls, one and a half for each: 15.5, with 10 % 17.05.
    assert after["order"]["need"] == {"rose-cream": 18, "spray-rose-ivory": 28, "olive": 19}
    assert after["pieces"][0]["recipe"] == {"rose-cream": "10.5", "spray-rose-ivory": "5", "olive": "4"}
    said = "Dahlia, cream in place of apricot (none at market)"
    assert all(said in text_of(studio, name) for name in ("proposal.html", "order.html"))
    proposal = text_of(studio, "proposal.html")
    assert "Approved on" in proposal
    assert "97.31" not in proposal
    assert "River" not in proposal
    done = run("send", EVENT)
    assert "none was made" in done.stdout  # nothing is offered anew, and nothing costs more
    assert "approved-moved" not in run("build").stderr


def test_before_an_approval_it_is_in_every_recipe_and_price_and_stays_so(run: Command, studio: Path) -> None:
    with_rose(studio)
    bare = built(run, studio)
    change(studio, EVENT_MD, "guests: 40", SWAP)
    swapped = built(run, studio)
    assert float(swapped["total"]) > float(bare["total"])
    assert swapped["pieces"][0]["recipe"]["rose-cream"] == "10.5"
    agreed(run)
    after = built(run, studio)
    assert money(after) == money(swapped)
    assert after["order"]["need"] == swapped["order"]["need"]  # not swapped a second time
    assert "swaps" not in after["order"]


def test_a_count_that_is_agreed_later_is_priced_without_what_stands_in(run: Command, studio: Path) -> None:
    with_rose(studio)
    agreed(run)
    before = built(run, studio)
    change(studio, EVENT_MD, "guests: 40", SWAP)
    change(studio, f"events/{EVENT}/02-low-bowls.md", "usual: 5", "usual: 6")
    assert run("send", EVENT).returncode == 0
    agreed(run, "--revision", "2")
    after = built(run, studio)
    assert [piece["each"] for piece in after["pieces"]] == [piece["each"] for piece in before["pieces"]]
    assert [piece["quantity"] for piece in after["pieces"]] == [1, 6]
    assert after["order"]["need"]["rose-cream"] == 19  # 7 + 6 × ⅔ = 11, times 1.5 = 16.5, with 10 % 18.15


def test_after_placing_it_cancels_the_one_and_adds_the_other(run: Command, studio: Path) -> None:
    with_rose(studio)
    agreed(run)
    assert run("order", EVENT, "--placed", "--yes").returncode == 0
    change(studio, EVENT_MD, "guests: 40", SWAP)
    order = built(run, studio)["order"]
    assert [(row["stem"], row["packs"]) for row in order["buy"]] == [("rose-cream", 4)]
    assert [(row["stem"], row["packs"]) for row in order["cancel"]] == [("dahlia-apricot", 3)]
    assert not {"dahlia-apricot"} & order["spare"].keys()
    said = "Dahlia, apricot does not come (none at market): Dahlia, cream stands in for it."
    for sentence in (said, "To add now: 4 bunches.", "Will not come, and is not to be paid: 3 bunches."):
        assert sentence in text_of(studio, "order.html")
    compared = run("compare", EVENT)
    assert "Dahlia, cream in place of apricot (none at market)" in compared.stdout
    assert "Nothing has changed." not in compared.stdout
    assert run("order", EVENT, "--placed", "--yes").returncode == 0
    again = figures(studio)["order"]
    assert (again["buy"], again["cancel"]) == ([], [])
    assert said in text_of(studio, "order.html")


def test_what_stands_in_for_a_stem_that_nothing_takes_is_told(run: Command, studio: Path) -> None:
    with_rose(studio)
    idle = SWAP.replace("from: dahlia-apricot", "from: rose-cream").replace("to: rose-cream", "to: olive")
    change(studio, EVENT_MD, "guests: 40", idle)
    assert "swap-unused" in run("build").stderr
    change(studio, EVENT_MD, idle, "guests: 40")
    agreed(run)
    change(studio, EVENT_MD, "guests: 40", idle)
    assert "swap-unused" in run("build").stderr
