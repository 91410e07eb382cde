"""Orders for several events, in `orders/` of the desk: made when they are asked for, and kept since.

A build makes one again where any of its events is made again, and takes it over where none is. Which events
it is for stands in its own figures, so that nothing but the desk has to be kept.
"""

import datetime as dt
import json
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from itertools import pairwise
from pathlib import Path

from sitegen.build import staging
from sitegen.build.bought import buyer_of
from sitegen.build.event import Worked, work_out
from sitegen.build.gathered import Run
from sitegen.build.pages import SHEETS
from sitegen.order.joint import joint_order
from sitegen.order.joint_figures import joint_figures
from sitegen.order.together import Together, together
from sitegen.order.windows import delivery_days, met
from sitegen.render.desk_kept import OrderedTogether
from sitegen.render.order_csv import supplier_csv
from sitegen.render.order_together import together_view
from sitegen.render.pages import florist_page
from sitegen.theme import Theme

FOLDER = "orders"


def known_in(desk: Path) -> tuple[OrderedTogether, ...]:
    """Give the orders for several events on a desk; whatever else lies there is passed over."""
    found = (_known(path) for path in sorted((desk / FOLDER).glob("*.json")))
    return tuple(one for one in found if one is not None)


def _known(path: Path) -> OrderedTogether | None:
    try:
        return _from(path.stem, path.read_bytes())
    except OSError:
        return None


def _from(name: str, figures: bytes) -> OrderedTogether | None:
    try:
        data = json.loads(figures)
        return OrderedTogether(
            name, tuple(str(one["event"]) for one in data["events"]), str(data["order"]["cost"])
        )
    except (ValueError, KeyError, TypeError):
        return None


def bring(run: Run, there: AbstractSet[str], *, whole: bool) -> tuple[OrderedTogether, ...]:
    """Put the orders for several events beside, and give all there are; *there* are the events of the desk.

    Where none changes, and the desk is not put in place *whole*, nothing is put: what lies there stays.
    """
    known = {one.name: one for one in known_in(run.staging.live)}
    kept = {name: one for name, one in known.items() if set(one.events) <= there}
    again = [one.events for one in kept.values() if not run.made.keys().isdisjoint(one.events)]
    made: dict[str, Mapping[str, bytes]] = {}
    for events in (*again, *([run.found.wanted] if run.settings.together else [])):
        made |= _made(run, events)
    if whole or made or len(kept) < len(known):
        for name in kept.keys() - made.keys():
            for path in _files(run.staging.live, name):
                staging.keep(run.staging, f"{FOLDER}/{path.name}")
        for files in made.values():
            for file, content in files.items():
                staging.put(run.staging, f"{FOLDER}/{file}", content)
    both = {**kept, **{name: _from(name, files[f"{name}.json"]) for name, files in made.items()}}
    return tuple(one for _, one in sorted(both.items()) if one is not None)


def _files(desk: Path, name: str) -> list[Path]:
    folder = desk / FOLDER
    return [*sorted(folder.glob(f"{name}-*.csv")), folder / f"{name}.html", folder / f"{name}.json"]


def _made(run: Run, events: Iterable[str]) -> dict[str, Mapping[str, bytes]]:
    """Make the files of an order by its name; nothing where it cannot be made: the last one stays."""
    shared, today = run.checked.shared, run.settings.today
    buyer = buyer_of(run.ledger)
    found = (work_out(run.found.files(event), run.checked, today, run.memo, buyer) for event in events)
    worked = [one for one, _problems in found]
    every = in_order(one for one in worked if one is not None)
    if shared is None or len(every) < len(worked) or refusal(every, today):
        return {}
    bought = together([one.order for one in every], shared, today, buyer)
    draft = any(one.stand.approved is None for one in every)
    name = name_of(every)
    return {name: _rendered(name, bought, today, run.own[SHEETS], draft=draft)}


def _rendered(name: str, made: Together, today: dt.date, theme: Theme, *, draft: bool) -> dict[str, bytes]:
    order = joint_order(made)
    view = together_view(made, order, today, draft=draft)
    lists = {f"{name}-{supplier}.csv": supplier_csv(order, supplier) for supplier in order.to_send}
    return {
        f"{name}.html": florist_page("order.html", view, view.language, theme).encode(),
        f"{name}.json": f"{json.dumps(joint_figures(made, order), ensure_ascii=False, indent=1)}\n".encode(),
        **{file: text.encode() for file, text in lists.items()},
    }


def in_order(every: Iterable[Worked]) -> tuple[Worked, ...]:
    """Give events by their days: however they are named, it is the same order."""
    return tuple(sorted(every, key=lambda one: (one.folder.event.date, one.folder.id)))


def name_of(every: Sequence[Worked]) -> str:
    """Name an order for several events by the day of the first."""
    return every[0].folder.event.date.isoformat()


def refusal(every: Sequence[Worked], today: dt.date) -> str | None:
    """Say why these events, by their days, cannot be bought for as one; None where they can."""
    for one in every:
        event = one.folder.event
        if event.closed is not None or event.date < today:
            return f"{one.folder.id} is {event.closed or 'over'}; leave it out"
    if len({one.priced.shared.currency.code for one in every}) > 1:
        return "they were agreed on in different currencies; order each by itself"
    for one, other in pairwise(every):
        first, then = delivery_days(one.order), delivery_days(other.order)
        if first and then and met((first, then)).days < 1:
            return (
                f"the last day on which anything may come for {one.folder.id} is {first.last}, and the first "
                f"for {other.folder.id} is {then.first}: no delivery can be for both; order each by itself"
            )
    return None
