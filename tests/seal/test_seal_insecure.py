"""A page that came without https gets no cryptography: it says so, and never blames the phrase."""

import pytest
from playwright.sync_api import Browser

from sitegen.seal.bundle import Bundle, Sealed, seal_bundle
from sitegen.seal.cover import Stretch
from sitegen.seal.keys import Phrase, Secrets, choose_link
from sitegen.seal.link import address
from tests.seal.scripts import in_chromium

OPEN = """
const link = { kind: "c", pid: unhex(given.pid), secret: unhex(given.secret) };
return [canOpen(), await openPage(given.page, link, "amber"), await readLink(given.link), await readLink("#")];
"""


@pytest.mark.browser
@pytest.mark.parametrize("secure", [True, False])
def test_only_a_secure_page_opens_anything(browser: Browser, secure: bool) -> None:
    own = Secrets(bytes(16), bytes(range(16)), (), Phrase("amber", Stretch(bytes(16)), bytes(32)))
    made = seal_bundle(own, Bundle(1, "", {}))
    assert isinstance(made, Sealed)
    link = choose_link(own)
    texts = {"pid": link.pid.hex(), "secret": link.secret.hex(), "page": made.page}
    origin = "https://proposal.example" if secure else "http://proposal.example"
    with in_chromium(browser, origin) as run:
        can, opened, read, nothing = run(OPEN, {**texts, "link": address(origin, link)})
    assert can is secure
    assert opened == {"failure": "wrong phrase" if secure else "unavailable"}
    assert read.get("fault") == (None if secure else "unavailable")
    assert nothing == {"fault": "no key"}
