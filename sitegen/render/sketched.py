"""Sketches of an event's pieces as they are planned: which there are, and what each shows in words."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.model.terms import ShowStems
from sitegen.order.order import sets_at
from sitegen.order.sets import VariedSet
from sitegen.pictures.plan import Look, Picture
from sitegen.pictures.sketch.brief import Brief
from sitegen.pictures.sketch.describe import described
from sitegen.pictures.sketch.form import Goods
from sitegen.pictures.sketch.plan import Drawing, draw, sketch
from sitegen.price.priced import Combination, PricedEvent, PricedPiece
from sitegen.render.palette import colour_name
from sitegen.render.set_apart import each_named
from sitegen.render.voice import Voice, voice_for
from sitegen.values.bag import Bag
from sitegen.values.node import place_at
from sitegen.values.problem import Problem

At = tuple[int, int]
"""An answer: the index of its choice, and its own."""

_NO_SETS: Mapping[str, VariedSet] = {}
# Of a set with more recipes than this, each is painted only where the piece asks: a second of work each.
_MANY = 12


@dataclass(frozen=True, slots=True)
class Sketched:
    """The sketches of one piece: as we suggest it, with each answer that changes it, and each of a set.

    Those of a set stand with the names of whose they are.
    """

    piece: Picture | None = None
    answers: Mapping[At, Picture] = field(default_factory=dict)
    each: tuple[tuple[str, Picture], ...] = ()

    @property
    def all(self) -> tuple[Picture, ...]:
        return (
            *((self.piece,) if self.piece else ()),
            *self.answers.values(),
            *(one for _name, one in self.each),
        )


@dataclass(frozen=True, slots=True)
class Sketches:
    """What is to be painted for an event, and its sketches by the ids of pieces."""

    drawings: tuple[Drawing, ...]
    of: Mapping[str, Sketched]


def sets_to_draw(event: PricedEvent) -> Mapping[str, VariedSet]:
    """Deal the varied sets as the couple's page does, where one of them may be drawn."""
    pieces = (one.file.piece for one in event.pieces if event.shared.studio.sketch)
    asked = any(piece.varied and piece.sketch is not False for piece in pieces)
    return sets_at(event, usual_picks(table(event))) if asked else _NO_SETS


def sketches_of(event: PricedEvent, look: Look, sets: Mapping[str, VariedSet] = _NO_SETS) -> Sketches:
    """Plan the sketches of *event*.

    A piece without a photo of its own gets one, a varied set one for each of its recipes, unless they are
    many; a piece that says `sketch: yes` gets those in any case, and one for each answer. *sets* are those
    that are dealt, by the ids of pieces.
    """
    found: dict[str, Sketched] = {}
    drawings: list[Drawing] = []
    for piece in event.pieces if event.shared.studio.sketch else ():
        voice = voice_for(event.shared.studio.language, event.shared.currency)
        planned = _Planned(event, piece, look, voice, sets.get(piece.id))
        if one := planned.sketched():
            found[piece.id] = one
            drawings += planned.drawings
    return Sketches(tuple(drawings), found)


def picture_of(
    piece: PricedPiece, pictures: Mapping[str, Picture], sketches: Mapping[str, Sketched]
) -> Picture | None:
    """Give the one picture that stands for a piece: a photo of ours, else a sketch of it, else a direction.

    *pictures* are by file name, *sketches* by the ids of pieces.
    """
    photos = [pictures[photo.file] for photo in piece.file.piece.photos if photo.file in pictures]
    ours = (one for one in photos if one.kind == "ours")
    drawn = sketches.get(piece.id, Sketched())
    of_set = (picture for _name, picture in drawn.each)
    return next(ours, None) or drawn.piece or next(of_set, None) or next(iter(photos), None)


def without(sketches: Sketches, failed: Collection[Drawing]) -> Sketches:
    """Leave out every sketch that is among *failed*."""
    lost = {one for drawing in failed for one in drawing.renditions}

    def kept(picture: Picture | None) -> Picture | None:
        return None if picture is None or lost.intersection(picture.renditions) else picture

    of = {
        id_: Sketched(
            kept(one.piece),
            {at: found for at, found in one.answers.items() if kept(found)},
            tuple((name, found) for name, found in one.each if kept(found)),
        )
        for id_, one in sketches.of.items()
    }
    return Sketches(tuple(one for one in sketches.drawings if one not in failed), of)


def unpainted(event: PricedEvent, planned: Sketches, painted: Sketches) -> Iterator[Problem]:
    """Warn of each piece of which a sketch was planned and could not be painted."""
    for piece in event.pieces:
        if planned.of.get(piece.id) != painted.of.get(piece.id):
            yield Problem(
                code="sketch-failed",
                place=place_at(piece.file.node, ("recipe",), key=True),
                what="the sketch of this recipe could not be painted",
                why="The couple's page shows the piece without it; all else is as it should be.",
                fix="write sketch: no, or add a photo",
                severity="warning",
                event=event.folder.id,
            )


@dataclass(slots=True)
class _Planned:
    """The sketches of one piece while they are being planned."""

    event: PricedEvent
    piece: PricedPiece
    look: Look
    voice: Voice
    set: VariedSet | None
    drawings: list[Drawing] = field(default_factory=list)

    def sketched(self) -> Sketched | None:
        piece = self.piece.file.piece
        pictured = any(photo.kind == "ours" for photo in piece.photos)
        if piece.sketch is False:
            return None
        usual = self.piece.as_suggested
        answers = dict(self._answers()) if piece.sketch else {}
        copies = dict(self._copies(self.set)) if self.set else {}
        if not piece.sketch and not 1 < len(copies) <= _MANY:
            copies = {}
        if pictured and not piece.sketch and not copies:
            return None
        beside = [self._brief(one.made.recipe, one.made.goods) for one in answers.values()]
        beside += [self._brief(recipe, usual.made.goods) for recipe in copies.values()]
        own = self._picture(usual, beside) if usual.made.recipe and not pictured and not copies else None
        return Sketched(
            own,
            {at: self._picture(one, beside) for at, one in answers.items()},
            tuple((name, self._each(name, recipe, beside)) for name, recipe in copies.items()),
        )

    def _copies(self, dealt: VariedSet) -> Iterator[tuple[str, Bag]]:
        """The recipes of a set, by whose they are."""
        for name, copy in each_named(self.piece.file.piece, dealt, self.voice):
            yield name, dealt.stems(copy)

    def _answers(self) -> Iterator[tuple[At, Combination]]:
        """Each answer of each choice that changes what is drawn, the others as we suggest."""
        usual = self.piece.as_suggested
        for c, choice in enumerate(self.piece.file.piece.choices):
            row = {}
            for a in range(len(choice.answers)):
                answers = (*usual.answers[:c], a, *usual.answers[c + 1 :])
                row[c, a] = self.piece.at(answers)
            if len({self._brief(one.made.recipe, one.made.goods) for one in row.values()}) > 1:
                yield from ((at, one) for at, one in row.items() if one.made.recipe)

    def _brief(self, recipe: Bag, goods: Goods) -> Brief:
        return described(self.piece.file.piece, recipe, goods, self.event.shared)

    def _picture(self, one: Combination, beside: list[Brief]) -> Picture:
        title, made = self.piece.file.piece.piece, one.made
        return self._drawn(self._brief(made.recipe, made.goods), self._alt(title, made.recipe), beside)

    def _each(self, name: str, recipe: Bag, beside: list[Brief]) -> Picture:
        title = f"{self.piece.file.piece.piece}, {name}"
        goods = self.piece.as_suggested.made.goods
        return self._drawn(self._brief(recipe, goods), self._alt(title, recipe), beside)

    def _drawn(self, brief: Brief, alt: str, beside: list[Brief]) -> Picture:
        drawing = draw(brief, self.look, beside)
        self.drawings.append(drawing)
        return sketch(drawing, alt)

    def _alt(self, title: str, recipe: Bag) -> str:
        """Say what is drawn as far as the studio shows it: stems counted or named, else colours alone."""
        _ = self.voice.words
        show: ShowStems = self.event.shared.studio.show_stems
        stems = [(self.event.shared.stems[id_], n) for id_, n in recipe.items()]
        if show == "no":
            said = list(dict.fromkeys(_(colour_name(stem.colour)) for stem, _n in stems))
        elif show == "names":
            said = [stem.name for stem, _n in stems]
        else:
            said = [f"{self.voice.amount(n)} {stem.name}" for stem, n in stems]
        return _("Sketch of {piece}: {stems}", piece=title, stems="; ".join(said))
