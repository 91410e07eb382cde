"""Front matter and body, and the lines they stand on."""

import pytest

from sitegen.load.front import split
from sitegen.values.node import plain
from sitegen.values.source import Source


def test_places_are_counted_in_the_whole_file() -> None:
    document, problems = split(Source("a.md", "---\n# note\na: 1\nb: &x 2\n---\nBody\n"))
    assert document is not None
    assert plain(document.front) == {"a": "1", "b": "2"}
    assert (problems[0].place.line, problems[0].place.column) == (4, 4)
    assert document.body == "Body\n"
    assert document.body_place.line == 6


@pytest.mark.parametrize(
    ("text", "body"),
    [
        ("---\na: 1\n---\n", ""),
        ("---\na: 1\n---", ""),
        ("---  \na: 1\n---\t\nx", "x"),
        ("---\n---\nx", "x"),
        ("---\na: 1\n---\nx\n---\ny\n", "x\n---\ny\n"),
        ("---\na: b --- c\n---\nx", "x"),
        ("---\n----: 1\n---\nx", "x"),
    ],
)
def test_the_front_ends_at_the_first_line_of_three_dashes(text: str, body: str) -> None:
    document, problems = split(Source("a.md", text))
    assert problems == []
    assert document is not None
    assert document.body == body


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "front-missing"),
        ("words", "front-missing"),
        ("\n---\na: 1\n---\n", "front-missing"),
        ("----\na: 1\n----\n", "front-missing"),
        ("---", "front-missing"),
        ("---\n", "front-open"),
        ("---\na: 1\n", "front-open"),
        ("---\na: 1\n--- x\n", "front-open"),
        ("---\na: 1\n ---\n", "front-open"),
    ],
)
def test_front_matter_that_is_not_there_or_never_ends(text: str, code: str) -> None:
    document, problems = split(Source("a.md", text))
    assert document is None
    assert [found.code for found in problems] == [code]


def test_many_dashes_are_no_long_search() -> None:
    document, problems = split(Source("a.md", "---\n" + "\n--- x" * 150_000))
    assert document is None
    assert [found.code for found in problems] == ["front-open"]
