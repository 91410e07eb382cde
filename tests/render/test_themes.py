"""Themes: how they are found and read, and that each can be read in its own colours."""

import re
from pathlib import Path

import pytest

from sitegen.check.colour import contrast
from sitegen.render.pages import couple_page
from sitegen.theme import SHIPPED, find_theme, themes_beside
from tests.render import sample

# WCAG 2.2, success criteria 1.4.3 (text) and 1.4.11 (marks of controls).
TEXT, MARKS = 4.5, 3


def a_theme(root: Path, name: str, manifest: str, **templates: str) -> None:
    folder = root / name
    (folder / "templates").mkdir(parents=True)
    (folder / "theme.yaml").write_text(manifest, encoding="utf-8")
    for template, text in templates.items():
        (folder / "templates" / f"{template}.html").write_text(text, encoding="utf-8")


def problem_of(name: str, *roots: Path) -> str:
    theme, problems = find_theme(name, roots)
    assert theme is None
    assert len(problems) == 1
    return problems[0].code


def test_a_shipped_theme_stands_on_the_common_skeleton() -> None:
    theme = sample.theme("north-window")
    assert [folder.parent.name for folder in theme.templates] == ["north-window", "common"]
    assert theme.style.index(".answer{display:grid") < theme.style.index("Iowan Old Style")
    assert theme.look.edges == (1600, 960, 480)


def test_a_studios_own_theme_may_stand_in_for_one_template(tmp_path: Path) -> None:
    content = tmp_path / "content"
    content.mkdir()
    a_theme(tmp_path / "themes", "ours", "name: ours\nbase: north-window\n", note="<p>our own words</p>")
    theme, problems = find_theme("ours", themes_beside(content))
    assert theme is not None, problems
    html = couple_page(sample.view(), theme)
    assert "our own words" in html
    assert "Flowers are a crop" not in html
    assert "The estimate" in html


def test_one_of_the_same_name_beside_the_content_comes_first(tmp_path: Path) -> None:
    a_theme(tmp_path, "north-window", "name: north-window\nbase: common\n")
    theme, _ = find_theme("north-window", (tmp_path, *SHIPPED))
    assert theme is not None
    assert theme.templates[0].is_relative_to(tmp_path)


def test_a_name_that_is_mistyped_is_told_with_the_nearest() -> None:
    theme, problems = find_theme("north-windw")
    assert theme is None
    assert (problems[0].code, problems[0].fix) == ("theme-unknown", 'write "north-window"')


@pytest.mark.parametrize(
    ("manifest", "code"),
    [
        ("name: x\nbase: x\n", "theme-deep"),
        ("name: x\nbase: nowhere\n", "theme-unknown"),
        ("name: x\nstyles: [lost.css]\n", "theme-style"),
        ("name: x\nfont: heavy\n", "key-unknown"),
        ("name: x\nopening: {left: 90%, right: 10%}\n", "value-unreadable"),
        ("name: &x x\n", "yaml-anchor"),
        ("ÿ", "yaml-shape"),
    ],
)
def test_a_manifest_that_does_not_hold_is_a_problem_not_a_crash(
    manifest: str, code: str, tmp_path: Path
) -> None:
    a_theme(tmp_path, "x", manifest)
    assert problem_of("x", tmp_path) == code


def test_a_manifest_that_cannot_be_opened_is_a_problem(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    a_theme(tmp_path, "x", "name: x\n")

    def refuse(_: Path) -> bytes:
        raise PermissionError

    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert problem_of("x", tmp_path) == "theme-unreadable"


@pytest.mark.parametrize("name", ["north-window"])
def test_text_and_marks_stand_out_in_light_and_dark(name: str) -> None:
    for tokens in tokens_of(sample.theme(name).style):
        for text in ("ink", "soft", "accent"):
            assert contrast(tokens[text], tokens["paper"]) >= TEXT, (text, tokens)
        assert contrast(tokens["on-accent"], tokens["accent"]) >= TEXT
        assert contrast(tokens["soft"], tokens["field"]) >= TEXT
        assert contrast(tokens["focus"], tokens["paper"]) >= MARKS


def tokens_of(style: str) -> list[dict[str, str]]:
    """Give the colours of each `:root` of a style: light, dark and print."""
    found: list[dict[str, str]] = []
    for block in re.findall(r":root \{([^}]*)\}", style):
        own = {key: _long(value) for key, value in re.findall(r"--([\w-]+): (#[0-9a-f]+)", block)}
        found.append((found[0] if found else {}) | own)
    return found


def _long(colour: str) -> str:
    return colour if len(colour) == 7 else "#" + "".join(2 * digit for digit in colour[1:])
