"""The vectors that the page's script is held to are what Python computes, byte for byte."""

from tests.vectors.make_totals import FOLDER, vectors


def test_the_vectors_on_disk_are_what_is_computed() -> None:
    on_disk = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.iterdir()}
    assert on_disk == vectors()
