"""All problems of a run at once, in file and line order, each once, and no consequence of another."""

import pytest

from sitegen.values.many import MOST
from tests.check.folder import EVENT, FILES, PIECE, checked, problems, said

PIECE_MD = "01-bouquet.md"


def test_the_folder_is_sound() -> None:
    shared, event = checked(FILES)
    assert [*shared.problems, *event.problems] == []
    assert shared.sound
    assert event.folder is not None


def test_all_problems_come_at_once_in_file_and_line_order() -> None:
    assert said(
        {
            "studio": ("USD", "UDS"),
            "stems": ("bunch: 10", "bunch: 0"),
            "goods": ("hire: 4.00", "hire: 4,00"),
            "event": ("id: barn", "id: a barn"),
            "01": ("minutes: 30", "minuts: 30"),
        }
    ) == [
        (("key-unknown"), PIECE_MD, 9),
        (("value-unreadable"), "event.md", 7),
        (("value-unreadable"), "goods.yaml", 2),
        (("value-unreadable"), "stems.yaml", 7),
        (("currency-unknown"), "studio.md", 5),
    ]


def test_a_name_fault_beside_a_shape_fault_in_one_file_are_both_told() -> None:
    assert said({"01": ("  rose: 7\n", "  roze: 7\n  lily: -1\n")}) == [
        ("stem-unknown", PIECE_MD, 6),
        ("stem-unknown", PIECE_MD, 7),
        ("value-unreadable", PIECE_MD, 7),
    ]


def test_a_wrong_date_hides_nothing_else() -> None:
    wrong = {"event": ("date: 2031-06-14", "date: 2031-13-45"), "01": ("  rose: 7\n", "  roze: 7\n")}
    assert said(wrong) == [("stem-unknown", PIECE_MD, 6), ("value-unreadable", "event.md", 4)]


def test_bounds_that_cross_are_told_as_that() -> None:
    name = f"{EVENT}/{PIECE_MD}"
    found = problems({**FILES, name: PIECE.replace("from: 2, to: 6", "from: 6, to: 3")})
    assert [one.what for one in found] == ["from is 6, above to, which is 3"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("piece: Bouquet\n", ""),
        ("piece: Bouquet", "piece: [a]"),
        ("group: Personal flowers", "group: {a: b}"),
        ("quantity: {usual: tables", "quantity: {usual: [x]"),
        ("    ask: How full?\n", ""),
        ("label: As shown", "label: [a]"),
        ("id: shown", "id: a b"),
        ("build: {method: hand-tied, shape: round}", "build: hand-tied"),
        ("wearers: [Bea", "wearers: [[Bea]"),
        ("bench: day-before", "bench: never"),
    ],
)
def test_whatever_else_is_wrong_in_a_piece_its_names_are_checked(old: str, new: str) -> None:
    text = PIECE.replace(old, new).replace("{ribbon: 1 yd}", "{riban: 1 yd}")
    found = problems({**FILES, f"{EVENT}/{PIECE_MD}": text})
    assert "good-unknown" in [problem.code for problem in found]
    assert len(found) == 2, [problem.what for problem in found]


@pytest.mark.parametrize(
    ("file", "old", "new", "code"),
    [
        ("event", "date: 2031-06-14", "date: 2031-02-30", "value-unreadable"),
        ("event", "date: 2031-06-14\n", "", "key-missing"),
        ("event", "for: Ada and Ben", "for: {a: b}", "value-type"),
        ("event", "counts: {tables: 4}", "counts: {tables: many}", "value-unreadable"),
        ("event", "counts: {tables: 4}", "counts: {tables: }", "key-missing"),
        ("event", "{id: barn, name", "{name", "key-missing"),
        ("event", "id: barn", "id: the barn", "value-unreadable"),
        ("event", "  - {id: barn, name: Barn, ready: 14:30}", "  - Barn", "value-type"),
        ("event", "counts: {tables: 4}", "counts: [tables]", "value-type"),
        ("event", "  - {id: barn, name: Barn, ready: 14:30}", "  id: barn", "value-type"),
        ("01", "recipe:\n  rose: 7\n  fern: 0.5 bunch", "recipe: {fern: 1}\nminuts: 3", "key-unknown"),
        ("event", "ready: 14:30", "ready: 25:30", "value-unreadable"),
        ("event", "swaps: [{from: fern, to: fern}]", "swaps: [{from: fern}]", "key-missing"),
        ("event", "---\nevent", "--- \n\tevent", "yaml-syntax"),
        ("stems", "  name: Rose\n", "", "key-missing"),
        ("stems", "role: form", "role: from", "value-unknown"),
        ("stems", "bunch: 10", "bunch: 0", "value-unreadable"),
        ("stems", "months: Apr-Oct", "months: Apr-Jnue", "value-unreadable"),
        ("stems", "fern: {name: Fern, ", "fern: {name: , ", "key-missing"),
        ("stems", "fern: {", "fern: &f {", "yaml-anchor"),
        ("stems", "fern: {", "<<: {", "yaml-merge"),
        ("stems", "fern: {", "--- \nfern: {", "yaml-second"),
        ("stems", "offers:\n", "ofers:\n", "key-unknown"),
        ("goods", "ribbon: {name", "ribbon: {nam", "key-unknown"),
        ("goods", "cup: {", "cup: {packs: [{supplier: farm, pieces: 1, price: 1}], ", "value-one-of"),
        ("goods", "length: 25 yd, ", "", "value-one-of"),
        ("suppliers", "name: A Farm", "name: [A Farm]", "value-type"),
        ("suppliers", "farm: {", "farm: [", "yaml-syntax"),
        ("suppliers", "Mon-Sat", "Mon-Sta", "value-unreadable"),
        ("stock", "stems: 12", "stems: 12.5", "value-unreadable"),
        ("studio", "USD", "US", "currency-unknown"),
        ("studio", "en-US", "english", "language-unknown"),
        ("studio", "language: en-US\n", "", "key-missing"),
        ("studio", "currency: USD\n", "", "key-missing"),
        ("studio", "{id: delivery, label", "{label", "key-missing"),
        ("studio", "percent: 30%", "percent: 30", "value-unreadable"),
        ("01", "rose: 7", "rose: -7", "value-unreadable"),
        ("01", "rose: 7", "rose: ", "key-missing"),
        ("01", "ribbon: 1 yd", "ribbon: 1 yard", "value-unreadable"),
        ("01", "{usual: tables", "{usual: 2/3", "value-unreadable"),
        ("01", "place: barn\n", "place: the barn\n", "value-unreadable"),
        ("01", "vessel: cup", "vessel: a cup", "value-unreadable"),
        ("01", "keep: [rose]", "keep: [a rose]", "value-unreadable"),
        ("01", "swap: {rose: fern}", "swap: {rose: [fern]}", "value-type"),
        ("01", "recipe: {rose: 9}", "recipe: {rose: lots}", "value-unreadable"),
    ],
)
def test_no_consequence_of_a_problem_is_told(file: str, old: str, new: str, code: str) -> None:
    found = said({file: (old, new)})
    expected = [code, "key-missing"] if new == "ofers:\n" or "{nam:" in new else [code]
    if (file, code) == ("goods", "key-unknown"):
        expected = [code, "key-missing"]
    assert sorted(name for name, _, _ in found) == sorted(expected)


@pytest.mark.parametrize("name", ["studio.md", "stems.yaml", "goods.yaml", "suppliers.yaml"])
def test_faults_of_an_event_are_told_beside_a_shared_file_that_cannot_be_read(name: str) -> None:
    text = PIECE.replace("minutes: 30", "minuts: 30")
    found = problems({**FILES, name: b"\xff", f"{EVENT}/{PIECE_MD}": text})
    assert [problem.code for problem in found] == ["key-unknown", "file-encoding"]


@pytest.mark.parametrize("name", ["studio.md", "stems.yaml", "goods.yaml", "suppliers.yaml"])
def test_a_missing_file_is_one_problem(name: str) -> None:
    found = problems({other: text for other, text in FILES.items() if other != name})
    assert [(problem.code, problem.place.source.path) for problem in found] == [("file-missing", f"c/{name}")]


def test_stock_may_be_missing() -> None:
    assert problems({name: text for name, text in FILES.items() if name != "stock.yaml"}) == []


def test_a_problem_is_told_once_however_often_a_stem_is_used() -> None:
    found = said(
        {
            "stems": ("    - {supplier: farm, bunch: 12, price: 30.00}\n", ""),
            "event": ("06-14\nc", "11-14\nc"),
        }
    )
    assert found == [("stem-season", PIECE_MD, 6), ("date-folder", "event.md", 4)]


def test_a_stem_that_has_a_stand_in_need_not_be_in_season() -> None:
    stems = FILES["stems.yaml"].replace("    - {supplier: farm, bunch: 12, price: 30.00}\n", "")
    event = FILES[f"{EVENT}/event.md"].replace("date: 2031-06-14", "date: 2031-11-14")
    files = {**FILES, "stems.yaml": stems, f"{EVENT}/event.md": event}
    assert [problem.code for problem in problems(files)] == ["stem-season", "date-folder"]
    swapped = event.replace("{from: fern", "{from: rose")
    assert [problem.code for problem in problems({**files, f"{EVENT}/event.md": swapped})] == ["date-folder"]


def test_stems_to_take_instead_are_those_of_the_role_nearest_in_colour() -> None:
    others = {
        "near": "#e8c6bb",
        "far": "#1030a0",
        "nearer": "#e6c3b9",
        "winter": "#e6c3b8",
        "leaf": "#e6c3b8",
    }
    lines = "".join(
        f'{name}: {{name: {name}, role: {"foliage" if name == "leaf" else "form"}, colour: "{colour}", '
        f"offers: [{{supplier: farm, bunch: 1, price: 1, months: {'Dec' if name == 'winter' else 'Jun'}}}]}}\n"
        for name, colour in others.items()
    )
    stems = FILES["stems.yaml"].replace("    - {supplier: farm, bunch: 12, price: 30.00}\n", "")
    found = problems({**FILES, "stems.yaml": stems.replace("Apr-Oct", "Jul-Oct") + lines})
    assert [problem.fix for problem in found] == ["take nearer, near, far, or add an offer for Jun"]


def test_an_answer_that_puts_a_piece_into_a_narrow_vessel_is_told() -> None:
    changes = ("goods: {ribbon: 1 yd}", "bundle: 3.5 in\ngoods: {ribbon: 1 yd}")
    assert [code for code, _, _ in said({"01": changes})] == ["vessel-mouth"]
    answer = "label: Fuller, goods: {cup: 1}"
    text = PIECE.replace(*changes).replace("label: Fuller", answer).replace(", vessel: cup", "")
    found = problems({**FILES, f"{EVENT}/{PIECE_MD}": text})
    assert [(problem.code, problem.place.line) for problem in found] == [("vessel-mouth", 22)]


def test_more_than_two_hundred_problems_end_with_one_that_says_so() -> None:
    lines = "".join(f"  stem-{n}: 1\n" for n in range(1000))
    found = said({"01": ("recipe:\n", f"recipe:\n{lines}")})
    assert len(found) == MOST + 1
    assert found[-1][0] == "problems-many"


def test_two_pieces_of_one_name_are_told_and_both_read() -> None:
    again = PIECE.replace("rose: 7", "roze: 7")
    found = problems({**FILES, f"{EVENT}/02-bouquet.md": again})
    assert [(problem.code, problem.place.source.path[-13:]) for problem in found] == [
        ("piece-repeated", "02-bouquet.md"),
        ("stem-unknown", "02-bouquet.md"),
    ]


@pytest.mark.parametrize(
    "text", ["choices: []\n", "photos: []\n", "wearers: []\n", "goods: {}\n", "private:\n"]
)
def test_empty_lists_and_lines_count_as_not_written(text: str) -> None:
    piece = f"---\npiece: A\ngroup: B\nrecipe: {{rose: 1}}\n{text}---\n"
    assert problems({**FILES, f"{EVENT}/{PIECE_MD}": piece}) == []


def test_what_stands_in_for_an_unread_name_cannot_be_written() -> None:
    found = problems({**FILES, "stems.yaml": FILES["stems.yaml"] + "\U00010640: {name: x}\n"})
    assert [problem.code for problem in found] == ["yaml-syntax"]


@pytest.mark.parametrize(
    ("line", "fix"),
    [
        ("colour: #f3e7cf  # cream", 'put it in quotes: colour: "#f3e7cf"'),
        ("colour: # cream", 'add colour: "#e6c3b8"'),
        ("colour:", 'add colour: "#e6c3b8"'),
    ],
)
def test_a_colour_without_quotes_is_told_with_what_the_author_wrote(line: str, fix: str) -> None:
    stems = FILES["stems.yaml"].replace('colour: "#e6c3b8"\n', f"{line}\n")
    (problem,) = (one for one in problems({**FILES, "stems.yaml": stems}) if one.code == "key-missing")
    assert problem.fix == fix
    assert problem.what.endswith("what follows a # is not read") == ("f3e7cf" in line)
