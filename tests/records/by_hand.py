"""Records edited by hand."""

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any


def rewrite(path: Path, change: Callable[[dict[str, Any]], None]) -> None:
    """Edit a record by hand, and with all care: its own sum is made right again."""
    said = json.loads(path.read_bytes())
    change(said)
    said.pop("sum", None)
    dumped = json.dumps(said, ensure_ascii=False, separators=(",", ":"))
    said["sum"] = hashlib.sha256(dumped.encode()).hexdigest()
    path.write_text(json.dumps(said, ensure_ascii=False, separators=(",", ":")) + "\n", "utf-8")
