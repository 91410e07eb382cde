"""The plan is pure: from what is there to what should be, and nothing that did not change."""

from sitegen.publish.look import Seen
from sitegen.publish.plan import GRACE, make_plan
from sitegen.publish.receipt import Edition, Sent, Standing
from sitegen.publish.site import SealedSite, blob_path, digest
from tests.publish.sites import NOON, PID, SHARED, make_site, photo

ONE, TWO, THREE = photo("one"), photo("two"), photo("three")
NOTHING = Seen(None, {}, {}, {})


def steps(plan: object) -> list[str]:
    return [f"{step.verb} {step.path.removeprefix(PID + '/')}" for step in plan.steps]  # type: ignore[attr-defined]


def there(site: SealedSite) -> Seen:
    return Seen(
        digest(site.index),
        {name: site.size(name) for name in site.blobs},
        {},
        {name: digest(data) for name, data in site.site_files.items()},
    )


def receipt_of(site: SealedSite, *before: SealedSite, at: int = NOON) -> Standing:
    editions = tuple(Edition(at, digest(one.index), tuple(sorted(one.blobs))) for one in (*before, site))
    blobs = {name: Sent(one.size(name), "s", at) for one in before for name in one.blobs}
    blobs |= {name: Sent(site.size(name), "s") for name in site.blobs}
    return Standing("memory", PID, "", editions[-2:], blobs)


def test_everything_travels_first_and_the_page_comes_last() -> None:
    site = make_site("first", [ONE, TWO])
    plan = make_plan(site, Standing("memory", PID), NOTHING, {}, NOON)
    assert [step.verb for step in plan.steps] == ["send"] * 5 + ["switch"]
    assert plan.files == 6
    assert plan.bytes == len(ONE) + len(TWO) + len(site.index) + sum(map(len, SHARED.values()))


def test_one_word_changed_is_one_file() -> None:
    old, new = make_site("old", [ONE, TWO]), make_site("new", [ONE, TWO])
    plan = make_plan(new, receipt_of(old), there(old), {}, NOON)
    assert steps(plan) == ["switch index.html"]
    assert plan.lines()[-1] == f"1 files and {len(new.index):,} bytes to send"


def test_one_photo_changed_is_two_files() -> None:
    old, new = make_site("old", [ONE, TWO]), make_site("old", [ONE, THREE])
    plan = make_plan(new, receipt_of(old), there(old), {}, NOON)
    assert [step.verb for step in plan.steps] == ["send", "switch"]


def test_nothing_changed_is_nothing() -> None:
    site = make_site("same", [ONE])
    plan = make_plan(site, receipt_of(site), there(site), {}, NOON)
    assert plan.steps == ()
    assert plan.lines() == ("nothing to send",)


def test_a_blob_of_the_right_size_in_no_receipt_is_checked_not_sent() -> None:
    site = make_site("same", [ONE])
    plan = make_plan(site, Standing("memory", PID), there(site), {}, NOON)
    assert [step.verb for step in plan.steps] == ["check"]


def test_recheck_reads_every_blob() -> None:
    site = make_site("same", [ONE, TWO])
    plan = make_plan(site, receipt_of(site), there(site), {}, NOON, recheck=True)
    assert [step.verb for step in plan.steps] == ["check", "check"]


def test_a_blob_of_another_size_is_sent_again() -> None:
    site = make_site("same", [ONE])
    seen = Seen(digest(site.index), dict.fromkeys(site.blobs, 7), {}, there(site).site)
    assert [step.verb for step in make_plan(site, receipt_of(site), seen, {}, NOON).steps] == ["send"]


def test_old_blobs_stay_for_the_last_two_editions_and_a_day() -> None:
    first, second, third = make_site("1", [ONE]), make_site("2", [TWO]), make_site("3", [THREE])
    everything = Seen(
        digest(second.index),
        {n: 3000 for s in (first, second, third) for n in s.blobs},
        {},
        there(first).site,
    )
    standing = receipt_of(second, first, at=NOON)
    gone = blob_path(PID, next(iter(first.blobs)))
    early = make_plan(third, standing, everything, {}, NOON + GRACE - 1)
    assert not early.of("delete")
    late = make_plan(third, standing, everything, {}, NOON + GRACE)
    assert [step.path for step in late.of("delete")] == [gone], "the second edition's blob is still kept"


def test_an_unknown_blob_is_not_deleted_before_it_was_noted() -> None:
    site = make_site("same")
    stray = next(iter(make_site("x", [ONE]).blobs))
    seen = Seen(digest(site.index), {stray: 5}, {}, there(site).site)
    assert make_plan(site, receipt_of(site), seen, {}, NOON + 10 * GRACE).steps == ()


def test_a_foreign_shared_file_is_left_alone_and_named() -> None:
    site = make_site("same")
    seen = Seen(None, {}, {}, {"404.html": digest(b"somebody else's"), "_headers": digest(b"ours before")})
    plan = make_plan(
        site, Standing("memory", PID), seen, {"_headers": frozenset({digest(b"ours before")})}, NOON
    )
    assert [step.path for step in plan.of("send")] == ["_headers", ".nojekyll"]
    assert plan.notes[0].startswith("404.html at the host is not ours")
