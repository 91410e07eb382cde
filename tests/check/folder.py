"""A small sound content folder in memory, and what check says of it. Files are texts by their path."""

from collections.abc import Mapping
from pathlib import Path

from sitegen.check.event import EventFound, check_event
from sitegen.check.shared import SharedFound, check_shared
from sitegen.load.tree import EventFiles, File, Tree
from sitegen.values.problem import Problem, in_order

EVENT = "events/2031-06-14-x"
STUDIO = """---
studio: Test Studio
contact: {name: Una Test}
language: en-US
currency: USD
pricing:
  markup: {fresh: 3, goods: 2}
charges:
  - {id: delivery, label: Delivery, percent: 10%, least: 20.00}
payments:
  - {label: Retainer, percent: 30%, due: approval}
  - {label: Balance, rest: yes, due: 21 days before}
crew: {hands: 2, hours: 8, pay: 22.00}
---
Terms.
"""
STEMS = """rose:
  name: Rose
  role: form
  colour: "#e6c3b8"
  bloom: 3 in
  offers:
    - {supplier: farm, bunch: 10, price: 20.00, months: Apr-Oct, breaks: [{from: 5, price: 18.00}]}
    - {supplier: farm, bunch: 12, price: 30.00}
  arrive: 2-4
  cautions: [thorns]
fern: {name: Fern, role: foliage, colour: "#4f7046", offers: [{supplier: farm, bunch: 5, price: 6.00}]}
"""
GOODS = """ribbon: {name: Ribbon, packs: [{supplier: farm, length: 25 yd, price: 25.00}]}
cup: {name: Cup, hire: 4.00, mouth: 3 in, owned: 12}
"""
SUPPLIERS = "farm: {name: A Farm, order_days: 3, delivers: Mon-Sat, minimum: 10.00}\n"
STOCK = "rose: {stems: 12, until: 2031-06-14}\n"
EVENT_MD = """---
event: A test
for: Ada and Ben
date: 2031-06-14
counts: {tables: 4}
places:
  - {id: barn, name: Barn, ready: 14:30}
avoid: []
swaps: [{from: fern, to: fern}]
paid: [{date: 2031-01-09, amount: 10.00, how: transfer}]
---
Dear both.
"""
PIECE = """---
piece: Bouquet
group: Personal flowers
quantity: {usual: tables, from: 2, to: 6}
recipe:
  rose: 7
  fern: 0.5 bunch
goods: {ribbon: 1 yd}
minutes: 30
bench: day-before
build: {method: hand-tied, shape: round}
place: barn
varied: {keep: [rose], alike: 0.6}
second_place: {place: barn, from: 16:30, vessel: cup, minutes: 2}
wearers: [Bea, {name: Em, side: left}, Ida, Jo]
choices:
  - id: size
    ask: How full?
    answers:
      - {id: shown, label: As shown, usual: yes}
      - {id: fuller, label: Fuller, recipe: {rose: 9}, minutes: 40}
  - id: colour
    ask: Which?
    answers:
      - {id: blush, label: Blush}
      - {id: green, label: Green, swap: {rose: fern}}
---
Words.
"""
FILES = {
    "studio.md": STUDIO,
    "stems.yaml": STEMS,
    "goods.yaml": GOODS,
    "suppliers.yaml": SUPPLIERS,
    "stock.yaml": STOCK,
    f"{EVENT}/event.md": EVENT_MD,
    f"{EVENT}/01-bouquet.md": PIECE,
}


def tree_of(files: Mapping[str, str | bytes]) -> Tree:
    """The folder as `scan` would find it."""
    found = {
        name: File(f"c/{name}", text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass"))
        for name, text in files.items()
    }
    shared = {name: file for name, file in found.items() if "/" not in name}
    inner = {name.removeprefix(f"{EVENT}/"): file for name, file in found.items() if name.startswith(EVENT)}
    event = EventFiles("2031-06-14-x", f"c/{EVENT}", inner.pop("event.md", None), inner, {}, ())
    return Tree(Path("c"), "c", shared, (event,), ())


def checked(files: Mapping[str, str | bytes]) -> tuple[SharedFound, EventFound]:
    tree = tree_of(files)
    shared = check_shared(tree)
    return shared, check_event(tree.events[0], shared.shared)


def problems(files: Mapping[str, str | bytes]) -> list[Problem]:
    shared, event = checked(files)
    return in_order([*shared.problems, *event.problems])


def said(changes: Mapping[str, tuple[str, str]], **more: str) -> list[tuple[str, str, int]]:
    """Code, file and line of each problem after replacing texts, by the beginning of a file's last name."""
    files: dict[str, str | bytes] = dict(FILES)
    for begins, (old, new) in changes.items():
        name = next(name for name in FILES if name.rpartition("/")[2].startswith(begins))
        text = FILES[name]
        assert old in text, old
        files[name] = text.replace(old, new)
    files |= {f"{EVENT}/{name}.md": text for name, text in more.items()}
    return [(one.code, one.place.source.path.rpartition("/")[2], one.place.line) for one in problems(files)]
