"""One piece as the couple read it: pictures, price, choices and what they change, recipe, where it moves."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from sitegen.choices.effects import answer_effects
from sitegen.choices.picks import Picks
from sitegen.choices.table import Table
from sitegen.choices.totals import totals
from sitegen.model.piece import Photo
from sitegen.order.sets import VariedSet
from sitegen.pictures.plan import Picture
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.render.cautions import cautions
from sitegen.render.couple_piece import Answer, Choice, Count, Moves, Piece, Shot, Tick
from sitegen.render.dates import time_of
from sitegen.render.photos import Show
from sitegen.render.prose import prose
from sitegen.render.recipe import changes, contents
from sitegen.render.set_apart import set_apart
from sitegen.render.sketched import Sketched
from sitegen.render.voice import Voice


@dataclass(frozen=True, slots=True)
class PieceMaker:
    """What all pieces of one page are made from."""

    event: PricedEvent
    table: Table
    picks: Picks
    pictures: Mapping[str, Picture]
    show: Show
    voice: Voice
    sketches: Mapping[str, Sketched] = field(default_factory=dict)
    sets: Mapping[str, VariedSet] = field(default_factory=dict)
    agreed: bool = False

    def piece(self, index: int) -> Piece:
        """Make the view of the event's piece number *index*."""
        priced = self.event.pieces[index]
        piece, quantity = priced.file.piece, priced.file.quantity
        shared = self.event.shared
        key = f"piece-{index + 1}"
        each = priced.as_suggested.each
        caption, shots = _caption_once(tuple(self._shots(priced)))
        price_each, price = self.voice.each_and_line(each, quantity.usual)
        return Piece(
            key=key,
            title=piece.piece,
            layout=_layout(shots),
            shots=shots,
            caption=caption,
            price_each=price_each,
            price=price,
            changeable=not quantity.fixed,
            html=prose(priced.file.words.text),
            choices=self._choices(index, key),
            count=None if quantity.fixed else self._count(priced),
            leave_out=self._leave_out(index) if piece.optional else None,
            contents=contents(priced, shared.stems, shared.studio.show_stems, self.voice),
            set_apart=set_apart(priced, self.sets.get(priced.id), shared, self.voice, agreed=self.agreed),
            cautions=cautions(priced, shared, self.event.folder.event.mind, self.voice),
            remarks=tuple(self._remarks(priced)),
            moves=self._moves(priced),
            set=tuple(self.show(one, name) for name, one in self._of(priced).each),
            set_caption=self._sketched(),
        )

    def line(self, index: int) -> int:
        """Give what all of a piece cost, in smallest units."""
        priced = self.event.pieces[index]
        return priced.as_suggested.each * priced.file.quantity.usual

    def _shots(self, priced: PricedPiece) -> Iterator[Shot]:
        photos = [photo for photo in priced.file.piece.photos if photo.file in self.pictures]
        for photo in photos:
            alt = photo.alt or self.voice.words("Photo of {piece}", piece=priced.file.piece.piece)
            yield self.show(replace(self.pictures[photo.file], alt=alt), self._caption(photo))
        if sketch := self._of(priced).piece:
            yield self.show(sketch, self._sketched())

    def _caption(self, photo: Photo) -> str:
        direction = self.voice.words("A direction, not the piece") if photo.kind == "inspiration" else ""
        return " · ".join(filter(None, (direction, photo.credit)))

    def _choices(self, index: int, key: str) -> tuple[Choice, ...]:
        priced, shared, voice = self.event.pieces[index], self.event.shared, self.voice
        quantity = priced.file.quantity.usual
        made = []
        for c, effects in enumerate(answer_effects(self.table, self.picks, index)):
            choice = priced.file.piece.choices[c]
            answers = []
            for a, effect in enumerate(effects):
                suggested = a == choice.usual
                difference, for_all = ("", "") if suggested else voice.difference(effect.each, quantity)
                said = changes(priced, (c, a), shared, voice)
                label, leads = choice.answers[a].label, voice.leads_to(effect.total)
                name, shot = f"{key}-{c + 1}-{a + 1}", self._sketch_with(priced, (c, a))
                answers.append(Answer(name, label, said, difference, for_all, leads, suggested, shot))
            caption = self._sketched() if any(answer.sketch for answer in answers) else ""
            made.append(Choice(f"{key}-{c + 1}", choice.ask, tuple(answers), caption))
        return tuple(made)

    def _of(self, priced: PricedPiece) -> Sketched:
        return self.sketches.get(priced.id, Sketched())

    def _sketched(self) -> str:
        return self.voice.words("A sketch of the recipe, not the finished piece")

    def _sketch_with(self, priced: PricedPiece, answer: tuple[int, int]) -> Shot | None:
        sketch = self._of(priced).answers.get(answer)
        return self.show(sketch, "") if sketch else None

    def _count(self, priced: PricedPiece) -> Count:
        quantity = priced.file.quantity
        bounds = self.voice.words("from {least} to {most}", least=quantity.least, most=quantity.most)
        return Count(quantity.usual, quantity.least, quantity.most, bounds)

    def _leave_out(self, index: int) -> Tick:
        pieces = self.picks.pieces
        without = (*pieces[:index], replace(pieces[index], out=True), *pieces[index + 1 :])
        total = totals(self.table, replace(self.picks, pieces=without)).total
        label = self.voice.words("Leave this out")
        return Tick(label, self.voice.step(-self.line(index)), self.voice.leads_to(total))

    def _remarks(self, priced: PricedPiece) -> Iterator[str]:
        _, piece = self.voice.words, priced.file.piece
        if piece.wearers:
            yield _("For {names}.", names=self.voice.listed(tuple(wearer.name for wearer in piece.wearers)))
        if priced.id in self.sets and self.sets[priced.id].deal.versions > 1:
            yield _("They share one look and differ in their stems, on purpose.")
        if piece.extra:
            yield _.plural("We make one spare, on us.", "We make {n} spare, on us.", piece.extra)
        if priced.as_suggested.made.by_couple:
            yield _("You put this together yourselves, from stems we prepare.")

    def _moves(self, priced: PricedPiece) -> tuple[Moves, ...]:
        second = priced.file.piece.second_place
        if second is None:
            return ()
        place = next((place for place in self.event.folder.event.places if place.id == second.place), None)
        where = ", ".join(filter(None, (second.spot, place.name if place else "")))
        when = time_of(second.from_, self.voice.language) if second.from_ else None
        if when:
            when = replace(when, text=self.voice.words("at {time}", time=when.text))
        vessel = self.event.shared.goods[second.vessel].name if second.vessel else ""
        return (Moves(where, when, vessel),)


def _caption_once(shots: tuple[Shot, ...]) -> tuple[str, tuple[Shot, ...]]:
    """A caption that all pictures of a piece share is said once, for all."""
    if len(shots) > 1 and len({shot.caption for shot in shots}) == 1:
        return shots[0].caption, tuple(replace(shot, caption="") for shot in shots)
    return "", shots


def _layout(shots: tuple[Shot, ...]) -> str:
    """A single wide picture takes the whole measure; anything else stands beside its words."""
    if len(shots) > 1:
        return "pair" if len(shots) == 2 else "many"
    if not shots:
        return "none"
    return "wide" if 100 * shots[0].width > 115 * shots[0].height else "tall"
