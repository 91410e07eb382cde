"""Every style that is shipped is CSS without a mistake, and stays the same when it is made smaller.

Source: tinycss2, an implementation of CSS Syntax Level 3 that is not ours.
"""

import re
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
import tinycss2
from tinycss2.ast import Node

from sitegen.theme import smaller

STYLES = sorted((Path(__file__).parents[2] / "themes").glob("*/*.css"))
_NESTING = {"media", "container", "supports"}
_TIGHT = re.compile(r" ?([>+~,]) ?|(?<=\() | (?=\))")


def selectors(text: str) -> list[str]:
    """Every selector of *text*, those within blocks too; raises what is no CSS."""
    return list(_selectors(tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True)))


def _selectors(rules: Sequence[Node]) -> Iterator[str]:
    for rule in rules:
        if rule.type == "error":
            raise ValueError(f"{rule.source_line}: {rule.message}")
        if rule.type == "qualified-rule":
            _declared(rule.content)
            yield " ".join(tinycss2.serialize(rule.prelude).split())
        elif rule.lower_at_keyword in _NESTING:
            yield from _selectors(
                tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True)
            )


def _declared(content: Sequence[Node]) -> None:
    for one in tinycss2.parse_blocks_contents(content, skip_comments=True, skip_whitespace=True):
        if one.type != "declaration":
            raise ValueError(f"{one.source_line}: no declaration")


def same(selector: str) -> str:
    """The selector without spaces that mean nothing, and without a star that stands for what follows it."""
    return _TIGHT.sub(lambda found: found[1] or "", selector).replace(" *:", " :")


@pytest.mark.parametrize("path", STYLES, ids=lambda path: path.name)
def test_a_style_is_css_and_selects_the_same_when_made_smaller(path: Path) -> None:
    text = path.read_text("utf-8")
    assert len(selectors(text)) > 20
    assert [same(one) for one in selectors(smaller(text))] == [same(one) for one in selectors(text)]


def test_a_mistake_would_be_found() -> None:
    for wrong in ("a { color red }", "@media print { a { 3px } }", "@media print { } }"):
        with pytest.raises(ValueError, match=":"):
            selectors(wrong)
    assert same("a:is(b)") != same("a :is(b)")
