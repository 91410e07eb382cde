"""The link as a QR code: a drawing to print, and squares for a terminal. The only import of segno."""

import io
import os
from pathlib import Path

import segno


def save_qr(link: str, path: Path) -> None:
    """Draw *link* as SVG, for its owner alone: whoever scans it has the key. Raises OSError."""
    code = segno.make_qr(link, error="m")
    drawn = io.BytesIO()
    code.save(drawn, kind="svg", scale=8, border=4, light="#fff")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.unlink(missing_ok=True)
    # The drawing holds the key, and nobody else may ever read it.
    made = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with open(made, "wb") as file:  # noqa: PTH123 - Path.open takes neither a mode nor an open file
        file.write(drawn.getvalue())


def terminal_qr(link: str) -> str:
    """Give *link* as half blocks, two rows of squares a line."""
    shown = io.StringIO()
    segno.make_qr(link, error="m").terminal(shown, border=2, compact=True)
    return shown.getvalue().rstrip("\n")
