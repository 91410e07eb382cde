"""Writes reply/codes.json, the codes that Python and the page's script must both write.

    python -m tests.vectors.make_reply

Each case is `{"key", "pid", "table", "said", "code"}`, bytes in hex. Same script, same bytes.
"""

import json
from pathlib import Path
from random import Random
from typing import Any

from sitegen.choices.picks import picks_json
from sitegen.choices.table import table_json
from sitegen.reply.code import Said, write_code
from tests.reply.drawn import random_said, random_table

FILE = Path(__file__).with_name("reply") / "codes.json"
CASES = 40


def said_json(said: Said) -> dict[str, Any]:
    return {
        "revision": said.revision,
        "phone": said.phone,
        "turn": said.turn,
        "notes": said.notes,
        "total": said.total,
        "picks": picks_json(said.picks),
    }


def cases() -> list[dict[str, Any]]:
    made = []
    for seed in range(CASES):
        chance = Random(seed)
        table = random_table(chance, most=12)
        key, pid, said = chance.randbytes(32), chance.randbytes(16), random_said(chance, table)
        made.append(
            {
                "key": key.hex(),
                "pid": pid.hex(),
                "table": table_json(table),
                "said": said_json(said),
                "code": write_code(key, pid, table, said),
            }
        )
    return made


if __name__ == "__main__":
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_text(json.dumps(cases(), separators=(",", ":")) + "\n", encoding="utf-8")
