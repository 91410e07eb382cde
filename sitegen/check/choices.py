"""Choices of one piece: answers that can be told apart, and no two questions that set the same thing."""

from collections.abc import Iterable, Iterator

from sitegen.check.catalogue import repeated
from sitegen.check.why import EXAMPLES
from sitegen.model.content import PieceFile
from sitegen.model.piece import MANY, Answer
from sitegen.values.node import Path, empty_list, place_at
from sitegen.values.problem import Problem

MOST_COMBINATIONS = 64
# More than these tire a couple: common practice, no source.
_QUESTIONS, _ANSWERS = 8, 3


def check(piece: PieceFile) -> Iterator[Problem]:
    """Check the questions and answers of a piece."""
    choices = piece.piece.choices
    yield from repeated("choices", [choice.id for choice in choices], piece.node, "choice")
    for c, choice in enumerate(choices):
        path: Path = ("choices", c)
        ids = [answer.id for answer in choice.answers]
        yield from repeated("answers", ids, piece.node, "answer", path)
        usual = [a for a, answer in enumerate(choice.answers) if answer.usual]
        if empty_list(piece.node, (*path, "answers")):
            what = "this choice has no answers"
            place = place_at(piece.node, (*path, "answers"), key=True)
            yield Problem(
                "answers-none",
                place,
                what,
                "The couple picks one of the answers.",
                f"write {EXAMPLES['answers']}",
            )
        if len(choice.answers) > _ANSWERS:
            what = f"{len(choice.answers)} answers to one question are more than {_ANSWERS}"
            place = place_at(piece.node, (*path, "answers", _ANSWERS))
            why = "On a phone a couple cannot weigh so many side by side."
            yield Problem("answers-many", place, what, why, "offer the three that differ most", "warning")
        if len(usual) > 1:
            what = "two answers are marked as usual"
            place = place_at(piece.node, (*path, "answers", usual[1], "usual"), key=True)
            why = "The proposal shows one answer as you suggest it."
            yield Problem("usual-repeated", place, what, why, "keep usual: yes on one of them")
    yield from _clashes(piece)
    if piece.piece.combinations > MOST_COMBINATIONS:
        many = f"{MANY:,} and more" if piece.piece.combinations == MANY else str(piece.piece.combinations)
        what = f"{many} combinations of answers are more than {MOST_COMBINATIONS}"
        why = "Each one is priced, and a couple cannot weigh so many."
        place = place_at(piece.node, ("choices",), key=True)
        yield Problem("combinations-many", place, what, why, "ask fewer questions, or give fewer answers")


def many(pieces: Iterable[PieceFile]) -> Iterator[Problem]:
    """Tell of an event that asks more than a couple likes to answer, at the first question too many."""
    asked = [(piece, c) for piece in pieces for c in range(len(piece.piece.choices))]
    if len(asked) > _QUESTIONS:
        piece, c = asked[_QUESTIONS]
        what = f"{len(asked)} questions in one event are more than {_QUESTIONS}"
        why = "A couple who are asked too much answer nothing, or ring you up about all of it."
        place = place_at(piece.node, ("choices", c))
        yield Problem("questions-many", place, what, why, "decide some of them yourself", "warning")


def _sets(answer: Answer) -> Iterator[tuple[str, Path]]:
    """What an answer sets: a word for it, and the path of its line within the answer."""
    yield from ((f"the line {name}", ("recipe", name)) for name in answer.recipe)
    yield from ((f"the line {name}", ("goods", name)) for name in answer.goods)
    yield from ((f"the swap of {name}", ("swap", name)) for name in answer.swap)
    if answer.minutes is not None:
        yield "the minutes", ("minutes",)
    if answer.made_by is not None:
        yield "who makes it", ("made_by",)


def _clashes(piece: PieceFile) -> Iterator[Problem]:
    """Two choices that set the same thing: the order of answering would decide."""
    owners: dict[str, tuple[int, Path]] = {}
    reported: set[tuple[str, int]] = set()
    for c, choice in enumerate(piece.piece.choices):
        for a, answer in enumerate(choice.answers):
            for word, inner in _sets(answer):
                path: Path = ("choices", c, "answers", a, *inner)
                owner, first = owners.setdefault(word, (c, path))
                if owner != c and (word, c) not in reported:
                    reported.add((word, c))
                    yield _clash(piece, word, path, first)


def _clash(piece: PieceFile, word: str, path: Path, first: Path) -> Problem:
    choices = piece.piece.choices
    here, there = choices[int(path[1])].id, choices[int(first[1])].id
    what = f'the choices "{there}" and "{here}" both set {word}'
    why = "The price would depend on which of the two is answered last."
    fix = "let one of them set it; a swap may stand beside a count"
    related = ((f'"{there}"', place_at(piece.node, first, key=True)),)
    return Problem("choices-clash", place_at(piece.node, path, key=True), what, why, fix, related=related)
