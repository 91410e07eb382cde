"""Who paints otherwise paints anew: the painter's mark is part of every sketch's name."""

import shutil
from pathlib import Path

import pytest

from sitegen.pictures.plan import Look
from sitegen.pictures.sketch import plan
from sitegen.pictures.sketch.painter import STAMPS, digest_of, painter
from tests.pictures.sketch.briefs import brief


def test_a_changed_module_or_stamp_is_another_painter(tmp_path: Path) -> None:
    module, stamps = tmp_path / "paint.py", tmp_path / "stamps"
    module.write_text("WIDE = 2")
    shutil.copytree(STAMPS, stamps)
    first = digest_of([module], stamps)
    assert digest_of([module], stamps) == first
    module.write_text("WIDE = 3")
    assert digest_of([module], stamps) != first
    module.write_text("WIDE = 2")
    (stamps / "peony-facing-2.webp").write_bytes(b"another")
    assert digest_of([module], stamps) != first


def test_another_painter_gives_every_sketch_another_name(monkeypatch: pytest.MonkeyPatch) -> None:
    before = {one.name for one in plan.draw(brief(), Look()).renditions}
    monkeypatch.setattr(plan, "painter", lambda: "another" + painter())
    assert not before & {one.name for one in plan.draw(brief(), Look()).renditions}
