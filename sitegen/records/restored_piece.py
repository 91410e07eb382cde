"""One piece as it was when a revision was sent: its words, choices, combinations and counts."""

from dataclasses import replace

from sitegen.model.content import Bounds, EventFolder, PieceFile, Words
from sitegen.model.piece import Answer, Choice, Photo, Piece, SecondPlace, Varied, Wearer
from sitegen.price.priced import Combination, PricedPiece
from sitegen.price.recipe import all_answers
from sitegen.records import shown as told
from sitegen.records.snapshot import Snapshot, index_of, made_of
from sitegen.values.money import Currency
from sitegen.values.node import Map

_EMPTY = Piece.model_validate({"piece": "-", "group": "-"})


def restored_piece(
    snapshot: Snapshot, at: int, file: PieceFile | None, folder: EventFolder, money: Currency
) -> PricedPiece:
    """Give the piece with that index; *file* is what the content has of it now, None where it is gone."""
    shown, table = snapshot.shown.pieces[at], snapshot.shown.table.pieces[at]
    now = file.piece if file else _EMPTY
    piece = now.model_copy(update=_fields(snapshot, at, now, folder))
    return PricedPiece(
        file=PieceFile(
            id=shown.id,
            piece=piece,
            quantity=Bounds(table.quantity, table.least, table.most),
            words=Words(shown.words, file.words.place if file else folder.note.place),
            node=file.node if file else Map({}, folder.node.place),
        ),
        combinations=tuple(_combination(snapshot, at, answers, money) for answers in all_answers(piece)),
        usual=index_of(table, table.usual),
    )


def _combination(snapshot: Snapshot, at: int, answers: tuple[int, ...], money: Currency) -> Combination:
    """What was rounded before is not known any more; the price is what was told."""
    table = snapshot.shown.table.pieces[at]
    index = index_of(table, answers)
    made, each = made_of(snapshot, at, index), table.each[index]
    return Combination(answers, made, money.amount(each), each, snapshot.kept.pieces[at].cost[index])


def _fields(snapshot: Snapshot, at: int, now: Piece, folder: EventFolder) -> dict[str, object]:
    shown, table = snapshot.shown.pieces[at], snapshot.shown.table.pieces[at]
    return {
        "piece": shown.title,
        "group": shown.group,
        "extra": shown.extra,
        "photos": tuple(_photo(one) for one in shown.pictures if one.file in folder.photos),
        "place": shown.place,
        "cautions": shown.cautions,
        "varied": _varied(shown),
        "second_place": _second(shown.moves, now.second_place, snapshot),
        "wearers": _wearers(shown.wearers, now.wearers),
        "choices": _choices(shown, table.usual, now),
        "optional": table.optional,
        "taxable": table.taxable,
        "price": None,
    }


def _photo(picture: told.Picture) -> Photo:
    fields = {"file": picture.file, "alt": picture.alt, "kind": picture.kind, "credit": picture.credit}
    return Photo.model_validate({name: value for name, value in fields.items() if value is not None})


def _varied(shown: told.Piece) -> Varied | None:
    if shown.dealt is None:
        return None
    return Varied.model_construct(keep=shown.dealt, alike=shown.alike, versions=shown.versions)


def _second(moves: told.Moves | None, now: SecondPlace | None, snapshot: Snapshot) -> SecondPlace | None:
    if moves is None:
        return None
    vessel = next((good.id for good in snapshot.kept.goods if good.name == moves.vessel), None)
    base = now or SecondPlace.model_construct(place=moves.place)
    return base.model_copy(
        update={"place": moves.place, "spot": moves.spot, "from_": moves.at, "vessel": vessel}
    )


def _wearers(names: tuple[str, ...], now: tuple[Wearer, ...]) -> tuple[Wearer, ...]:
    """Sides as the content has them: which wrist is the day's work."""
    known = {wearer.name: wearer for wearer in now}
    return tuple(known.get(name) or Wearer(name=name) for name in names)


def _choices(shown: told.Piece, usual: tuple[int, ...], now: Piece) -> tuple[Choice, ...]:
    """Labels and order are what was told; notes to self are found by the ids."""
    known = {(choice.id, answer.id): answer for choice in now.choices for answer in choice.answers}
    # The first answer names the goods that the choices are about, which is all that is read of them.
    about = {id_: amount for goods in shown.goods for id_, amount in goods}
    return tuple(
        Choice.model_construct(
            id=choice.id,
            ask=choice.ask,
            answers=tuple(
                (known.get((choice.id, one.id)) or Answer(id=one.id, label=one.label)).model_copy(
                    update={
                        "label": one.label,
                        "usual": a == usual[c],
                        "recipe": {},
                        "swap": {},
                        "goods": about if (c, a) == (0, 0) else {},
                    }
                )
                for a, one in enumerate(choice.answers)
            ),
        )
        for c, choice in enumerate(shown.choices)
    )


def as_agreed(piece: PricedPiece, answers: tuple[int, ...], quantity: int) -> PricedPiece:
    """Give a piece in which there is nothing left to choose: the picked answers alone, and a fixed count."""
    content = piece.file.piece
    choices = tuple(
        choice.model_copy(update={"answers": (choice.answers[a].model_copy(update={"usual": True}),)})
        for choice, a in zip(content.choices, answers, strict=True)
    )
    fixed = content.model_copy(update={"choices": choices, "optional": False})
    one = replace(piece.at(answers), answers=tuple(0 for _ in answers))
    file = replace(piece.file, piece=fixed, quantity=Bounds(quantity, quantity, quantity))
    return PricedPiece(file, (one,), 0)
