"""Views to pages. The only import of jinja2.

Templates are given finished values and run no queries: an unknown name is an error, and every text is
escaped unless it is `Markup` already.
"""

import re
from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from sitegen.render.couple import CouplePage
from sitegen.render.couple_paper import AgreedPage, MakePage
from sitegen.render.scripts import choosing_script
from sitegen.render.shell import ShellPage
from sitegen.render.words import florist_language, words_for
from sitegen.theme import Theme

_BLOCKS = (
    "article|aside|dd|details|div|dl|dt|fieldset|figure|footer|h[1-4]|header|label|legend|li|main|nav|ol|p|section"
    "|summary|table|tbody|td|tfoot|th|thead|tr|ul"
)
_BETWEEN = re.compile(rf"(?<=>)\n+(?=</?(?:{_BLOCKS})[ >])")
_TAG = re.compile(r"<[a-z][^<>]*>")
# A value of letters, digits and hyphens needs no quotes (HTML, 13.1.2.3), except before the end of `<rect/>`.
_QUOTED = re.compile(r'(?<==)"([A-Za-z0-9-]+)"(?=[ >])')


@lru_cache(maxsize=16)
def _environment(templates: tuple[Path, ...]) -> Environment:
    """One environment a theme; where two folders have a template of one name, the first wins."""
    return Environment(
        loader=FileSystemLoader(templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
    )


def couple_page(page: CouplePage, theme: Theme) -> str:
    """Render the couple's page, whole: its style and its script stand inside it."""
    script = Markup(choosing_script())  # noqa: S704 - our own script
    return _page("page.html", page, page.language, theme, script=script)


def couple_body(page: CouplePage, theme: Theme) -> str:
    """Render what stands in a sealed page: the body alone, its pictures named by their sealed places.

    What is sealed does not shrink on its way, so line ends and quotes that mean nothing are left out.
    """
    body = _BETWEEN.sub("", _page("body.html", page, page.language, theme, sealed=True))
    return _TAG.sub(lambda tag: _QUOTED.sub(r"\1", tag[0]), body)


def shell_page(template: str, page: ShellPage, theme: Theme) -> str:
    """Render a page that is published around what is sealed."""
    return _page(template, page, page.language, theme)


def paper_page(template: str, page: AgreedPage | MakePage, theme: Theme) -> str:
    """Render one of the couple's sheets from *template*, with its style inside it."""
    return _page(template, page, page.frame.language, theme)


def florist_page(template: str, page: object, language: str, theme: Theme) -> str:
    """Render one of the florist's own pages from *template*, in English words, with its style inside it."""
    return _page(template, page, florist_language(language), theme)


def _page(
    template: str, page: object, language: str, theme: Theme, *, sealed: bool = False, **more: Markup
) -> str:
    style = Markup(theme.style)  # noqa: S704 - a theme's CSS is code of its author, not content
    found = _environment(theme.templates).get_template(template)
    return found.render(page=page, _=words_for(language), style=style, sealed=sealed, **more)
