"""YAML as placed text: nothing is guessed, and every place is that of the author's own characters."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.load.front import split
from sitegen.load.nodes import read
from sitegen.load.tree import File, source_of
from sitegen.values.node import ABSENT, Map, Node, Scalar, Seq, plain
from sitegen.values.source import Source


def codes(text: str) -> list[str]:
    node, problems = read(Source("a.yaml", text))
    assert problems or node is not None
    return [problem.code for problem in problems]


@pytest.mark.parametrize(
    "text", ["4.10", "12:30", "no", "0123", "2027-06-12", "~", "1e3", "0x1F", "null", "12_000"]
)
def test_no_scalar_is_guessed(text: str) -> None:
    """YAML 1.1 would read these as a float, 750, false, 83, a date, nothing, a float, 31, nothing and 12000."""
    node, problems = read(Source("a.yaml", f"a: {text}\n"))
    assert problems == []
    assert node is not None
    assert plain(node) == {"a": text}


@pytest.mark.parametrize(
    ("text", "code", "line", "column"),
    [
        ("a: 1\na: 2\n", "key-repeated", 2, 1),
        ("a: &x 1\n", "yaml-anchor", 1, 4),
        ("é: &x 1\nb: *x\n", "yaml-alias", 2, 4),
        ("a: {b: 1}\nc:\n  <<: {b: 1}\n", "yaml-merge", 3, 3),
        ("a: &x {b: 1}\nc:\n  <<: *x\n", "yaml-merge", 3, 3),
        ("a: !!float 1\n", "yaml-tag", 1, 4),
        ("a: !x {b: 1}\n", "yaml-tag", 1, 4),
        ("a: 1\n---\nb: 2\n", "yaml-second", 2, 1),
        ("a: 1\n...\n---\nb: 2\n", "yaml-second", 3, 1),
        ("a:\n\tb: 1\n", "yaml-syntax", 2, 1),
        ("a: [1\n", "yaml-syntax", 1, 4),
        ('b: 1\na: "1\n', "yaml-syntax", 2, 4),
        ("a: é\x00\n", "yaml-syntax", 1, 5),
        ("a: é\x1b[31m\n", "yaml-syntax", 1, 5),
        ("a: 1\u2028b: 2\n", "yaml-syntax", 1, 5),
        ('a: "\\ud800"\n', "yaml-syntax", 1, 7),
        ("a: %x\n", "yaml-syntax", 1, 4),
        ("%YAML 9.0\n---\na: 1\n", "yaml-syntax", 1, 1),
        ("- a\n", "yaml-shape", 1, 1),
        ("just words\n", "yaml-shape", 1, 1),
        ("[a]: 1\n", "yaml-key", 1, 1),
        ("a: " + "[" * 14 + "]" * 14 + "\n", "yaml-deep", 1, 16),
    ],
)
def test_what_yaml_would_do_behind_her_back_is_one_problem_with_its_place(
    text: str, code: str, line: int, column: int
) -> None:
    _, problems = read(Source("a.yaml", text))
    assert [(found.code, found.place.line, found.place.column) for found in problems] == [
        (code, line, column)
    ]


def test_an_alias_shows_its_anchor() -> None:
    _, problems = read(Source("a.yaml", "a: &x 1\nb: *x\n"))
    assert [(word, place.line) for word, place in problems[0].related] == [("an anchor", 1)]


def test_no_word_of_the_parser_for_what_a_florist_is_likely_to_type() -> None:
    for text in ("a\nb: 1\n", "a: b: c\n", "a: - b\n", "a: 'it's'\n", "a: {b: #e6c3b8, c: d}\n", "a: @x\n", "a: `x\n",
                 'a: "\\q"\n', "a:\n   b: 1\n  c: 2\n", "a:\n  - b\n  c: d\n", "a: |x\n", "a: &\n", "a: !<\n"):  # fmt: skip
        _, problems = read(Source("a.yaml", text))
        assert [found.code for found in problems] == ["yaml-syntax"], text
        assert "cannot be read" not in problems[0].what, text


def test_a_comma_in_a_number_within_braces_is_two_entries_and_not_lost() -> None:
    node, problems = read(Source("a.yaml", "{price: 4,10}\n"))
    assert problems == []
    assert isinstance(node, Map)
    assert list(node) == ["price", "10"]


def _scalars(node: Node) -> list[Scalar]:
    if isinstance(node, Scalar):
        return [node]
    if isinstance(node, Seq):
        return [found for item in node.items for found in _scalars(item)]
    return [found for key, value in node.entries.values() for found in (key, *_scalars(value))]


# The letter that stands in for a name that could not be read may stand in no file.
LETTERS = st.characters(categories=["L", "Nd"], exclude_characters=ABSENT)
WORDS = st.text(LETTERS, min_size=1, max_size=8)


@given(
    st.recursive(WORDS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3))
)
def test_every_place_is_that_of_the_text_it_holds(value: object) -> None:
    text = f"é: {_flow(value)}\n"
    node, problems = read(Source("a.yaml", text))
    assert problems == []
    assert node is not None
    assert plain(node) == {"é": value}
    for scalar in _scalars(node):
        assert text[scalar.place.start : scalar.place.end] == scalar.text


def _flow(value: object) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_flow(inner)}" for key, inner in value.items()) + "}"
    return "[" + ", ".join(map(_flow, value)) + "]" if isinstance(value, list) else str(value)


@given(st.text())
def test_any_text_is_read_or_refused(text: str) -> None:
    node, problems = read(Source("a.yaml", text))
    assert node is not None or problems
    for found in problems:
        assert 0 <= found.place.start <= len(text)
        assert found.place.line >= 1


@given(st.text("ab:-?[]{}&*!|>'\"%#<.\\,~ \n\t", max_size=60))
def test_any_heap_of_signs_is_read_or_refused(text: str) -> None:
    node, problems = read(Source("a.yaml", text))
    assert node is not None or problems


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    source, problems = source_of(File("a.md", data))
    assert (source is None) == bool(problems)
    if source is not None:
        document, more = split(source)
        assert document is not None or more


def test_byte_order_mark_and_line_ends_are_as_if_absent() -> None:
    plainly = b"---\npiece: A\nnotes:\n  - b\n---\nWords.\n"
    one, _ = source_of(File("a.md", plainly))
    assert one is not None
    for other in (
        b"\xef\xbb\xbf" + plainly,
        plainly.replace(b"\n", b"\r\n"),
        b"\xef\xbb\xbf" + plainly.replace(b"\n", b"\r\n"),
        plainly.replace(b"\n", b"\r"),
    ):
        assert source_of(File("a.md", other))[0] == one


@pytest.mark.parametrize(
    ("text", "line", "column", "said"),
    [
        ("piece: A\ngroup B\nquantity: 3\n", 2, 1, "no colon after this key"),
        ("recipe:\n  rose 3   # as grown\n\n  # and\n  lily: 2\n", 2, 3, "no colon after this key"),
        ("recipe\n  rose: 1\nb: 3\n", 1, 1, "no colon after this key"),
        ("photos:\n  - file x\n    alt: b\n", 2, 5, "no colon after this key"),
        ("recipe:\n  rose:3\n  lily: 2\n", 2, 7, "no space after this colon"),
        ("group: B\n  quantity: 3\n", 2, 3, "further right than the one above"),
        ("a: 1\nrecipe:\n  rose: 1\n    lily: 2\n", 4, 5, "further right than the one above"),
        ("name: Say: hello\n", 1, 10, "a colon and a space stand inside a value"),
        ("recipe:\n  rose: 1\n lily: 2\n", 3, 2, "does not begin below those before it"),
    ],
)
def test_a_slip_is_told_on_the_line_where_it_was_made(text: str, line: int, column: int, said: str) -> None:
    _, problems = read(Source("a.yaml", text))
    assert [(one.place.line, one.place.column) for one in problems] == [(line, column)]
    assert said in problems[0].what
