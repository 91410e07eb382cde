"""The last look before anything goes out: a private value in what is sealed is found, a public one is not."""

import datetime as dt
import re
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from sitegen.build.event import Worked, work_out
from sitegen.build.gate import Leak, leaks, opened
from sitegen.build.private import private_values
from sitegen.check.shared import check_shared
from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import Totals, totals
from sitegen.load.tree import scan
from sitegen.pictures.memo import Memo
from sitegen.publish.site import SealedSite
from sitegen.render.desk_left import left_of
from sitegen.seal.base32 import encode
from sitegen.seal.bundle import Bundle, Photo, Sealed, seal_bundle
from sitegen.seal.keys import Secrets
from sitegen.seal.opening import Opened
from sitegen.seal.store import Store, find
from tests.build.planting import CANARY, plant
from tests.running import DEMO_DAY, Command, sitegen, whole

EVENT = "2027-06-19-quillet-farm"
TODAY = dt.date(2026, 11, 25)


def worked(home: Path, event: str = EVENT) -> Worked:
    tree = scan(home / "content", "content")
    files = next(one for one in tree.events if one.id == event)
    found, problems = work_out(files, check_shared(tree), TODAY, Memo())
    assert found is not None, problems
    return found


def key(home: Path, event: str = EVENT) -> Secrets:
    own = find(Store(home / ".sitegen" / "keys"), event)
    assert isinstance(own, Secrets)
    return own


def site_of(home: Path, event: str = EVENT) -> SealedSite:
    pid = encode(key(home, event).pid)
    folder = home / "out" / "sealed" / pid
    blobs: dict[str, bytes | Path] = {f"b/{path.name}": path.read_bytes() for path in folder.glob("b/*")}
    return SealedSite(pid, (folder / "index.html").read_bytes(), blobs, {})


def sealed_with(home: Path, more: str = "", figures: str = "", photo: bytes = b"") -> SealedSite:
    """The demo's site with something more in its texts, sealed as the build would."""
    site, own = site_of(home), key(home)
    manifest = opened(site.index, own)
    assert isinstance(manifest, Opened)
    texts = {**manifest.texts, "body": manifest.texts["body"] + more}
    if figures:
        texts["figures"] = texts["figures"].replace("{", "{" + figures + ",", 1)
    photos = (Photo("planted", 10, "image/webp", photo),) if photo else ()
    sealed = seal_bundle(own, Bundle(1, "2026-11-25", texts, photos))
    assert isinstance(sealed, Sealed)
    carried = site.index.decode().split('id="sealed">', 1)[1].split("<", 1)[0]
    index = site.index.decode().replace(carried, sealed.page).encode()
    return SealedSite(site.pid, index, dict(sealed.files), {})


def test_nothing_is_found_in_any_event_of_the_demo(demo: Path) -> None:
    for event in sorted(path.name for path in (demo / "content" / "events").iterdir()):
        assert leaks(site_of(demo, event), key(demo, event), worked(demo, event)) == ()


def found(home: Path, site: SealedSite) -> tuple[Leak, ...]:
    return leaks(site, key(home), worked(home))


@pytest.mark.parametrize(
    "text",
    [
        f"{CANARY}SOLD",
        f"{CANARY}NOTE".lower(),
        "<b>7,131.13</b>",
        "7.131,13",
        "&#55;131.13",
        f"<img alt='{CANARY}NAME'>",
    ],
)
def test_a_private_value_in_the_texts_is_found(planted: Path, text: str) -> None:
    assert found(planted, sealed_with(planted, f"<p>Here: {text}</p>"))


def test_a_cost_in_the_pages_data_is_found(planted: Path) -> None:
    found_out = worked(planted)
    units = found_out.priced.shared.currency.units
    cost = max(units(one.cost) for piece in found_out.priced.pieces for one in piece.combinations)
    assert [leak.where for leak in found(planted, sealed_with(planted, figures=f'"x":[{cost}]'))] == [
        "figures"
    ]


def test_a_private_word_in_the_pages_data_is_found_behind_escapes(planted: Path) -> None:
    escaped = "".join(f"\\u{ord(char):04x}" for char in f"{CANARY}SOLD")
    assert found(planted, sealed_with(planted, figures=f'"x":"{escaped}"'))


def test_what_a_camera_wrote_into_a_picture_is_found(planted: Path, tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x010E] = "the studio's own desk"
    path = tmp_path / "p.webp"
    Image.new("RGB", (10, 10)).save(path, exif=exif)
    assert "what a camera wrote down" in {
        leak.what for leak in found(planted, sealed_with(planted, photo=path.read_bytes()))
    }
    Image.new("RGB", (10, 10)).save(path)
    assert found(planted, sealed_with(planted, photo=path.read_bytes())) == ()


def test_a_name_outside_the_seal_is_found(planted: Path) -> None:
    site = site_of(planted)
    index = site.index.replace(b"<title>", b"<title>Ines and Jude, ")
    assert [leak.where for leak in found(planted, replace(site, index=index))] == [
        "the part of the page that is not sealed"
    ]


def test_what_does_not_open_counts_as_found(planted: Path) -> None:
    site = site_of(planted)
    assert found(planted, replace(site, index=site.index.replace(b'id="sealed">U', b'id="sealed">V')))


def test_two_builds_that_differ_in_private_fields_alone_seal_the_same_bytes(
    demo: Path, like_demo: Callable[[Path], Path], tmp_path: Path
) -> None:
    like_demo(tmp_path)
    plant(tmp_path / "content")
    shutil.copytree(demo / ".sitegen" / "keys", tmp_path / ".sitegen" / "keys")
    assert sitegen(tmp_path, "build", *DEMO_DAY).returncode == 0
    assert whole(tmp_path / "out" / "desk") != whole(demo / "out" / "desk")
    assert whole(tmp_path / "out" / "sealed") == whole(demo / "out" / "sealed")


def test_planting_reached_every_kind_of_private_field(planted: Path) -> None:
    text = " ".join(path.read_text() for path in (planted / "content").rglob("*.[my]*"))
    for word in ("SOLD", "NOTE", "NAME"):
        assert re.search(CANARY + word, text), word


# Once approved, the page and the studio's figures go separate ways.

MILLRACE = "2031-09-13-millrace"


def millrace(studio: Path) -> Worked:
    tree = scan(studio / "content", "content")
    found, problems = work_out(tree.events[0], check_shared(tree), dt.date(2031, 6, 1), Memo())
    assert found is not None, problems
    return found


def edit(studio: Path, name: str, old: str, new: str) -> None:
    path = studio / "content" / "events" / MILLRACE / name
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def with_budget(run: Command, studio: Path, units: int) -> tuple[Leak, ...]:
    """What the gate finds where the budget, which is private, is *units*."""
    path = studio / "content" / "events" / MILLRACE / "event.md"
    path.write_text(re.sub(r"(?m)^budget: .*$", f"budget: {units // 100}.{units % 100:02}", path.read_text()))
    assert run("build").returncode == 0
    return leaks(site_of(studio, MILLRACE), key(studio, MILLRACE), millrace(studio))


def with_budget_told(run: Command, studio: Path, units: int) -> tuple[Leak, ...]:
    """What it finds where a theme would say that budget on the page."""
    assert with_budget(run, studio, units) == ()
    site, own = site_of(studio, MILLRACE), key(studio, MILLRACE)
    manifest = opened(site.index, own)
    assert isinstance(manifest, Opened)
    told = f"<p>They would pay {units // 100}.{units % 100:02} at most.</p>"
    sealed = seal_bundle(own, Bundle(1, "2031-06-01", {**manifest.texts, "body": told}, ()))
    assert isinstance(sealed, Sealed)
    carried = site.index.decode().split('id="sealed">', 1)[1].split("<", 1)[0]
    index = site.index.decode().replace(carried, sealed.page).encode()
    found = leaks(SealedSite(site.pid, index, dict(sealed.files), {}), own, millrace(studio))
    assert all(leak.around.startswith("They would pay") for leak in found)
    return found


def page_sums(studio: Path) -> Totals:
    prices = table(millrace(studio).stand.page)
    return totals(prices, usual_picks(prices))


def page_total(studio: Path) -> int:
    return page_sums(studio).total


def test_what_was_agreed_and_what_is_proposed_anew_are_no_finds(run: Command, studio: Path) -> None:
    for command in (
        ("build",),
        ("send", MILLRACE),
        ("approve", MILLRACE, "--revision", "1", "--why", "rang"),
    ):
        assert run(*command, *(("--yes",) if command[0] == "approve" else ())).returncode == 0, command
    agreed, tax = page_total(studio), page_sums(studio).tax[0]
    assert with_budget(run, studio, agreed) == ()
    assert with_budget(run, studio, agreed + 1) == ()
    edit(studio, "02-low-bowls.md", "olive: 2.5", "olive: 9")
    assert run("send", MILLRACE).returncode == 0
    assert page_total(studio) != agreed
    assert with_budget(run, studio, page_total(studio)) == ()
    assert with_budget(run, studio, agreed) == (), "the page may tell what was agreed before"
    dearer = page_sums(studio).tax[0] - tax
    assert with_budget(run, studio, dearer) == (), "and by how much it changed"
    assert [leak.where for leak in with_budget_told(run, studio, dearer + 1)] == ["body"]


def test_what_the_order_costs_is_found_and_what_she_wrote_for_them_is_not(run: Command, studio: Path) -> None:
    assert run("build").returncode == 0
    worked_out = millrace(studio)
    units = worked_out.priced.shared.currency.units(worked_out.order.cost)
    amounts = private_values(worked_out).amounts
    assert amounts[units] == "what the whole order costs"
    left = left_of(worked_out.totals, worked_out.order).after_materials
    assert amounts[left] == "what is left after materials"
    path = studio / "content" / "events" / MILLRACE / "event.md"
    path.write_text(f"{path.read_text()}\nWe keep {units // 100}.{units % 100:02} aside.\n")
    assert units not in private_values(millrace(studio)).amounts
