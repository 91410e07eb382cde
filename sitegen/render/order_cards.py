"""Build cards: one of a piece, for a helper who has never built it. Two to a page, cut apart."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import count

from sitegen.model.hours import bench_day
from sitegen.model.piece import Piece
from sitegen.order.copies import copies_of
from sitegen.order.need import Portion
from sitegen.order.practice import BUILDING, usual
from sitegen.render.order_card import Card, CardPicture, Cards, CardStem, Dealt, Fact, Matrix
from sitegen.render.order_card_size import size_of
from sitegen.render.order_care import Marked, cares
from sitegen.render.order_rolls import copy_names
from sitegen.render.order_voice import NB, OrderVoice, parted
from sitegen.render.recipe import stood_in
from sitegen.render.words import Words
from sitegen.values.length import Length

_SMALL = {"yd": "in", "ft": "in", "m": "cm"}
_NOT_AT_THE_BENCH = ("cats", "dogs", "pollen", "scent")  # said on the pull list, which lies there too


@dataclass(frozen=True, slots=True)
class Seen:
    """What a card is given beside the order: the piece's picture, and what was chosen where not as shown."""

    picture: CardPicture | None = None
    chosen: str = ""


def cards(voice: OrderVoice, seen: Mapping[str, Seen]) -> Cards | None:
    """Lay out a card for each piece that the studio makes; *seen* is by the pieces' ids."""
    _ = voice.words
    made = [one for one in voice.order.portions if one.copies and not one.made.by_couple]
    if not made:
        return None
    laid = [_card(voice, one, seen.get(one.id, Seen())) for one in made]
    pages = _pages([replace(card, size=size_of(card)) for card in laid])
    return Cards(
        head=voice.head("cards", _("Build cards"), _("Not approved: counts may still change.")),
        lead=_("Each card makes one. Two to a page, to cut along the dashed line."),
        pages=tuple(_numbered(pages, len(laid), _)),
    )


def _pages(laid: Sequence[Card]) -> Iterator[tuple[Card, ...]]:
    """Fill pages, two to each; a card that needs a whole one lets the next card share the page before."""
    waiting: Card | None = None
    wholes: list[Card] = []
    for card in laid:
        if card.size == "whole":
            wholes.append(card)
        elif waiting is None:
            waiting = card
        else:
            yield waiting, card
            waiting = None
        if waiting is None:
            yield from ((whole,) for whole in wholes)
            wholes.clear()
    if waiting:
        yield (waiting,)
    yield from ((whole,) for whole in wholes)


def _numbered(pages: Iterable[tuple[Card, ...]], last: int, _: Words) -> Iterator[tuple[Card, ...]]:
    """Number the cards as they lie."""
    numbers = count(1)
    for page in pages:
        yield tuple(
            replace(card, foot=f"{card.foot} · {_('card {n} of {all}', n=next(numbers), all=last)}")
            for card in page
        )


def _card(voice: OrderVoice, portion: Portion, seen: Seen) -> Card:
    _, piece = voice.words, voice.pieces[portion.id]
    event = voice.order.priced.folder.event
    matrix = _matrix(voice, portion)
    first = piece.build.first_time
    return Card(
        title=piece.piece,
        picture=seen.picture,
        make=_make(voice, portion, piece),
        first=_("first time {n} min", n=voice.amount(first)).replace(" ", NB) if first else "",
        cut=_cut(voice, portion, piece),
        facts=tuple(Fact(label, text) for label, text in _facts(voice, portion, piece, seen.chosen) if text),
        stems=() if matrix else tuple(_stems(voice, portion)),
        matrix=matrix,
        cares=cares(_marked(voice, portion, piece), _, without=_NOT_AT_THE_BENCH),
        foot=f"{event.for_} · {voice.day(event.date)}",
        place=_place(voice, piece),
    )


def _make(voice: OrderVoice, portion: Portion, piece: Piece) -> str:
    """Say how many, how many of them are spare, and how long one takes: `Make 9 (1 spare) · 8 min each`."""
    _, copies, minutes = voice.words, portion.copies, portion.made.minutes
    spare = _("({n} spare)", n=piece.extra) if piece.extra else ""
    how_many = " ".join(part for part in (_("Make {n}", n=copies), spare) if part)
    if not minutes:
        usual = _("about {n} min each is usual", n=BUILDING) if piece.build.method == "hand-tied" else ""
        return " · ".join(filter(None, (how_many, usual.replace(" ", NB))))
    time = (
        _("{n} min", n=voice.amount(minutes)) if copies == 1 else _("{n} min each", n=voice.amount(minutes))
    )
    return f"{how_many} · {time.replace(' ', NB)}"


def _cut(voice: OrderVoice, portion: Portion, piece: Piece) -> str:
    """Say the finished length. In a set it is one for all; where none is written, that much is practice."""
    _, several = voice.words, portion.copies > 1
    if piece.stem_length is None:
        tied = several and piece.build.method == "hand-tied"
        return _("Cut ends to one length, the same in all") if tied else ""
    length = voice.amount(piece.stem_length)
    if several:
        return _("Cut ends {length} below the binding, the same in all", length=length)
    return _("Cut ends {length} below the binding", length=length)


def _facts(voice: OrderVoice, portion: Portion, piece: Piece, chosen: str) -> Iterator[tuple[str, str]]:
    _, build = voice.words, piece.build
    yield _("Chosen"), chosen
    yield _("Stands in"), "; ".join(stood_in([portion.made], voice.shared.stems, _))
    yield _("Method"), methods(_).get(build.method or "", "")
    yield _("Shape"), _capital(build.shape or _put_down(voice, piece))
    yield _("Length"), voice.amount(piece.length) if piece.length else ""
    yield _("Binding"), _capital(build.bind or "")
    yield _("Finish"), _capital(build.finish or "")
    yield _("To cut"), "; ".join(_lengths(voice, portion)) or _usual_ribbon(voice, piece)
    yield _("Goods"), "; ".join(_goods(voice, portion))
    yield _("After"), _after(voice, piece)
    yield _("Alike"), _alike(voice, portion)


def methods(_: Words) -> dict[str, str]:
    """Name the methods of building in words."""
    return {
        "hand-tied": _("Hand-tied"),
        "flat-laid": _("Flat-laid"),
        "vase-built": _("Built in its vessel"),
        "wired": _("Wired"),
        "garland": _("Garland"),
        "frame": _("Built on a frame"),
    }


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _put_down(voice: OrderVoice, piece: Piece) -> str:
    """A bouquet that stands somewhere later on is put down often: practice builds it with one side."""
    carried = piece.build.method == "hand-tied" and piece.second_place
    return voice.words("one-sided is usual: it is put down often") if carried else ""


def _usual_ribbon(voice: OrderVoice, piece: Piece) -> str:
    """A bouquet without any length in its recipe: say what is common, so that nobody cuts at random."""
    if piece.build.method != "hand-tied":
        return ""
    measures = usual(metric=voice.shared.studio.metric)
    least, most = measures.trailing
    return voice.words(
        "none in the recipe; usual are {wrapped} to wrap a handle, {least} to {most} with a trail",
        wrapped=voice.amount(measures.wrapped),
        least=voice.amount(least.amount),
        most=voice.amount(most),
    )


def _lengths(voice: OrderVoice, portion: Portion) -> Iterator[str]:
    for good, amount in portion.made.goods.items():
        if isinstance(amount, Length):
            small = _SMALL.get(amount.unit)
            also = f" ({voice.amount(amount.to(small))})" if small else ""
            yield f"{voice.shared.goods[good].name}, {voice.amount(amount)}{also}".replace(" (", f"{NB}(")


def _goods(voice: OrderVoice, portion: Portion) -> Iterator[str]:
    for good, amount in portion.made.goods.items():
        if not isinstance(amount, Length):
            yield f"{voice.amount(amount)}{NB}×{NB}{voice.shared.goods[good].name}"


def _after(voice: OrderVoice, piece: Piece) -> str:
    """Say where it goes after its first use, and in what it stands there."""
    _, second, event = voice.words, piece.second_place, voice.order.priced.folder.event
    if second is None:
        return ""
    place = next((one.name for one in event.places if one.id == second.place), second.place)
    at = voice.time(second.from_) if second.from_ else ""
    where = ", ".join(part for part in (second.spot, place, at) if part)
    carried = piece.build.method == "hand-tied"
    if second.vessel:
        vessel = voice.shared.goods[second.vessel].name
        stands = _("stands in {vessel}, with water", vessel=vessel) if carried else vessel
    else:
        narrow, wide = usual(metric=voice.shared.studio.metric).cup
        least, most = voice.amount(narrow.amount), voice.amount(wide)
        stands = _("stands in water; a cup {least} to {most} across is usual", least=least, most=most)
        stands = stands if carried else ""
    return " · ".join(part for part in (_capital(where), stands) if part)


def _stems(voice: OrderVoice, portion: Portion) -> Iterator[CardStem]:
    for stem, amount in portion.made.recipe.items():
        yield CardStem(voice.amount(amount), parted(voice.shared.stems[stem].name))


def _matrix(voice: OrderVoice, portion: Portion) -> Matrix | None:
    """Give a varied set's deal; None where all copies are alike."""
    dealt = voice.order.sets.get(portion.id)
    if dealt is None or dealt.deal.versions == 1:
        return None
    copies = copies_of(voice.order, portion.id)
    rows = (
        Dealt(
            voice.shared.stems[stem].name,
            tuple(voice.amount(copy.stems[stem]) if stem in copy.stems else "–" for copy in copies),
            same=stem in dealt.kept,
        )
        for stem in portion.made.recipe
    )
    return Matrix(tuple(copy_names(voice, portion.id)), tuple(rows))


def _alike(voice: OrderVoice, portion: Portion) -> str:
    """Say how much two of a varied set have in common, so that nobody evens them out."""
    dealt = voice.order.sets.get(portion.id)
    if dealt is None or dealt.deal.versions == 1:
        return ""
    least, most = (
        voice.figures.share(one.numerator, one.denominator) for one in (dealt.deal.least, dealt.deal.most)
    )
    alike = least if least == most else voice.words("{least} to {most}", least=least, most=most)
    return voice.words("two share {alike} of their stems", alike=alike)


def _marked(voice: OrderVoice, portion: Portion, piece: Piece) -> Marked:
    """Name all that goes into one piece, with the cautions it carries."""
    stems: dict[str, tuple[str, ...]] = {}
    for id_ in portion.made.recipe:
        stem = voice.shared.stems[id_]
        kind = parted(stem.name).kind
        stems[kind] = tuple(dict.fromkeys((*stems.get(kind, ()), *stem.cautions)))
    goods = [(voice.shared.goods[id_].name, voice.shared.goods[id_].cautions) for id_ in portion.made.goods]
    return [*stems.items(), *goods, (piece.piece, piece.cautions)]


def _place(voice: OrderVoice, piece: Piece) -> str:
    """Say where it goes, and on which day it is built."""
    _, event = voice.words, voice.order.priced.folder.event
    place = next((one.name for one in event.places if one.id == piece.place), "")
    if piece.bench.on_site:
        bench = _("built at the place")
    else:
        bench = _("bench {day}", day=voice.day(bench_day(piece, event)))
    return " · ".join(part for part in (place, bench) if part)
