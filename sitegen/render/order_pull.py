"""The pull list: one block, one vase, or one for several that are alike."""

from sitegen.model.hours import bench_day
from sitegen.model.piece import Piece
from sitegen.order.pull import Block
from sitegen.render.order_care import cares, of_pieces, of_stems
from sitegen.render.order_page import PullBlock, PullRow, PullSheet
from sitegen.render.order_voice import NB, OrderVoice, parted

_ELSEWHERE = (
    "ladder",
    "wind",
    "magnet",
    "sharps",
    "flame",
    "scent",
)  # said with the goods, the hire, the couple


def pull_sheet(voice: OrderVoice) -> PullSheet | None:
    """Lay out the pull list, as it was dealt."""
    _, pulled = voice.words, voice.order.pulled
    if not pulled:
        return None
    return PullSheet(
        head=voice.head("pull", _("Pull list"), _("Not approved: counts may still change.")),
        lead=_("One block, one vase. Pull all of it, count the sum, tick, next."),
        cares=cares([*of_stems(voice), *of_pieces(voice)], _, without=_ELSEWHERE),
        blocks=tuple(_block(voice, block) for block in pulled),
    )


def _block(voice: OrderVoice, block: Block) -> PullBlock:
    _, piece = voice.words, voice.pieces[block.piece]
    copies = next(portion.copies for portion in voice.order.portions if portion.id == block.piece)
    several = copies > 1 and not block.together
    numbers = range(block.first, block.last + 1)
    return PullBlock(
        title=f"{piece.piece}{NB}{_numbered(block)}" if several else piece.piece,
        times=f"×{block.copies}" if several and block.copies > 1 else "",
        together=_together(voice, block, piece) if block.together else "",
        meta=_meta(voice, piece, by_couple=_by_couple(voice, block.piece)),
        rows=tuple(
            PullRow(
                str(row.count),
                parted(voice.shared.stems[row.stem].name),
                "" if row.each is None else _("{n} each", n=voice.amount(row.each)).replace(" ", NB),
            )
            for row in block.rows
        ),
        sum=str(block.stems),
        sum_label=_("stems in each") if several and block.copies > 1 else _("stems in all"),
        boxes=tuple(str(n) for n in numbers) if several and block.copies > 1 else (),
    )


def _numbered(block: Block) -> str:
    return str(block.first) if block.copies == 1 else f"{block.first}–{block.last}"


def _together(voice: OrderVoice, block: Block, piece: Piece) -> str:
    _ = voice.words
    if piece.extra:
        return _("all {n} in one vase, spare counted in", n=block.copies)
    return _("all {n} in one vase", n=block.copies)


def _by_couple(voice: OrderVoice, piece: str) -> bool:
    return any(portion.made.by_couple for portion in voice.order.portions if portion.id == piece)


def _meta(voice: OrderVoice, piece: Piece, *, by_couple: bool) -> str:
    """Say when and where it is built."""
    _, event = voice.words, voice.order.priced.folder.event
    if by_couple:
        at = event.collect.at if event.collect else None
        if at is None:
            return _("the couple make it")
        return _("the couple collect {day}, {time}", day=voice.day(at.date()), time=voice.time(at.time()))
    if piece.bench.on_site:
        return _("built at the place")
    return _("bench {day}", day=voice.day(bench_day(piece, event)))
