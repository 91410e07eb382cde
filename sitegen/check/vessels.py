"""Vessels: that they exist, have a mouth that is known, and can take the piece."""

from collections.abc import Iterator

from sitegen.check.names import unknown
from sitegen.model.content import PieceFile, Shared
from sitegen.values.length import Length
from sitegen.values.node import Path, place_at
from sitegen.values.problem import Problem


def check(piece: PieceFile, shared: Shared) -> Iterator[Problem]:
    """Check the vessel of the second place, and every vessel's mouth against the thickness of the piece."""
    then = piece.piece.second_place
    path: Path = ("second_place", "vessel")
    vessel = then.vessel if then is not None else None
    if vessel is not None and vessel not in shared.nodes.goods.entries:
        why = "The piece is moved into it, and it is counted with the hire pieces."
        yield unknown("good-unknown", "good", vessel, place_at(piece.node, path), shared.nodes.goods, why)
    elif vessel is not None and vessel in shared.goods and shared.goods[vessel].by_length:
        what = f"{vessel} is bought by the length"
        why = "A piece is moved into a vessel, and vessels are counted by the piece."
        yield Problem("good-measure", place_at(piece.node, path), what, why, "name a vessel")
    if piece.piece.bundle is None:
        return
    if vessel is not None:
        yield from _mouth(piece, shared, vessel, path, piece.piece.bundle)
    for name, line in _goods(piece):
        if name != vessel:
            yield from _mouth(piece, shared, name, line, piece.piece.bundle)


def _goods(piece: PieceFile) -> Iterator[tuple[str, Path]]:
    """Each good that any answer puts in, once, with the path of its line."""
    lines: list[tuple[str, Path, object]] = [(n, ("goods", n), a) for n, a in piece.piece.goods.items()]
    for c, choice in enumerate(piece.piece.choices):
        for a, answer in enumerate(choice.answers):
            path: Path = ("choices", c, "answers", a, "goods")
            lines += [(name, (*path, name), amount) for name, amount in answer.goods.items()]
    yield from {name: (name, path) for name, path, amount in reversed(lines) if amount != 0}.values()


def _mouth(piece: PieceFile, shared: Shared, name: str, path: Path, bundle: Length) -> Iterator[Problem]:
    good = shared.goods.get(name)
    if good is None or good.mouth is None or good.mouth.metres >= bundle.metres:
        return
    what = f"the mouth of {name} is {good.mouth}, and the piece is {bundle} thick where it is bound"
    why = "On the day it would not go in."
    related = (("its mouth", place_at(shared.nodes.goods, (name, "mouth"))),)
    place = place_at(piece.node, path, key="goods" in path)
    yield Problem(
        "vessel-mouth", place, what, why, "take a wider vessel, or bind it thinner", related=related
    )
