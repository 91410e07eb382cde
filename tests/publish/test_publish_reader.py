"""What the public address gives out, through a real HTTPS server that misbehaves in one way at a time."""

from pathlib import Path

import pytest

from sitegen.publish.address import Address
from sitegen.publish.fault import Stopped
from sitegen.publish.folder import FolderHost
from sitegen.publish.host import Host
from sitegen.publish.run import Published, publish
from sitegen.publish.way import Way
from tests.publish.hosts import Memory
from tests.publish.served import Web, serving
from tests.publish.sites import (
    PID,
    a_way,
    files_in,
    in_folder,
    make_site,
    opens,
    photo,
    publish_ok,
    view,
    waited,
)

ONE, TWO = photo("one"), photo("two")


def to(web: Web, home: Path, *, lags: bool = False) -> Way:
    return a_way(FolderHost(web.root), home, web.address, lags=lags)


def refused(web: Web, home: Path) -> Stopped:
    stopped = publish(make_site("new", [ONE]), to(web, home), opens)
    assert isinstance(stopped, Stopped)
    return stopped


def untouched(web: Web) -> bool:
    return files_in(web.root) == {}


def test_a_host_with_one_page_for_every_name_is_refused_before_anything_is_sent(
    tmp_path: Path, web: Web
) -> None:
    web.habits.fallback = True
    stopped = refused(web, tmp_path)
    assert stopped.kind == "answers-all"
    assert "one page for every address" in stopped.sentence
    assert untouched(web)


def test_http_is_refused_before_anything_is_asked(tmp_path: Path) -> None:
    host = Memory()
    stopped = publish(make_site("new"), a_way(host, tmp_path, Address("http://flowers.example/")), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "insecure"
    assert "https://" in stopped.sentence
    assert host.files == {}


def test_http_on_this_computer_is_enough_to_try_out(tmp_path: Path) -> None:
    root = tmp_path / "site"
    with serving(root, None) as (base, _):
        assert publish_ok(make_site("new", [ONE]), a_way(FolderHost(root), tmp_path, Address(base))).live


def test_a_redirecting_host_is_refused_with_where_it_leads(tmp_path: Path, web: Web) -> None:
    web.habits.onward = "https://www.flowers.example/"
    stopped = refused(web, tmp_path)
    assert stopped.kind == "redirect"
    assert "https://www.flowers.example/" in stopped.sentence
    assert untouched(web)


def test_a_host_that_asks_for_a_password_is_refused(tmp_path: Path, web: Web) -> None:
    web.habits.always = 401
    assert refused(web, tmp_path).kind == "password"
    assert untouched(web)


def test_a_certificate_that_nobody_trusts_is_refused(tmp_path: Path, web: Web) -> None:
    way = a_way(FolderHost(web.root), tmp_path, Address(web.address.base))
    stopped = publish(make_site("new"), way, opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "certificate"
    assert untouched(web)


def test_nobody_there_is_said_before_anything_is_sent(tmp_path: Path) -> None:
    host = Memory()
    with serving(tmp_path / "site", None) as (base, _):
        pass
    stopped = publish(make_site("new"), a_way(host, tmp_path, Address(base)), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "unreachable"
    assert host.files == {}


def test_an_address_that_shows_another_folder_is_met_before_the_switch(tmp_path: Path, web: Web) -> None:
    other = FolderHost(tmp_path / "elsewhere")
    stopped = publish(make_site("new", [ONE]), a_way(other, tmp_path, web.address), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "not-served"
    assert stopped.sentence.endswith("What readers see has not changed.")
    assert view(in_folder(tmp_path / "elsewhere")) is None, "no page names the blobs"


def test_a_wrong_type_is_said(tmp_path: Path, web: Web) -> None:
    web.habits.media[".html"] = "application/octet-stream"
    stopped = refused(web, tmp_path)
    assert stopped.kind == "media"
    assert "application/octet-stream" in stopped.sentence
    assert "text/html" in stopped.sentence
    assert view(in_folder(web.root)) is None, "met on 404.html, before the page is switched"


def test_something_on_the_way_that_rewrites_pages_is_said(tmp_path: Path, web: Web) -> None:
    web.habits.added = b"<script>counter()</script>"
    stopped = refused(web, tmp_path)
    assert stopped.kind == "differs"
    assert "optimisers" in stopped.sentence


def test_a_cached_page_is_no_fault_but_said(tmp_path: Path, web: Web) -> None:
    old = make_site("old", [ONE])
    publish_ok(old, to(web, tmp_path))
    web.habits.stale[f"/{PID}/"] = old.index
    way = to(web, tmp_path)
    done = publish_ok(make_site("new", [ONE]), way)
    assert not done.live
    assert "publish --verify" in done.notes[0]
    assert waited(way) == [1, 2, 4]


@pytest.mark.parametrize("status", [429, 500, 503])
def test_a_server_in_trouble_is_asked_again(status: int, tmp_path: Path, web: Web) -> None:
    web.habits.status = [status, status]
    way = to(web, tmp_path)
    assert isinstance(publish(make_site("new", [ONE]), way, opens), Published)
    assert waited(way) == [1, 2]


def test_a_server_that_stays_in_trouble_is_left_after_four_times(tmp_path: Path, web: Web) -> None:
    web.habits.always = 503
    stopped = refused(web, tmp_path)
    assert stopped.kind == "again"
    assert len(web.habits.asked) == 4
    web.habits.always = 0
    assert publish_ok(make_site("new", [ONE]), to(web, tmp_path)).live


def test_cut_answers_and_dropped_connections_are_asked_again(tmp_path: Path, web: Web) -> None:
    web.habits.drop = 2
    web.habits.short = 2
    assert publish_ok(make_site("new", [ONE]), to(web, tmp_path)).live


def test_a_refusal_is_never_asked_again(tmp_path: Path, web: Web) -> None:
    publish_ok(make_site("old", [ONE]), to(web, tmp_path))
    web.habits.status = [404, 400]
    asked = len(web.habits.asked)
    stopped = publish(make_site("new", [ONE]), to(web, tmp_path), opens)
    assert isinstance(stopped, Stopped)
    assert stopped.kind == "not-served"
    assert len(web.habits.asked) == asked + 2
    assert stopped.sentence.endswith("The new page is in place.")


def test_a_folder_that_another_tool_carries_may_lag(tmp_path: Path, web: Web) -> None:
    local: Host = FolderHost(tmp_path / "local")
    done = publish_ok(make_site("new", [ONE]), a_way(local, tmp_path, web.address, lags=True))
    assert not done.live
    assert done.notes[0].startswith("Not to be seen at its address yet.")
    assert view(in_folder(tmp_path / "local")) == "new"
