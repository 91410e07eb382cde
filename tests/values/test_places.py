"""Places in a file, nodes, problems and the nearest name."""

from sitegen.values.nearest import nearest
from sitegen.values.node import Map, Scalar, Seq, place_at, plain
from sitegen.values.problem import Problem, has_errors, in_order, whole_file
from sitegen.values.source import Place, Source

TEXT = "recipe:\n  rose: 3\n  olive: 2.5\nlist: [a, b]\nnote:\n"
SOURCE = Source("event/piece.md", TEXT)


def at(words: str, start: int = 0) -> Scalar:
    begin = TEXT.index(words, start)
    return Scalar(words, Place(SOURCE, begin, begin + len(words)))


RECIPE = Map({"rose": (at("rose"), at("3")), "olive": (at("olive"), at("2.5"))}, Place(SOURCE, 8, 32))
LIST = Seq((at("a", 38), at("b", 38)), Place(SOURCE, 38, 44))
BLANK = Scalar("", Place(SOURCE, len(TEXT) - 1, len(TEXT) - 1))
NODE = Map(
    {"recipe": (at("recipe"), RECIPE), "list": (at("list"), LIST), "note": (at("note"), BLANK)},
    Place(SOURCE, 0, len(TEXT)),
)


def test_a_place_knows_its_line_and_column_and_the_authors_own_line() -> None:
    place = place_at(NODE, ("recipe", "olive"))
    assert (place.line, place.column, place.width) == (3, 10, 3)
    assert place.excerpt == "  olive: 2.5"
    assert str(place) == "event/piece.md:3:10"


def test_an_underline_never_leaves_its_line() -> None:
    assert Place(SOURCE, 10, 30).width == len("rose: 3")
    assert Place(SOURCE, len(TEXT), len(TEXT)).width == 1
    assert Place(Source("f", "ab"), 1, 2).excerpt == "ab"


def test_a_key_or_a_list_is_shown_by_its_name() -> None:
    assert place_at(NODE, ("recipe", "olive"), key=True).line == 3
    assert place_at(NODE, ("recipe", "olive"), key=True).column == 3
    assert place_at(NODE, ("recipe",)).line == 1
    assert place_at(NODE, ("list",)).column == 1
    assert place_at(NODE, ("list", 1)).column == 11


def test_a_key_with_nothing_behind_it_is_shown_by_its_name() -> None:
    assert place_at(NODE, ("note",)).column == 1


def test_where_the_path_ends_early_the_last_thing_found_is_shown() -> None:
    assert place_at(NODE, ("recipe", "fern")) == place_at(NODE, ("recipe",))
    assert place_at(NODE, ("list", 7)) == place_at(NODE, ("list",))


def test_plain_values_leave_out_what_was_not_written() -> None:
    assert plain(NODE) == {"recipe": {"rose": "3", "olive": "2.5"}, "list": ["a", "b"]}
    assert plain(Scalar("", BLANK.place, quoted=True)) == ""


def problem(code: str, start: int, severity: str = "error") -> Problem:
    place = Place(SOURCE, start, start + 1)
    return Problem(code, place, "what", "why", "fix", "warning" if severity == "warning" else "error")


def test_problems_come_in_the_order_of_the_files_and_once_each() -> None:
    first, second = problem("b", 1), problem("a", 5)
    other = Problem("a", whole_file("a.md"), "what", "why", "fix")
    assert in_order([second, first, second, other]) == [other, first, second]


def test_warnings_stop_nothing() -> None:
    assert not has_errors([problem("a", 1, "warning")])
    assert has_errors([problem("a", 1, "warning"), problem("b", 1)])


def test_the_nearest_name_is_told_where_one_is_near() -> None:
    assert nearest("eucaliptus", ["olive", "Eucalyptus"]) == "Eucalyptus"
    assert nearest("xyz", ["olive", "eucalyptus"]) is None
