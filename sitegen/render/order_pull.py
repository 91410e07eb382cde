"""The pull list: one block, one vase, or one for several that are alike."""

from collections.abc import Iterator

from sitegen.model.hours import bench_day
from sitegen.order.copies import Copy, copies_of
from sitegen.order.pull import Block, Row
from sitegen.render.order_care import cares, of_pieces, of_stems
from sitegen.render.order_page import PullBlock, PullRow, PullSheet
from sitegen.render.order_voice import NB, OrderVoice, parted
from sitegen.render.recipe import stood_in

_JOIN = "\N{WORD JOINER}"  # numbers of copies stay on one line
_ELSEWHERE = ("ladder", "wind", "magnet", "sharps", "flame")  # said with the goods, the hire, the run


def pull_sheet(voice: OrderVoice) -> PullSheet | None:
    """Lay out the pull list, as it was dealt."""
    _, pulled = voice.words, voice.order.pulled
    if not pulled:
        return None
    return PullSheet(
        head=voice.head("pull", _("Pull list"), _("Not approved: counts may still change.")),
        lead=" ".join(
            (_("One block, one vase. Pull all of it, count the sum, tick, next."), *_stand_ins(voice))
        ),
        cares=cares([*of_stems(voice), *of_pieces(voice)], _, without=_ELSEWHERE),
        blocks=tuple(_block(voice, block) for block in pulled),
    )


def _stand_ins(voice: OrderVoice) -> Iterator[str]:
    made = (portion.made for portion in voice.order.portions if portion.copies)
    yield from (f"{said}." for said in stood_in(made, voice.shared.stems, voice.words))


def _block(voice: OrderVoice, block: Block) -> PullBlock:
    """Lay out a block; those of a varied set stand under the wearer's name, all others under the piece's."""
    _, copies = voice.words, copies_of(voice.order, block.piece)
    several = len(copies) > 1 and not block.together
    here = copies[block.first - 1 : block.last]
    names = [_copy(voice, block.piece, copy) for copy in here]
    in_set = several and block.piece in voice.order.sets
    piece = voice.pieces[block.piece]
    title = piece.piece
    if in_set and len(here) == 1 and (here[0].wearer or (here[0].spare and piece.wearers)):
        title = names[0]
    elif several:
        title = f"{title}{NB}{_numbered(block)}"
    in_each = several and block.copies > 1
    labels = (_("stem in each"), _("stems in each")) if in_each else (_("stem in all"), _("stems in all"))
    return PullBlock(
        title=title,
        times=f"×{block.copies}" if in_each else "",
        together=_together(voice, block) if block.together else "",
        meta=_meta(voice, block, _of_set(voice, block, len(copies)) if in_set and len(here) == 1 else ""),
        rows=tuple(_row(voice, block.piece, row) for row in block.rows),
        sum=str(block.stems),
        sum_label=labels[block.stems != 1],
        boxes=tuple(names if in_set else [str(copy.number) for copy in here]) if in_each else (),
    )


def _copy(voice: OrderVoice, piece: str, copy: Copy) -> str:
    """Name a copy as its label does: by who carries it, as spare, or by its number where nobody is named."""
    if copy.wearer:
        return copy.wearer.name
    return voice.words("Spare") if copy.spare and voice.pieces[piece].wearers else str(copy.number)


def _numbered(block: Block) -> str:
    return str(block.first) if block.copies == 1 else f"{block.first}{_JOIN}–{_JOIN}{block.last}"


def _of_set(voice: OrderVoice, block: Block, copies: int) -> str:
    piece = voice.pieces[block.piece].piece
    return voice.words("{piece}, {n} of {copies}", piece=piece, n=block.first, copies=copies)


def _row(voice: OrderVoice, piece: str, row: Row) -> PullRow:
    _ = voice.words
    each = "" if row.each is None else _("{n} each", n=voice.amount(row.each)).replace(" ", NB)
    if row.among:
        copies = copies_of(voice.order, piece)
        names = tuple(_copy(voice, piece, copies[number - 1]) for number in row.among)
        each = _("{each} for {names}", each=each, names=voice.voice.listed(names))
    return PullRow(str(row.count), parted(voice.shared.stems[row.stem].name), each)


def _together(voice: OrderVoice, block: Block) -> str:
    _ = voice.words
    if any(row.among for row in block.rows):
        return _("cut in halves")
    all_ = _("both") if block.copies == 2 else _("all {n}", n=block.copies)
    if voice.pieces[block.piece].extra:
        return _("{all} in one vase, spare counted in", all=all_)
    return _("{all} in one vase", all=all_)


def _meta(voice: OrderVoice, block: Block, of_set: str) -> str:
    """Say which of a set it is, and when and where it is built."""
    return " · ".join(filter(None, (of_set, _built(voice, block.piece))))


def _built(voice: OrderVoice, id_: str) -> str:
    _, event, piece = voice.words, voice.order.priced.folder.event, voice.pieces[id_]
    if voice.by_couple(id_):
        at = event.collect.at if event.collect else None
        if at is None:
            return _("the couple make it")
        return _("the couple collect {day}, {time}", day=voice.day(at.date()), time=voice.time(at.time()))
    if piece.bench.on_site:
        return _("built at the place")
    return _("bench {day}", day=voice.day(bench_day(piece, event)))
