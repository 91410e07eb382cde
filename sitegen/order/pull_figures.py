"""What figures.json says of pulling: the blocks of the pull list, and the deal of each varied set."""

from typing import Any

from sitegen.order.order import Order
from sitegen.order.pull import Block
from sitegen.order.sets import VariedSet
from sitegen.values.number import decimal_text


def pull_figures(order: Order) -> dict[str, Any]:
    """Give `pull`, whole stems by block, and `sets`, stems by copy; their shapes stand in DEVELOPERS.md."""
    return {
        "pull": [_block(block) for block in order.pulled],
        "sets": [_set(order, piece, dealt) for piece, dealt in order.sets.items()],
    }


def _block(block: Block) -> dict[str, Any]:
    return {
        "piece": block.piece,
        "first": block.first,
        "last": block.last,
        "together": block.together,
        "stems": {row.stem: row.count for row in block.rows},
    }


def _set(order: Order, piece: str, dealt: VariedSet) -> dict[str, Any]:
    money, deal = order.priced.shared.currency, dealt.deal
    copies = range(len(dealt.copies))
    return {
        "piece": piece,
        "versions": deal.versions,
        "least_alike": decimal_text(deal.least),
        "most_alike": decimal_text(deal.most),
        "spread": money.text(money.units(dealt.spread)),
        "copies": [{stem: decimal_text(n) for stem, n in dealt.stems(i).items()} for i in copies],
    }
