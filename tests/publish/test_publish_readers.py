"""Fifty publishes under readers that never stop: nobody sees a broken page."""

import ssl
import threading
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest

from sitegen.publish.folder import FolderHost
from tests.publish.served import Web
from tests.publish.sites import NOON, PID, a_way, make_site, photo, publish_ok, read_word

PUBLISHES = 50


@pytest.mark.slow
def test_fifty_publishes_under_readers_show_no_broken_page(tmp_path: Path, web: Web) -> None:
    context = ssl.create_default_context(cafile=str(web.address.ca))
    stop = threading.Event()
    seen: list[int] = []
    broken: list[str] = []

    def get(path: str) -> bytes | None:
        try:
            with urlopen(f"{web.address.base}{PID}/{path}", timeout=10, context=context) as answer:
                return bytes(answer.read())
        except HTTPError as error:
            with error:
                return None

    def read() -> None:
        while not stop.is_set():
            try:
                index = get("")
                seen.append(int(read_word(index or b"", get)))
            except Exception as error:  # noqa: BLE001 - whatever a reader meets counts
                broken.append(repr(error))

    def site(number: int) -> list[bytes]:
        return [photo("always", 20_000), photo(f"photo {number // 2}", 20_000)]

    publish_ok(make_site("0", site(0)), a_way(FolderHost(web.root), tmp_path))
    readers = [threading.Thread(target=read, daemon=True) for _ in range(2)]
    for reader in readers:
        reader.start()
    try:
        for number in range(1, PUBLISHES + 1):
            # An hour apart: what is a day old is tidied away meanwhile.
            way = a_way(FolderHost(web.root), tmp_path, web.address, NOON + number * 3600)
            assert publish_ok(make_site(str(number), site(number)), way).live
    finally:
        stop.set()
        for reader in readers:
            reader.join(20)
    assert broken == []
    assert len(seen) >= PUBLISHES
    assert len(set(seen)) > 10, "readers met many of the pages"
    assert len(list((web.root / PID / "b").iterdir())) < PUBLISHES // 2
