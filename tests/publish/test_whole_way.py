"""From the command line to a reader's browser: built, published, opened, changed, published again, taken down."""

import json
import os
import re
import stat
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.sealing import EVENT, open_it, photo, watched, with_photos, without_pictures
from tests.publish.served import serving
from tests.running import sitegen

KEY = re.compile(r"#([cv]1[0-9a-z]{30})")


def links(text: str) -> list[str]:
    return re.findall(r"^https?://\S+$", text, re.MULTILINE)


def ok(home: Path, *arguments: str, **environment: str) -> str:
    done = sitegen(home, *arguments, **environment)
    assert done.returncode == 0, done.stdout + done.stderr
    assert not KEY.search(done.stderr)
    return done.stdout


def in_json(home: Path, *arguments: str, **environment: str) -> dict[str, object]:
    data = json.loads(ok(home, *arguments, "--json", **environment))
    assert isinstance(data, dict)
    return data


@pytest.mark.browser
@pytest.mark.slow
def test_the_whole_way_over_https(tmp_path: Path, certificate: tuple[Path, Path], browser: Browser) -> None:
    home = with_photos(tmp_path / "studio")
    published = home / "published"
    trust = {"SSL_CERT_FILE": str(certificate[0])}
    event = home / "content" / "events" / EVENT
    published.mkdir()
    with (
        serving(published, certificate) as (base, habits),
        watched(browser, ignore_https_errors=True) as watch,
    ):
        (home / "content" / "publish.yaml").write_text(f"to: folder\naddress: {base}\n")
        early = ok(home, "link", "millrace", **trust)
        assert early.startswith("It is not published yet. First: sitegen publish")
        assert "For a mail" not in early

        plan = in_json(home, "publish", "millrace", "--dry-run", **trust)
        assert plan["revision"] == 1
        assert list(published.iterdir()) == []
        assert not (event / "records").exists()

        first = in_json(home, "publish", "millrace", **trust)
        assert (first["live"], first["revision"]) == (True, 1)
        assert [path.name for path in (event / "records").glob("*.json")] == ["0001-revision.json"]
        said = ok(home, "link", "millrace", **trust)
        assert said.startswith("It is live:")
        (link,) = links(said)
        drawing = home / ".sitegen" / "links" / f"{EVENT}.svg"
        assert (drawing.read_text()[:5], stat.S_IMODE(drawing.stat().st_mode)) == ("<?xml", 0o600)
        watch.page.goto(link)
        open_it(watch.page)
        watch.page.locator("#mount img:not([data-photo])").first.wait_for()
        assert watch.said == []
        assert not any(KEY.search(path) or link.split("#")[1] in path for path in habits.asked)

        again = in_json(home, "publish", "millrace", "--today", "2031-06-05", **trust)
        assert (again["files"], again["revision"]) == (0, None)
        assert "as sent" in ok(home, "publish", "millrace", "--verify", **trust)

        text = (event / "event.md").read_text()
        (event / "event.md").write_text(text + "\nA word more, and gladly.\n")
        word = in_json(home, "publish", "millrace", **trust)
        assert (word["files"], word["revision"]) == (1, 2)
        watch.page.reload()
        open_it(watch.page)
        expect(watch.page.locator("#mount .note")).to_contain_text("A word more, and gladly.")

        photo(event / "photos" / "one.jpg", 250)  # the one that is in the opening as well
        changed = in_json(home, "publish", "millrace", **trust)
        assert (changed["files"], changed["revision"]) == (2, 3)
        watch.page.reload()
        open_it(watch.page)

        assert "was taken down" in ok(home, "withdraw", "millrace", **trust)
        watch.page.reload()
        expect(watch.page.locator("h1")).to_have_text("This page was taken down.")
        assert not list(published.rglob("*.bin"))
        assert "was down already; nothing was left" in ok(home, "withdraw", "millrace", **trust)
        gone = in_json(home, "link", "millrace", **trust)
        assert "any more: it was taken down" in str(gone["said"])
        assert (gone["mail"], gone["messenger"], gone["qr"]) == (None, None, None)


@pytest.mark.slow
def test_a_renewed_link_takes_the_old_page_down(tmp_path: Path, certificate: tuple[Path, Path]) -> None:
    home = with_photos(tmp_path / "studio")
    trust = {"SSL_CERT_FILE": str(certificate[0])}
    (home / "published").mkdir()
    with serving(home / "published", certificate) as (base, _habits):
        (home / "content" / "publish.yaml").write_text(f"address: {base}\n")
        ok(home, "publish", "millrace", **trust)
        (old,) = links(ok(home, "link", "millrace", **trust))
        said = ok(home, "link", "millrace", "--renew", **trust)
        (new,) = links(said)
        assert "The old page at" in said
        assert "was taken down" in said
        assert old.split("#")[0] != new.split("#")[0]
        assert KEY.search(old) != KEY.search(new)
        page = (home / "published" / old.split("/")[-2] / "index.html").read_text()
        assert "This page was taken down." in page
        assert not list((home / "published" / old.split("/")[-2]).rglob("*.bin"))
        assert "as sent" in ok(home, "publish", "millrace", "--verify", **trust)
        (seen,) = links(ok(home, "link", "millrace", "--view-only", **trust))
        assert KEY.search(seen)[1].startswith("v1")  # type: ignore[index]


@pytest.mark.browser
@pytest.mark.slow
def test_a_phrase_is_asked_for_until_it_is_taken_off(
    tmp_path: Path, certificate: tuple[Path, Path], browser: Browser
) -> None:
    home = with_photos(tmp_path / "studio")
    trust = {"SSL_CERT_FILE": str(certificate[0])}
    (home / "published").mkdir()
    with (
        serving(home / "published", certificate) as (base, _habits),
        watched(browser, ignore_https_errors=True) as watch,
    ):
        page, heading = watch.page, watch.page.locator("#shell h1:visible")
        (home / "content" / "publish.yaml").write_text(f"address: {base}\n")
        ok(home, "publish", "millrace", **trust)
        (link,) = links(ok(home, "link", "millrace", **trust))
        said = ok(home, "link", "millrace", "--phrase", **trust)
        (words,) = re.findall(r"^  ([a-z]+(?: [a-z]+){3})$", said, re.MULTILINE)
        assert links(said) == [link], "the couple keep their link"
        assert "It also asks for a few words" in said
        assert "another way than the link" in said
        page.goto(link)
        page.locator("#open").click()
        expect(heading).to_have_text("Now the phrase, please.")
        page.locator("#phrase").fill(words.replace(" ", " x"))
        page.locator("#ask-phrase button").click()
        expect(heading).to_have_text("These words do not open it.", timeout=20_000)
        page.locator("#phrase").fill(words.upper())
        page.locator("#ask-phrase button").click()
        page.locator("#mount img:not([data-photo])").first.wait_for()
        assert watch.said == []

        assert words not in ok(home, "link", "millrace", **trust)
        again = in_json(home, "link", "millrace", "--phrase", **trust)
        assert (again["phrase"], again["notes"]) == (words, [])
        assert in_json(home, "publish", "millrace", **trust)["files"] == 0
        for path in (path for path in home.rglob("*") if path.is_file()):
            assert words.encode() not in path.read_bytes() or path.parent.name == "keys", path

        assert words not in ok(home, "link", "millrace", "--no-phrase", **trust)
        page.goto("about:blank")
        page.goto(link)
        open_it(page)


def test_only_a_sealed_page_can_ask_for_a_phrase(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    path = home / "content" / "events" / EVENT / "event.md"
    path.write_text(path.read_text().replace("---\n", "---\nsealed: no\n", 1))
    done = sitegen(home, "link", "millrace", "--phrase")
    assert done.returncode == 2
    assert "only a sealed page can ask for a phrase" in done.stderr
    assert sitegen(home, "link", "millrace", "--phrase", "--no-phrase").returncode == 2


def test_another_link_also_has_other_words(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    first, kept, other = (
        in_json(home, "link", "millrace", "--phrase", *more)["phrase"] for more in ((), (), ("--renew",))
    )
    assert first == kept != other
    assert isinstance(other, str)
    assert len(other.split()) == 4


def test_a_fresh_machine_publishes_to_a_folder_and_says_that_nobody_else_can_open_it(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    said = ok(home, "link", "millrace")
    assert "There is no message to send with it yet" in said
    assert not (home / ".sitegen" / "links").exists()
    said = ok(home, "publish", "millrace")
    assert "on this computer only: nobody else can open it yet" in said
    assert (home / "published" / "404.html").is_file()
    said = ok(home, "link", "millrace")
    assert said.startswith("It is on this computer only: nobody else can open it yet.")
    assert re.search(r"^file://\S+/index\.html#c1", said, re.MULTILINE)
    assert said.index("Before you send it: publish where others can reach it") < said.index("For a mail")
    drawing = home / ".sitegen" / "links" / f"{EVENT}.svg"
    assert drawing.read_text().startswith("<?xml")
    assert stat.S_IMODE(drawing.stat().st_mode) == 0o600


def test_what_is_private_stays_at_home(tmp_path: Path) -> None:
    """The gate looks at the bytes: here a template says what no view holds."""
    home = without_pictures(tmp_path)
    secret = "Her aunt may ring about the arch."
    assert f"private: {secret}" in (home / "content" / "events" / EVENT / "event.md").read_text()
    note = home / "content" / "studio.md"
    ok(home, "publish", "millrace")
    themes = home / "themes" / "leaky"
    (themes / "templates").mkdir(parents=True)
    (themes / "theme.yaml").write_text("name: leaky\nbase: north-window\n")
    (themes / "templates" / "note.html").write_text(f"<p>{secret}</p>")
    note.write_text(note.read_text().replace("---\n", "---\ntheme: leaky\n", 1))
    before = {path.name: path.read_bytes() for path in (home / "published").rglob("*") if path.is_file()}
    done = sitegen(home, "publish", "millrace")
    assert done.returncode == 1
    assert f'"{secret.lower()}" is private of event.md, and stands in body: “' in done.stderr
    assert "nothing was sent" in done.stderr
    assert f"sitegen publish {EVENT} --allow '{secret.lower()}'" in done.stderr
    assert before == {
        path.name: path.read_bytes() for path in (home / "published").rglob("*") if path.is_file()
    }
    assert len(list((home / "content" / "events" / EVENT / "records").glob("*.json"))) == 1
    assert "Sent" in ok(home, "publish", "millrace", "--allow", secret.lower())


def test_a_lost_key_stops_everything_until_the_backup_is_taken_in(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    ok(home, "publish", "millrace")
    backup = ok(home, "keys", "export", str(home / "keys.backup"))
    words = next(line.strip() for line in backup.splitlines() if re.fullmatch(r"  [a-z]+( [a-z]+){5}", line))
    assert stat.S_IMODE((home / "keys.backup").stat().st_mode) == 0o600
    key = home / ".sitegen" / "keys" / f"{EVENT}.json"
    kept = key.read_bytes()
    key.unlink()
    done = sitegen(home, "publish", "millrace")
    assert done.returncode == 3
    assert "is lost" in done.stderr
    assert not key.exists()
    wrong = sitegen(
        home, "keys", "import", str(home / "keys.backup"), SITEGEN_PHRASE="six words that are not these"
    )
    assert wrong.returncode == 1
    assert "does not open with these words" in wrong.stderr
    said = ok(home, "keys", "import", str(home / "keys.backup"), SITEGEN_PHRASE=words)
    assert f"{EVENT}: taken in" in said
    assert key.read_bytes() == kept
    assert "nothing: it is there already" in ok(home, "publish", "millrace")


def test_the_desk_says_when_keys_were_backed_up_and_what_should_come_down(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    desk = home / "out" / "desk" / "index.html"
    ok(home, "publish", "millrace")
    ok(home, "build")
    assert "were never backed up" in desk.read_text()
    assert "To take down" not in desk.read_text()
    ok(home, "keys", "export", "keys.backup")
    ok(home, "build")
    assert "Keys last backed up on" in desk.read_text()
    ok(home, "build", "--today", "2031-10-01")
    assert "sitegen withdraw" in " ".join(re.sub(r"<[^>]*>", "", desk.read_text()).split())
    ok(home, "withdraw", "millrace")
    ok(home, "build", "--today", "2031-10-01")
    assert "To take down" not in desk.read_text()


def test_a_backup_is_never_written_over(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    ok(home, "build")
    (home / "mine").write_text("mine")
    done = sitegen(home, "keys", "export", "mine")
    assert done.returncode == 2
    assert (home / "mine").read_text() == "mine"


def test_an_older_key_in_a_backup_is_left_unless_it_is_named(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    ok(home, "build")
    said = ok(home, "keys", "export", "first.backup")
    words = next(line.strip() for line in said.splitlines() if re.fullmatch(r"  [a-z]+( [a-z]+){5}", line))
    key = home / ".sitegen" / "keys" / f"{EVENT}.json"
    first = key.read_bytes()
    ok(home, "link", "millrace", "--renew")
    renewed = key.read_bytes()
    assert renewed != first
    assert "left: the one here was renewed later" in ok(
        home, "keys", "import", "first.backup", SITEGEN_PHRASE=words
    )
    assert key.read_bytes() == renewed
    ok(home, "keys", "import", "first.backup", "--also", EVENT, SITEGEN_PHRASE=words)
    assert key.read_bytes() == first


def test_a_page_that_is_not_sealed_says_so_at_publish_and_link(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    path = home / "content" / "events" / EVENT / "event.md"
    path.write_text(path.read_text().replace("---\n", "---\nsealed: no\n", 1))
    assert "It is not sealed: whoever gets hold of its address reads it" in ok(home, "publish", "millrace")
    said = ok(home, "link", "millrace")
    assert "This page is not sealed" in said
    assert not KEY.search(said)


@pytest.mark.parametrize("name", ["publish", "link", "withdraw"])
def test_a_closed_event_does_not_go_out_and_an_unknown_one_is_wrong_usage(tmp_path: Path, name: str) -> None:
    home = without_pictures(tmp_path)
    assert sitegen(home, name, "nobody").returncode == 2
    path = home / "content" / "events" / EVENT / "event.md"
    path.write_text(path.read_text().replace("---\n", "---\nclosed: declined\n", 1))
    done = sitegen(home, name, "millrace")
    assert done.returncode in {2, 3}
    assert done.stderr.startswith("sitegen: ")
    assert "Traceback" not in done.stderr


def test_a_host_that_cannot_be_reached_is_code_three_and_one_sentence(tmp_path: Path) -> None:
    home = without_pictures(tmp_path)
    (home / "content" / "publish.yaml").write_text("address: https://127.0.0.1:9/\n")
    done = sitegen(home, "publish", "millrace", **{k: v for k, v in os.environ.items() if k == "PATH"})
    assert done.returncode == 3
    assert "cannot be reached" in done.stderr
    assert "What readers see has not changed." in done.stderr


def test_a_studio_that_has_moved_knows_what_it_sent(tmp_path: Path) -> None:
    home = without_pictures(tmp_path / "here")
    ok(home, "publish", "millrace")
    there = home.rename(tmp_path / "there")
    assert in_json(there, "publish", "millrace")["files"] == 0
    ok(there, "link", "millrace", "--renew")
    ok(there, "withdraw", "millrace")
    pages = [path.read_text() for path in (there / "published").glob("*/index.html")]
    assert len(pages) == 2
    assert all("This page was taken down." in page for page in pages)
