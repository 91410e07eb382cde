"""Measure builds of a studio of 300 events with 12 pieces each, without photos. Run it by hand:

    python tests/bench/build.py [--events 300] [--pieces 12] [--rounds 3]

Prints processor time (user and system, children too) of whole processes: a full
build, one with nothing changed, one piece edited in a process that has built
before (as the preview does), `--help`; and, where pelican is installed, its time
to make plain pages of the same Markdown bodies, measured in turn with ours.
Machines are noisy: read the ratios, not the seconds. Nothing here is a test.
"""

import argparse
import datetime as dt
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from sitegen.build.quick import survey
from sitegen.build.run import build
from sitegen.build.settings import Settings

STUDIO = """---
studio: Bench Flowers
contact: {name: Ida Bench, email: ida@bench.example}
language: en-US
currency: USD
paper: letter
sketch: no
pricing:
  markup: {fresh: 3.5, foliage: 2.5, goods: 2.5}
  labour: {per_hour: 48.00}
  loss: 10%
  loss_in_price: yes
  round: {to: 1.00, how: up}
charges:
  - {id: delivery, label: Delivery, percent: 12%, least: 90.00}
tax: {rates: [{label: Tax, rate: 8.25%}], included: no, rounding: invoice}
payments:
  - {label: Retainer, percent: 30%, due: approval}
  - {label: Balance, rest: yes, due: 21 days before}
crew: {hands: 2, hours: 8, pay: 22.00}
---
Prices hold for thirty days.
"""
SUPPLIERS = """north: {name: North Growers, order_days: 5, delivery: 20.00, delivers: Tue Thu}
south: {name: South Market, order_days: 2, delivery: 12.00}
"""
GOODS = """silk: {name: Silk ribbon, packs: [{supplier: south, length: 25 yd, price: 36.00}]}
pin: {name: Pins, packs: [{supplier: south, pieces: 144, price: 6.50}]}
bowl: {name: Bowl, hire: 6.00, replace: 24.00, owned: 400, mouth: 6 in, height: 5 in}
"""
ROLES = ("form", "mass", "filler", "foliage", "line")
BODY = """Piece {number} of event {event}: one for each table, low enough to talk across, in *{a}* and **{b}**.

The {a} opens on the day before; the {b} holds it together.

- kept in water until noon
- placed before the doors open
"""


def stems(number: int) -> str:
    lines = []
    for i in range(number):
        colour = f"{(40 + 5 * i) % 256:02x}{(90 + 3 * i) % 256:02x}{(160 + 7 * i) % 256:02x}"
        lines.append(
            f'stem-{i}:\n  name: "Stem {i}, shade {i % 7}"\n  latin: Flos\n  role: {ROLES[i % 5]}\n'
            f'  colour: "#{colour}"\n  bloom: {1 + i % 4} in\n  offers:\n'
            f"    - {{supplier: north, bunch: 10, price: {10 + i % 9}.50}}\n"
            f"    - {{supplier: south, bunch: {5 + i % 20}, price: {8 + i % 7}.25}}\n"
            f"  arrive: 2\n  care: Two hours in clean water\n"
        )
    return "".join(lines)


def piece(event: int, number: int) -> str:
    names = [f"stem-{(event * 3 + number * 5 + k * 7) % 40}" for k in range(8)]
    unique = list(dict.fromkeys(names))
    recipe = "".join(f"  {name}: {2 + k}\n" for k, name in enumerate(unique))
    return (
        f"---\npiece: Piece {number}\ngroup: Group {number // 3}\nquantity: {{usual: {2 + number}, from: 1, to: 30}}\n"
        f"recipe:\n{recipe}goods: {{silk: 0.5 yd, pin: 3, bowl: 1}}\nminutes: {10 + number}\nchoices:\n"
        f"  - id: fullness\n    ask: How full?\n    answers:\n"
        f"      - {{id: less, label: Less, recipe: {{{unique[0]}: 1}}}}\n"
        f"      - {{id: shown, label: As shown, usual: yes}}\n"
        f"      - {{id: more, label: More, recipe: {{{unique[0]}: 6}}, minutes: 20}}\n"
        f"  - id: ribbon\n    ask: Which ribbon?\n    answers:\n"
        f"      - {{id: short, label: Short, usual: yes}}\n"
        f"      - {{id: long, label: Long, goods: {{silk: 1.5 yd}}}}\n"
        f"---\n{BODY.format(event=event, number=number, a=unique[0], b=unique[-1])}"
    )


def write_studio(root: Path, events: int, pieces: int) -> None:
    root.mkdir(parents=True)
    (root / "studio.md").write_text(STUDIO)
    (root / "suppliers.yaml").write_text(SUPPLIERS)
    (root / "goods.yaml").write_text(GOODS)
    (root / "stems.yaml").write_text(stems(40))
    for event in range(events):
        day = dt.date(2031, 1, 1) + dt.timedelta(days=event)
        folder = root / "events" / f"{day}-event-{event}"
        folder.mkdir(parents=True)
        front = f"event: Event {event}\nfor: Ada and Bo {event}\ndate: {day}\nguests: 80\n"
        places = "places:\n  - {id: hall, name: Hall, use: Dinner, ready: 17:00, starts: 18:00}\n"
        (folder / "event.md").write_text(f"---\n{front}{places}---\nA warm day.\n")
        for number in range(pieces):
            (folder / f"{number + 1:02}-piece-{number}.md").write_text(piece(event, number))


def write_pelican(root: Path, content: Path) -> None:
    """The same Markdown bodies as plain pages, with the smallest template of our own."""
    pages = root / "content" / "pages"
    pages.mkdir(parents=True)
    for path in sorted((content / "events").glob("*/*.md")):
        if path.name != "event.md":
            body = path.read_text().split("---\n", 2)[2]
            name = f"{path.parent.name}-{path.stem}"
            (pages / f"{name}.md").write_text(f"Title: {path.stem}\nSlug: {name}\nDate: 2031-01-01\n\n{body}")
    templates = root / "theme" / "templates"
    templates.mkdir(parents=True)
    (root / "theme" / "static").mkdir()
    (templates / "page.html").write_text("<!doctype html><title>{{ page.title }}</title>{{ page.content }}")
    settings = (
        "PATH='content'\nOUTPUT_PATH='out'\nTHEME='theme'\nTIMEZONE='UTC'\nDIRECT_TEMPLATES=[]\n"
        "FEED_ALL_ATOM=None\nCATEGORY_FEED_ATOM=None\nAUTHOR_FEED_ATOM=None\nCATEGORY_SAVE_AS=''\n"
        "AUTHOR_SAVE_AS=''\nTAG_SAVE_AS=''\nARCHIVES_SAVE_AS=''\n"
    )
    (root / "pelicanconf.py").write_text(settings)


def spent(command: list[str], folder: Path) -> tuple[float, float, int]:
    """Run *command*; give its processor seconds, wall seconds, and the exit code. Its output goes nowhere."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    begun = time.monotonic()
    done = subprocess.run(command, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False)
    wall = time.monotonic() - begun
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode:
        sys.stderr.write(done.stderr.decode()[-2000:])
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, wall, done.returncode


def edited(root: Path, rounds: int) -> list[float]:
    """Wall seconds of rebuilding after one piece's edit, in a process that goes on, as the preview does."""
    settings = Settings(root / "content", root / "out", dt.date(2030, 6, 1), "content", quick=True)
    build(survey(settings))
    path = max((root / "content" / "events").glob("*event-*/*piece*.md"))
    took = []
    for number in range(rounds + 1):
        path.write_text(path.read_text() + f"\nSaid once more, {number}.\n")
        begun = time.monotonic()
        outcome = build(survey(settings))
        took.append(time.monotonic() - begun)
        if not outcome.ok or len(outcome.made) != 1:
            raise RuntimeError(outcome)
    return took[1:]


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--events", type=int, default=300)
    parser.add_argument("--pieces", type=int, default=12)
    parser.add_argument("--rounds", type=int, default=3)
    options = parser.parse_args()
    root = Path(tempfile.mkdtemp(prefix="bench-"))
    number = options.events * options.pieces
    try:
        write_studio(root / "content", options.events, options.pieces)
        write_pelican(root / "pelican", root / "content")
        ours = [sys.executable, "-m", "sitegen", "build", "--today", "2030-06-01"]
        peer = [sys.executable, "-m", "pelican", "-q", "-s", "pelicanconf.py"]
        has_peer = spent([sys.executable, "-c", "import pelican"], root)[2] == 0
        full, others, nothing = [], [], []
        for _ in range(options.rounds):
            shutil.rmtree(root / "out", ignore_errors=True)
            shutil.rmtree(root / ".sitegen", ignore_errors=True)
            full.append(spent(ours, root)[0])
            if has_peer:
                shutil.rmtree(root / "pelican" / "out", ignore_errors=True)
                others.append(spent(peer, root / "pelican")[0])
            nothing.append(spent(ours, root)[1])
        print(f"full build: {statistics.median(full) / number * 1000:.2f} ms of processor time a piece")
        if has_peer:
            ratio = statistics.median(a / b for a, b in zip(full, others, strict=True))
            print(
                f"against pelican's plain pages: {ratio:.2f} ({statistics.median(others) / number * 1000:.2f} ms)"
            )
        else:
            print("pelican is not installed: no comparison (pip install pelican)")
        print(f"nothing changed: {statistics.median(nothing):.2f} s")
        print(f"one piece edited: {statistics.median(edited(root, 5)):.3f} s")
        helped = [spent([sys.executable, "-m", "sitegen", "--help"], root)[1] for _ in range(5)]
        print(f"--help: {statistics.median(helped):.3f} s")
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
        print(f"largest process: {peak / 1024:.0f} MiB" if os.uname().sysname == "Linux" else "")
    finally:
        shutil.rmtree(root)


if __name__ == "__main__":
    main()
