"""For the couple to make: each piece that is `made_by: couple`, in words for somebody who never did it.

Reads from the event only what a couple may know, and from the order only what is pulled and cut for them.
"""

import datetime as dt
from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from sitegen.model.event import Event
from sitegen.model.hours import bench_day, hours_at, place_of
from sitegen.model.piece import Piece
from sitegen.order.copies import copies_of
from sitegen.order.need import Portion
from sitegen.order.order import Order
from sitegen.order.practice import FIRST_TIME, TIDYING, usual
from sitegen.order.pull import pulled_stems
from sitegen.pictures.sketch.form import at_first, method_of
from sitegen.render.agreed import frame_of
from sitegen.render.cautions import cautions_in_hand
from sitegen.render.couple_paper import MakePage, MakePiece, Section, Step, Thing, When
from sitegen.render.dates import clock, full_date
from sitegen.render.making_keep import TIED, keep, kitchen
from sitegen.render.making_steps import Told, steps_of
from sitegen.render.voice import Voice, voice_for
from sitegen.values.length import Length

_ROLES = ("form", "mass", "line", "filler", "foliage")  # the order in which a beginner takes them up


def making_view(order: Order, *, draft: bool) -> MakePage | None:
    """Lay out what the couple make of *order*; None where that is nothing."""
    event = order.priced
    voice = voice_for(event.shared.studio.language, event.shared.currency)
    _, studio = voice.words, event.shared.studio
    made = [one for one in order.portions if one.copies and one.made.by_couple]
    if not made:
        return None
    ways = (
        studio.studio,
        studio.contact.phone or "",
        _("ring us at any step") if studio.contact.phone else "",
    )
    frame = frame_of(event, _("For you to make"), " · ".join(filter(None, ways)), draft=draft)
    warning = _("Counts may still change. Please do not plan by this sheet yet.") if draft else ""
    return MakePage(frame, warning, tuple(_piece(order, one, voice) for one in made))


def _piece(order: Order, portion: Portion, voice: Voice) -> MakePiece:
    _, event = voice.words, order.priced.folder.event
    piece = next(one.file.piece for one in order.priced.pieces if one.id == portion.id)
    method = method_of(piece, portion.made.goods, order.priced.shared)
    return MakePiece(
        title=piece.piece,
        lead=_lead(order, portion, voice),
        when_title=_("When"),
        when=tuple(_when(portion, piece, event, voice)),
        box_title=_("In the box and the bucket"),
        heads=(_("What"), _("For one"), _("In all")),
        things=(*_stems(order, portion, voice), *_goods(order, portion, voice)),
        kitchen=Section(_("From your kitchen"), " · ".join(_kitchen(order, method, portion, piece, voice))),
        note=_("Please note."),
        notes=cautions_in_hand(portion.made, piece, order.priced.shared, voice),
        how=Section(_("How to make one"), _how(portion.copies, voice)),
        steps=tuple(
            Step(one.drawing, f"{n} {one.title}", one.text)
            for n, one in enumerate(steps_of(method, _told(order, portion, piece, method, voice)), 1)
        ),
        after=(
            Section(_("Until it is used"), keep(method, _)),
            Section(_("If something breaks"), _breaks(order, voice)),
        ),
    )


def _lead(order: Order, portion: Portion, voice: Voice) -> str:
    _ = voice.words
    names = tuple(one.wearer.name for one in copies_of(order, portion.id) if one.wearer)
    said = (
        _.plural("One to make.", "{n} to make.", portion.copies),
        _("For {names}.", names=voice.listed(names)) if names else "",
        _("You need no practice: we have counted everything. Take your time, one step after the other."),
    )
    return " ".join(filter(None, said))


def _when(portion: Portion, piece: Piece, event: Event, voice: Voice) -> Iterator[When]:
    """Say what to do on which day: fetch, keep, make, bring."""
    _, language = voice.words, voice.language
    fetch, made_on = event.collect, bench_day(piece, event)
    if fetch:
        at = fetch.at
        yield When(
            f"{full_date(at.date(), language)}, {clock(at.time(), language)}",
            _("Collect one box and one bucket from us: {where}. The car should be cool.", where=fetch.where),
        )
        yield When(_("As soon as you are home"), _water(voice))
        made_on = max(made_on, at.date())
    else:
        yield When(
            _("Two days before at the earliest"),
            " ".join((_("Collect one box and one bucket from us; we agree on the hour."), _water(voice))),
        )
    yield When(full_date(made_on, language), _make(portion, piece, voice))
    place = place_of(piece, event)
    if place:
        due = hours_at(place, event).due or dt.datetime.combine(event.date, dt.time())
        day = full_date(due.date(), language)
        by = f"{day}, {clock(due.time(), language)}" if due.time() else day
        bring = _.plural("Bring it to {place}.", "Bring them to {place}.", portion.copies, place=place.name)
        yield When(by, bring)


def _water(voice: Voice) -> str:
    _ = voice.words
    return _(
        "Stand everything in cold clean water, a hand’s width deep, in the coolest room, out of the sun and "
        "away from fruit. Two hours at least; overnight is better."
    )


def _make(portion: Portion, piece: Piece, voice: Voice) -> str:
    """Say how long it takes: each, and all with tidying up, in hours where it is long."""
    _, each = voice.words, piece.build.first_time or portion.made.minutes * FIRST_TIME
    if not each:
        return _("Make them.")
    whole = each * portion.copies + TIDYING
    total = _.plural("{n} minute", "{n} minutes", ceil(whole))
    if whole > 90:
        total = _("{n} hours", n=voice.amount(Fraction(ceil(whole / 30), 2)))
    if portion.copies == 1:
        return _("Make it: about {total} the first time, with tidying up.", total=total)
    minutes = _.plural("{n} minute", "{n} minutes", ceil(each))
    return _("Make them: about {minutes} each the first time, {total} in all.", minutes=minutes, total=total)


def _stems(order: Order, portion: Portion, voice: Voice) -> Iterator[Thing]:
    """Give each stem as the recipe has it for one, and as it is pulled, whole, for all."""
    pulled = pulled_stems(block for block in order.pulled if block.piece == portion.id)
    for stem, amount in portion.made.recipe.items():
        if stem in pulled:
            name = order.priced.shared.stems[stem].name
            yield Thing(name, voice.amount(amount), str(pulled[stem]))


def _goods(order: Order, portion: Portion, voice: Voice) -> Iterator[Thing]:
    _ = voice.words
    for good, amount in portion.made.goods.items():
        name = order.priced.shared.goods[good].name
        if isinstance(amount, Length):
            cut = _("{name}, cut to {length}", name=name, length=_measured(amount, voice))
            yield Thing(cut, "1", str(portion.copies))
        else:
            yield Thing(name, voice.amount(amount), str(ceil(amount * portion.copies)))


def _measured(length: Length, voice: Voice) -> str:
    """A tape measure at home shows inches or centimetres."""
    small = {"yd": "in", "ft": "in", "m": "cm"}.get(length.unit, length.unit)
    return voice.amount(length.to(small)).replace(" ", "\N{NO-BREAK SPACE}")


def _kitchen(order: Order, method: str, portion: Portion, piece: Piece, voice: Voice) -> tuple[str, ...]:
    bound = bool(piece.build.bind) or any(isinstance(n, Length) for n in portion.made.goods.values())
    cup = _cup(voice, metric=order.priced.shared.studio.metric)
    return kitchen(method, cup, portion.copies, voice.words, bound=bound)


def _cup(voice: Voice, *, metric: bool) -> str:
    least, most = usual(metric=metric).cup
    return f"{voice.amount(least.amount)}–{voice.amount(most)}"


def _how(copies: int, voice: Voice) -> str:
    _ = voice.words
    return _("Make the first one slowly. The second will be better.") if copies > 1 else _("Take your time.")


def _told(order: Order, portion: Portion, piece: Piece, method: str, voice: Voice) -> Told:
    shared = order.priced.shared
    stems = [shared.stems[stem] for stem in portion.made.recipe]
    in_turn = dict.fromkeys(
        stem.name.partition(",")[0] for role in _ROLES for stem in stems if stem.role == role
    )
    return Told(
        order=", ".join(in_turn) if len(in_turn) > 1 else "",
        bindings="; ".join(_bindings(order, portion, piece, method, voice)),
        cut=_measured(piece.stem_length, voice) if piece.stem_length else "",
        length=voice.amount(piece.length) if piece.length else "",
        words=voice.words,
        finish=piece.build.finish or "",
    )


def _bindings(order: Order, portion: Portion, piece: Piece, method: str, voice: Voice) -> Iterator[str]:
    """Name what binds one: its lengths, else what the florist calls it; then goods by number.

    What is lent is among them only where a piece is built in it.
    """
    goods, used = order.priced.shared.goods, at_first(piece, portion.made.goods)
    lengths = [goods[id_].name for id_, n in used.items() if isinstance(n, Length)]
    at_home = voice.words("string") if method in TIED else ""
    yield from lengths or filter(None, (piece.build.bind or at_home,))
    for id_, n in used.items():
        if not isinstance(n, Length) and (goods[id_].hire is None or method == "vase-built"):
            yield f"{voice.amount(n)}\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}{goods[id_].name}"


def _breaks(order: Order, voice: Voice) -> str:
    _, phone = voice.words, order.priced.shared.studio.contact.phone
    said = _("Leave it out; nobody will see it. If you buy one like it, do so at most two days before.")
    return " ".join((said, _("Or ring us: {phone}.", phone=phone))) if phone else said
