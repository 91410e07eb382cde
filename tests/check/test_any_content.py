"""Whatever is written, it is read or told: never an exception, and never a problem without a place."""

from hypothesis import given, settings
from hypothesis import strategies as st

from sitegen import report
from sitegen.values.problem import Problem, has_errors, in_order
from tests.check.folder import FILES, checked
from tests.check.mutations import changed_files, parsed, written


def told(files: dict[str, str]) -> list[Problem]:
    shared, event = checked(files)
    found = in_order([*shared.problems, *event.problems])
    for problem in found:
        text = report.text(report.finding(problem))
        assert problem.place.source.path.startswith("c/")
        assert problem.place.line <= problem.place.source.text.count("\n") + 1
        assert problem.what
        assert problem.why
        assert problem.fix
        assert all(line.isprintable() for line in text.split("\n"))
        assert "\U00010640" not in problem.what + problem.fix
    if event.folder is None:
        assert has_errors(found) or not files
    return found


def test_the_files_written_in_flow_style_are_sound() -> None:
    assert told({name: written(name, parsed(name)) for name in FILES}) == []


@given(changed_files())
@settings(max_examples=400, deadline=None)
def test_changed_content_is_read_or_told(files: dict[str, str]) -> None:
    told(files)


@given(st.sampled_from(sorted(FILES)), st.integers(0, 2000), st.text(max_size=4), st.integers(0, 30))
@settings(max_examples=400, deadline=None)
def test_a_slip_of_the_keyboard_is_read_or_told(name: str, at: int, typed: str, over: int) -> None:
    text = FILES[name]
    at = min(at, len(text))
    told({**FILES, name: text[:at] + typed + text[at + over :]})
