"""What a new event, or a whole new studio, begins with: commented files that build at once.

Reads what is there and writes nothing, but for `write`. The words lie in `starter/`.
"""

import datetime as dt
import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from string import Template

from sitegen.check.shared import check_shared
from sitegen.check.starter_words import STARTER
from sitegen.load.tree import File, Tree, scan
from sitegen.model.catalogue import Good, Stem
from sitegen.model.content import Shared
from sitegen.order.calendar import arrival
from sitegen.theme import NOT_A_PAGE, SHIPPED
from sitegen.values.number import Unreadable, shorten
from sitegen.values.problem import Problem, in_order
from sitegen.values.when import MONTHS, date

_STUDIO = ("studio.md", "stems.yaml", "goods.yaml", "suppliers.yaml")
_NAME = re.compile(r"([0-9]{4}-[0-9]{2}-[0-9]{2})-([^\W_]+(?:-[^\W_]+)*)")
_LONGEST = 80
# In a piece: the stems of each kind, beginning with the one that is seen first.
_KINDS = (("form", "mass"), ("filler",), ("foliage",))


@dataclass(frozen=True, slots=True)
class Starter:
    """The files to write, by path within the content folder, or a *refusal*: one sentence on what to do.

    *noted* are the problems of her catalogue, where her stems could not be taken for that reason.
    """

    files: Mapping[str, str] = field(default_factory=dict)
    refusal: str = ""
    noted: tuple[Problem, ...] = ()


def starter(content: Path, event: str, today: dt.date, shown: str = "content") -> Starter:
    """Say what starts the event called *event* in the folder *content*, shown to people as *shown*.

    The name is `YYYY-MM-DD-slug`. Where nothing is in the folder yet, a studio and its catalogue come too.
    """
    found = _NAME.fullmatch(event)
    if found is None or len(event) > _LONGEST:
        return Starter(refusal=_misnamed(event, today))
    try:
        day = date(found[1])
    except Unreadable as bad:
        return Starter(refusal=f"{bad.what}: {bad.fix}")
    if refusal := _occupied(content, event, shown):
        return Starter(refusal=refusal)
    tree = scan(content, shown) if content.is_dir() else Tree(content, shown, {}, (), ())
    if tree.shared or tree.events or tree.problems:
        return _event(tree, event, day, today)
    files = {name: _text(name) for name in _STUDIO}
    ours = {name: File(f"{shown}/{name}", text.encode()) for name, text in files.items()}
    begun = _event(Tree(content, shown, ours, (), ()), event, day, today)
    return Starter({**files, **begun.files})


def copied_theme(content: Path, name: str) -> Starter:
    """Say what copies the shipped theme *name* to `themes/` beside *content*, where it stands in for it.

    The files are given by path within the content folder's parent.
    """
    folders = {
        path.parent.name: path.parent for root in reversed(SHIPPED) for path in root.glob("*/theme.yaml")
    }
    pages = sorted(folders.keys() - NOT_A_PAGE)
    if name not in pages:
        return Starter(refusal=f'no theme is called "{shorten(name)}": name one of {", ".join(pages)}')
    if os.path.lexists(content.resolve().parent / "themes" / name):
        return Starter(refusal=f"themes/{name} is there already: change it, or move it away")
    found = sorted(path for path in folders[name].rglob("*") if path.is_file())
    texts = {path: path.read_text(encoding="utf-8") for path in found}
    return Starter(
        {f"themes/{name}/{path.relative_to(folders[name]).as_posix()}": t for path, t in texts.items()}
    )


def write(content: Path, files: Mapping[str, str]) -> None:
    """Write *files* below *content*. Raises FileExistsError before it would overwrite one, and OSError."""
    for name, text in files.items():
        path = content / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)


def _misnamed(event: str, today: dt.date) -> str:
    said = "".join(char if char.isprintable() else "?" for char in shorten(event))
    begins = re.match(r"([0-9]{4}-[0-9]{2}-[0-9]{2})(?![0-9])", event)
    day = begins[1] if begins else f"{today.year + 1}-06-12"
    words = re.findall(r"[^\W_]+", event[begins.end() :] if begins else event)
    example = "-".join([day, *(words or ["fern-hollow"])]).lower()[:_LONGEST].rstrip("-")
    if not begins:
        return f'"{said}" does not begin with the day of the event: write it as {example}'
    return f'"{said}" cannot be the name of a folder: use letters, digits and hyphens, such as {example}'


def _occupied(content: Path, event: str, shown: str) -> str:
    """Say what stands in the way, or nothing."""
    events = content / "events"
    for folder, name in ((content, shown), (events, f"{shown}/events")):
        if os.path.lexists(folder) and not folder.is_dir():
            return f"{name} is not a folder: move it away, or name another with --content"
    if events.is_symlink():
        return f"{shown}/events is a link: put the folder itself there"
    there = {path.name.lower(): path.name for path in events.iterdir()} if events.is_dir() else {}
    if event.lower() in there:
        return f"{shown}/events/{there[event.lower()]} is there already: choose another name"
    return ""


def _event(tree: Tree, event: str, day: dt.date, today: dt.date) -> Starter:
    checked = check_shared(tree)
    folder = f"events/{event}"
    title = event[len("2027-06-12-") :].replace("-", " ").title()
    files = {f"{folder}/event.md": _text("event.md", title=title, date=day.isoformat())}
    shared = checked.shared if checked.sound else None
    stems = _in_season(shared, day, today) if shared else []
    if shared and stems:
        files[f"{folder}/01-bouquet.md"] = _bouquet(shared, stems)
        files[f"{folder}/02-tables.md"] = _tables(shared, stems)
        return Starter(files)
    noted = tuple(problem for problem in in_order(checked.problems) if problem.severity == "error")
    files[f"{folder}/01-bouquet.md"] = _text("bare.md", reason=_reason(noted, day))
    return Starter(files, noted=noted)


def _reason(noted: tuple[Problem, ...], day: dt.date) -> str:
    if not noted:
        return f"No stem in stems.yaml has an offer in {MONTHS[day.month - 1]}."
    first = noted[0]
    return f"Your lists could not be read: {shorten(f'{first.place}: {first.what}', 160)}."


def _in_season(shared: Shared, day: dt.date, today: dt.date) -> list[tuple[str, Stem]]:
    """Pick the first stem of each kind that is sold in the month of *day*, in the order of stems.yaml.

    One that can still be brought in time goes before one that cannot.
    """
    picked = []
    for roles in _KINDS:
        sold = [
            (name, stem)
            for name, stem in shared.stems.items()
            if stem.role in roles and stem.offer_on(day.month)
        ]
        in_time = [one for one in sold if _comes(shared, one[1], day, today)]
        picked += (in_time or sold)[:1]
    return picked or [(name, stem) for name, stem in shared.stems.items() if stem.offer_on(day.month)][:1]


def _comes(shared: Shared, stem: Stem, day: dt.date, today: dt.date) -> bool:
    """Whether somebody who sells the stem then can still bring it in its days before the event."""
    offers = [offer for offer in stem.offers if offer.in_season(day.month)]
    comes = [arrival(shared.suppliers[offer.supplier], stem.arrive, day) for offer in offers]
    return any(one is not None and one.can_come(today) for one in comes)


def _bouquet(shared: Shared, stems: list[tuple[str, Stem]]) -> str:
    metric = shared.studio.metric
    ribbon = next(((name, good) for name, good in shared.goods.items() if good.by_length), None)
    return _text(
        "bouquet.md",
        recipe=_lines(_amounts(stems, main=7, others=3)),
        goods=_goods(ribbon, "1 m" if metric else "1 yd", "used up with it"),
        length=_line("stem_length", "18 cm" if metric else "7 in", "from the binding point to the cut ends"),
        main=stems[0][0],
    )


def _tables(shared: Shared, stems: list[tuple[str, Stem]]) -> str:
    vessel = next(((name, good) for name, good in shared.goods.items() if good.hire is not None), None)
    return _text(
        "tables.md",
        recipe=_lines(_amounts(stems, main=4, others=2)),
        goods=_goods(vessel, "1", "lent, and brought home"),
    )


def _amounts(stems: list[tuple[str, Stem]], main: int, others: int) -> Iterator[tuple[str, str, str]]:
    for i, (name, stem) in enumerate(stems):
        yield name, str(others if i else main), f"{stem.name}: {stem.role}"


def _goods(good: tuple[str, Good] | None, amount: str, note: str) -> str:
    if good is None:
        return "# goods:                           # what else it takes, from goods.yaml"
    return f"goods:\n{_lines([(good[0], amount, f'{good[1].name}: {note}')])}"


def _lines(lines: Iterator[tuple[str, str, str]] | list[tuple[str, str, str]]) -> str:
    return "\n".join("  " + _line(*line, width=32) for line in lines)


def _line(key: str, value: str, note: str, width: int = 34) -> str:
    return f"{f'{key}: {value}':{width}} # {shorten(note, 60)}"


def _text(name: str, **words: str) -> str:
    return Template((STARTER / name).read_text(encoding="utf-8")).substitute(words)
