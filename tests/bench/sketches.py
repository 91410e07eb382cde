"""Measure how long one sketch takes, from brief to files, in each form. Run it by hand:

    python tests/bench/sketches.py [--stems 40] [--rounds 3]

Prints processor time of one core: arranging, painting, and all sizes as WebP and JPEG. The first sketch of a
process is slower, since it opens the stamps; it is shown apart. Machines are noisy. Nothing here is a test.
"""

import argparse
import statistics
import time
from fractions import Fraction

from sitegen.pictures.develop import sized
from sitegen.pictures.plan import Look
from sitegen.pictures.sketch.brief import Brief, Form, Stem
from sitegen.pictures.sketch.kinds import HABITS
from sitegen.pictures.sketch.paint import paint
from sitegen.pictures.sketch.plan import SIZES, draw

# Of 40 stems, like a full bouquet: kind, role, colour, how many.
STEMS = (
    ("peony", "form", "#f8d3c6", 4),
    ("garden-rose", "form", "#f5d3ba", 6),
    ("ranunculus", "mass", "#ec8468", 7),
    ("spray-rose", "mass", "#f5c3a0", 4),
    ("filler", "filler", "#fcfbf8", 3),
    ("plume", "filler", "#e8b9ac", 3),
    ("eucalyptus", "foliage", "#9fb0a2", 6),
    ("ruscus", "foliage", "#4f7046", 4),
    ("olive", "foliage", "#8d9a7a", 3),
)


def brief(form: Form, stems: int) -> Brief:
    total = sum(count for *_, count in STEMS)
    lines = (
        Stem(kind, colour, HABITS[kind].inches, Fraction(count * stems, total), role)
        for kind, role, colour, count in STEMS
    )
    return Brief(form, tuple(lines), "#ead9cb", trail=True)


def seconds(asked: Brief) -> float:
    start = time.process_time()
    drawing = draw(asked, Look())
    picture = paint(drawing.brief, drawing.size)
    names = {one.name for one in drawing.renditions}
    size = sum(len(content) for _, content in sized(picture, drawing.renditions, names))
    if not size:
        raise RuntimeError("nothing was written")
    return time.process_time() - start


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--stems", type=int, default=40)
    parser.add_argument("--rounds", type=int, default=3)
    given = parser.parse_args()
    print(f"first of a process  {seconds(brief('hand-tied', given.stems)):5.2f} s")
    for form in SIZES:
        times = [seconds(brief(form, given.stems)) for _ in range(given.rounds)]
        print(f"{form:<19} {statistics.median(times):5.2f} s")


if __name__ == "__main__":
    main()
