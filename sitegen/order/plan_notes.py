"""What of the days and the run sheet does not go together: warnings with their places."""

import datetime as dt
from collections.abc import Iterator, Sequence

from sitegen.model.event import Event, Place
from sitegen.model.hours import Hours, bench_day, hours_at
from sitegen.order.cooler_notes import cooler_notes
from sitegen.order.deliveries import deliveries
from sitegen.order.moves import Move, moves
from sitegen.order.order import Order
from sitegen.order.plan import Plan
from sitegen.order.run import Stop
from sitegen.order.trips import crew_of, pieces_of
from sitegen.order.work import last_arrivals
from sitegen.values.node import Map, Path, place_at
from sitegen.values.number import many
from sitegen.values.problem import Problem
from sitegen.values.source import Place as Where


def plan_notes(order: Order, plan: Plan, today: dt.date) -> tuple[Problem, ...]:
    """Warn of what cannot be done as it is planned; nothing where the event is over or closed."""
    event = order.priced.folder.event
    if event.closed is not None or event.date < today:
        return ()
    return (
        *_moved_days(order),
        *_come_closed(order),
        *_bench(order),
        *_opening(order),
        *cooler_notes(order),
        *_hands(order),
        *_set_up(order, plan.stops),
        *_moves(order),
    )


def _unplanned(
    order: Order, code: str, place: Where, texts: tuple[str, str, str], *related: tuple[str, Where]
) -> Problem:
    what, why, fix = texts
    return Problem(code, place, what, why, fix, "warning", related, order.priced.folder.id)


def _node(order: Order, piece: str) -> Map:
    return next(one.file.node for one in order.priced.pieces if one.id == piece)


def _day(day: dt.date) -> str:
    return f"{day:%A} {day.isoformat()}"


def _moved_days(order: Order) -> Iterator[Problem]:
    """One warning for the event: they are read together, before the first of them."""
    shared, moved = order.priced.shared, dict[tuple[str, dt.date], list[str]]()
    for one in deliveries(order):
        if one.to_order and one.arrival is not None and one.arrival.closed is not None:
            moved.setdefault((one.supplier, one.arrival.order_by), []).append(_day(one.arrival.closed))
    if not moved:
        return
    told = [
        f"{shared.suppliers[name].name} is closed on {' and '.join(closed)}, so order by {_day(by)}"
        for (name, by), closed in moved.items()
    ]
    texts = (
        f"the day to order moves: {'; '.join(told)}",
        "Counted back from the delivery, the last day to order falls on a day when nobody takes it.",
        "order on the earlier day; it stands on the sheets, the desk and in the calendar",
    )
    place = place_at(shared.nodes.suppliers, (next(iter(moved))[0], "closed"))
    yield _unplanned(order, "order-day-moved", place, texts)


def _come_closed(order: Order) -> Iterator[Problem]:
    """A day that only counts as one of delivery because none were written, and on which nobody is there."""
    shared, told = order.priced.shared, dict[str, dt.date]()
    for one in deliveries(order):
        terms = shared.suppliers[one.supplier]
        if one.arrival is not None and terms.delivers is None and one.arrival.day.weekday() in terms.closed:
            told.setdefault(one.supplier, one.arrival.day)
    for supplier, day in told.items():
        name = shared.suppliers[supplier].name
        texts = (
            f"{name} is closed on {_day(day)}, and what is ordered there would come on that day",
            "Without delivers they are taken to bring it on any day of the week.",
            "write the days on which they deliver as delivers:",
        )
        place = place_at(shared.nodes.suppliers, (supplier, "closed"))
        yield _unplanned(order, "delivery-closed", place, texts)


def _bench(order: Order) -> Iterator[Problem]:
    event, arrivals, shared = order.priced.folder.event, last_arrivals(order), order.priced.shared
    for portion, piece in pieces_of(order):
        day = bench_day(piece, event)
        late = {stem: arrivals[stem] for stem in portion.made.recipe if arrivals.get(stem, day) > day}
        if not late:
            continue
        stem = max(late, key=lambda name: late[name])
        texts = (
            f"the bench is on {_day(day)}, and {shared.stems[stem].name} comes on {_day(late[stem])}",
            "A piece is built when all its stems have come and drunk.",
            "build it later, or let the stem come earlier with arrive: in stems.yaml",
        )
        place = place_at(_node(order, portion.id), ("bench",))
        yield _unplanned(order, "bench-early", place, texts, _arrive(order, stem))


def _arrive(order: Order, stem: str) -> tuple[str, Where]:
    return "when it comes", place_at(order.priced.shared.nodes.stems, (stem, "arrive"))


def _opening(order: Order) -> Iterator[Problem]:
    event, shared = order.priced.folder.event, order.priced.shared
    for stem, come in last_arrivals(order).items():
        opens = shared.stems[stem].opens
        if opens is not None and come + dt.timedelta(days=opens.least) > event.date:
            texts = (
                f"{stem} takes {many(opens.least, 'day')} to open, and comes on {_day(come)}",
                "It would still be shut on the day.",
                "let it come earlier with arrive:, or write opens: 0 where it is bought open",
            )
            yield _unplanned(
                order,
                "opens-late",
                place_at(shared.nodes.stems, (stem, "opens")),
                texts,
                _arrive(order, stem),
            )


def _hands(order: Order) -> Iterator[Problem]:
    crew = crew_of(order).hands
    if order.priced.terms.crew is None:
        return
    for portion, piece in pieces_of(order):
        then = piece.second_place
        asked: list[tuple[int, Path]] = [(piece.site.hands if piece.site.minutes else 0, ("site", "hands"))]
        asked += [(then.hands if then.minutes else 0, ("second_place", "hands"))] if then else []
        for hands, path in asked:
            if hands > crew:
                texts = (
                    f"this takes {many(hands, 'hand')} at once, and the crew has {crew}",
                    "On the day nobody could do it as it is planned.",
                    "add to crew: hands, or plan it with fewer and more minutes",
                )
                yield _unplanned(order, "hands-few", place_at(_node(order, portion.id), path), texts)


def _set_up(order: Order, stops: Sequence[Stop]) -> Iterator[Problem]:
    """A place that is too short for its own work, one reached too late, a strike that runs over."""
    for stop in stops:
        if stop.place is None:
            continue
        due = "ready" if stop.hours.ready else "starts"
        where = _place_node(order, stop.place, due)
        if stop.short:
            texts = (
                _short(stop, stop.place),
                f"So many hands work there: {crew_of(order).hands}.",
                "get in earlier, build more at the bench, or bring more hands",
            )
            yield _unplanned(order, "setup-short", where, texts)
        elif stop.late:
            late = many(stop.late, "minute")
            texts = (
                f"the set-up at {stop.place.name} ends at {_clock(stop.done)}, {late} too late",
                f"The crew starts there at {_clock(stop.arrives)}{_after(stop, stops)}.",
                "get in earlier, build more at the bench, or bring more hands",
            )
            yield _unplanned(order, "setup-late", where, texts)
        yield from _clear(order, stop, stop.place)


def _short(stop: Stop, place: Place) -> str:
    between = f"between {_clock(stop.hours.access)} and {_clock(stop.hours.due)}"
    return f"the set-up at {place.name} takes {many(stop.short, 'minute')} more than there are {between}"


def _after(stop: Stop, stops: Sequence[Stop]) -> str:
    """Say where the crew comes from."""
    before = stops[: stops.index(stop)]
    last = next((one for one in reversed(before) if one.day == stop.day and one.done and one.place), None)
    return f", having been at {last.place.name} until {_clock(last.done)}" if last and last.place else ""


def _clear(order: Order, stop: Stop, place: Place) -> Iterator[Problem]:
    strike = next((step for step in stop.steps if step.kind == "strike"), None)
    if strike and strike.until and stop.hours.clear and strike.until > stop.hours.clear:
        texts = (
            f"the strike at {place.name} takes until {_clock(strike.until)}, past its hour to be clear",
            f"It begins at {_clock(strike.at)}, when all is over. The house may charge for time, or lock up.",
            "agree on a later hour, or bring more hands and lower work: strike",
        )
        yield _unplanned(order, "strike-late", _place_node(order, place, "clear"), texts)


def _moves(order: Order) -> Iterator[Problem]:
    """What begins to move in time, and is not in place when the guests come in."""
    event = order.priced.folder.event
    told: set[tuple[str, str]] = set()
    late = [move for move in moves(order) if _is_late(move.at, move.stands, hours_at(move.second, event))]
    for move in sorted(
        late, key=lambda one: one.stands or dt.datetime.combine(event.date, dt.time()), reverse=True
    ):
        first, starts = move.first, hours_at(move.second, event).starts
        pair = (first.id if first else "", move.second.id)
        if pair in told or starts is None:
            continue
        told.add(pair)
        texts = (
            _late_move(move, starts),
            f"{_change(event, first, starts)}Guests would walk in on it.",
            "move fewer pieces or start earlier with from:, or bring more hands",
        )
        place = place_at(_node(order, move.piece), ("second_place", "from"))
        yield _unplanned(
            order, "move-late", place, texts, ("starts", _place_node(order, move.second, "starts"))
        )


def _late_move(move: Move, starts: dt.datetime) -> str:
    first, done = move.first.name if move.first else "its first place", _clock(move.stands)
    return (
        f"the move from {first} to {move.second.name} is done at {done}, and guests come at {_clock(starts)}"
    )


def _is_late(at: dt.datetime | None, stands: dt.datetime | None, there: Hours) -> bool:
    """What moves while the guests are there already is meant to."""
    return bool(at and stands and there.starts and at < there.starts < stands)


def _change(event: Event, first: Place | None, starts: dt.datetime) -> str:
    ends = hours_at(first, event).ends if first else None
    if ends is None or ends > starts:
        return ""
    return f"The room change has {many((starts - ends) // dt.timedelta(minutes=1), 'minute')}. "


def _clock(moment: dt.datetime | None) -> str:
    return f"{moment:%H:%M}" if moment else "–"


def _place_node(order: Order, place: Place, key: str) -> Where:
    folder = order.priced.folder
    return place_at(folder.node, ("places", folder.event.places.index(place), key))
