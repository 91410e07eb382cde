"""The pages that are published around sealed proposals, and what they allow a browser to do.

None of them says whom it is for: until a link opens one, all that can be read is here.
"""

import base64
import hashlib
from dataclasses import dataclass

from markupsafe import Markup

from sitegen.render.couple import CouplePage
from sitegen.render.dates import reads_from
from sitegen.render.scripts import lost_script, unlocking_script
from sitegen.theme import Theme

THEME = "shell"
SHELL_TEMPLATE = "shell.html"
LOST_TEMPLATE = "lost.html"
WITHDRAWN_TEMPLATE = "withdrawn.html"

_POLICY = (
    "default-src 'none'; script-src {script}; style-src {style}; img-src {images}; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; trusted-types sitegen"
)
_ROBOTS = "noindex, nofollow, noarchive, nosnippet, noimageindex"


@dataclass(frozen=True, slots=True)
class ShellPage:
    """A page around what is sealed; `sealed` is the text that it carries, `policy` what it allows."""

    language: str
    direction: str
    paper: str
    policy: str
    style: Markup
    script: Markup
    sealed: str


def shell_of(sealed: str, language: str, paper: str, theme: Theme, shell: Theme) -> ShellPage:
    """Make the page that opens *sealed*, in the look of *theme*; *shell* is the shell's own theme."""
    style = f"{theme.style}\n{shell.style}\n@page {{ size: {paper} }}\n"
    return _shell(sealed, language, paper, style, unlocking_script())


def lost_page(language: str, shell: Theme) -> ShellPage:
    """Make the page for an address at which there is nothing."""
    return _shell("", language, "a4", shell.style, lost_script())


def withdrawn_page(language: str, shell: Theme) -> ShellPage:
    """Make the page that stands where a proposal was taken down."""
    return _shell("", language, "a4", shell.style, "")


def _shell(sealed: str, language: str, paper: str, style: str, script: str) -> ShellPage:
    policy = _POLICY.format(script=_hash(script) if script else "'none'", style=_hash(style), images="blob:")
    css, code = Markup(style), Markup(script)  # noqa: S704 - a theme's CSS and our own script
    return ShellPage(language, reads_from(language), paper, policy, css, code, sealed)


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def sealed_texts(page: CouplePage, body: str) -> dict[str, str]:
    """Give the texts that are sealed: all that the couple's page says, and nothing else."""
    return {
        "title": page.title,
        "body": body,
        "figures": str(page.data),
        "tokens": "; ".join(f"{name}: {value}" for name, value in page.tokens.items()),
        "language": page.language,
        "direction": page.direction,
    }


def headers() -> str:
    """Give `_headers`, for hosts that read it: what the pages say in themselves, for every file.

    The hashes stay with the pages: this file is one for all, and one couple's page must not close when
    another's is published with a newer script. A browser obeys both, so each page's own hashes hold.
    """
    policy = _POLICY.format(script="'unsafe-inline'", style="'unsafe-inline'", images="blob: data:")
    lines = (
        "/*",
        f"Content-Security-Policy: {policy}; frame-ancestors 'none'",
        f"X-Robots-Tag: {_ROBOTS}",
        "Referrer-Policy: no-referrer",
        "X-Content-Type-Options: nosniff",
        "Cross-Origin-Opener-Policy: same-origin",
        "Cache-Control: no-cache, no-transform",
    )
    return "\n  ".join(lines) + "\n"
