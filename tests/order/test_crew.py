"""One crew going round: worked examples, and laws that every timetable keeps."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from sitegen.order.crew import Job, Visit, elapsed, timetable


def visit(*minutes: int, access: int | None = None, due: int | None = None, hands: int = 1) -> Visit:
    return Visit(tuple(Job(Fraction(n), hands) for n in minutes), access, due)


def apart(n: int, minutes: int = 10) -> list[list[int]]:
    return [[0 if i == j else minutes for j in range(n)] for i in range(n)]


def test_jobs_start_as_hands_are_free() -> None:
    # Two hands: an arch takes both for 150 minutes, then jars and a sign side by side.
    jobs = (Job(Fraction(150), 2), Job(Fraction(20), 1), Job(Fraction(10), 1))
    _, (stay,) = timetable([Visit(jobs, access=510, due=810)], apart(1), 2)
    assert (stay.arrives, stay.starts, stay.done, stay.late) == (510, (510, 660, 660), 680, 0)
    assert elapsed(jobs, 1) == 180  # who is alone does it all, one after the other


def test_what_is_due_first_is_visited_first() -> None:
    way, stays = timetable([visit(60, access=600, due=900), visit(30, access=600, due=700)], apart(2), 2)
    assert way == (1, 0)
    assert [(stay.arrives, stay.done) for stay in stays] == [(640, 700), (600, 630)]


def test_another_order_is_taken_where_the_first_would_be_late() -> None:
    # Due first, but closed until 12:00; who waits for it comes too late to the other.
    visits = [visit(10, access=720, due=760), visit(60, access=600, due=780)]
    way, stays = timetable(visits, apart(2), 1)
    assert way == (1, 0)
    assert sum(stay.late for stay in stays) == 0


def test_without_access_one_starts_as_early_as_all_of_it_needs() -> None:
    visits = [visit(30, due=600), visit(60, due=640)]
    _, stays = timetable(visits, apart(2), 1)
    # The second needs 60 minutes before 640 and 10 to come: the first is done at 570.
    assert [(stay.arrives, stay.done, stay.late) for stay in stays] == [(540, 570, 0), (580, 640, 0)]


def test_without_any_hour_nothing_is_known() -> None:
    _, (stay,) = timetable([visit(10, 20)], apart(1), 1)
    assert (stay.arrives, stay.starts, stay.done, stay.late) == (None, (None, None), None, 0)


VISITS = st.lists(
    st.builds(
        Visit,
        st.lists(st.builds(Job, st.fractions(0, 90, max_denominator=4), st.integers(1, 4)), max_size=5).map(
            tuple
        ),
        st.integers(400, 800),
        st.integers(500, 1000),
    ),
    min_size=1,
    max_size=4,
)


@given(VISITS, st.integers(1, 3), st.integers(0, 40))
def test_nobody_is_in_two_places_and_nobody_comes_before_the_door_is_open(
    visits: list[Visit], hands: int, road: int
) -> None:
    way, stays = timetable(visits, apart(len(visits), road), hands)
    assert sorted(way) == list(range(len(visits)))
    clock = 0
    for place, i in enumerate(way):
        stay, one = stays[i], visits[i]
        assert stay.arrives is not None
        assert stay.done is not None
        assert one.access is not None
        assert one.due is not None
        assert stay.arrives >= max(one.access, clock + (road if place else 0))
        assert all(start is not None and start >= stay.arrives for start in stay.starts)
        assert stay.done - stay.arrives == elapsed(one.jobs, hands)
        assert stay.late == max(0, stay.done - one.due)
        clock = stay.done


@given(
    st.lists(st.builds(Job, st.integers(1, 60).map(Fraction), st.integers(1, 4)), max_size=7),
    st.integers(1, 4),
)
def test_work_takes_no_less_than_its_share_and_no_more_than_all_of_it(jobs: list[Job], hands: int) -> None:
    takes = elapsed(jobs, hands)
    work = sum(job.minutes * min(job.hands, hands) for job in jobs)
    assert work / hands <= takes <= sum(job.minutes for job in jobs)


def test_nobody_starts_earlier_than_helps() -> None:
    # The second opens at 10:00 for work until 10:20 that takes an hour: ten minutes sooner is all that helps.
    visits = [visit(30, due=600), visit(60, access=600, due=620)]
    _, stays = timetable(visits, apart(2), 1)
    assert [(stay.arrives, stay.late) for stay in stays] == [(560, 0), (600, 40)]
