"""Each stem's year against the month of the event: who is near the end of a season shows at a glance."""

from collections.abc import Iterator

from sitegen.choices.picks import Picks
from sitegen.price.priced import PricedEvent
from sitegen.render.dates import short_month
from sitegen.render.desk import Season
from sitegen.render.desk_figures import Figures

YEAR = range(1, 13)


def seasons(priced: PricedEvent, picks: Picks, figures: Figures) -> Iterator[Season]:
    """Give the stems that are picked and not sold all year, in the order of stems.yaml."""
    used = {
        id_
        for piece, pick in zip(priced.pieces, picks.pieces, strict=True)
        if not pick.out
        for id_ in piece.at(pick.answers).made.recipe
    }
    month = priced.folder.event.date.month
    for id_, stem in priced.shared.stems.items():
        sold = [any(offer.in_season(one) for offer in stem.offers) for one in YEAR]
        if id_ in used and not all(sold):
            spans = tuple(_spans(sold))
            yield Season(stem.name, spans, month - 1, _said(spans, sold, month, figures))


def _spans(sold: list[bool]) -> Iterator[tuple[int, int]]:
    start = None
    for i, one in enumerate([*sold, False]):
        if one and start is None:
            start = i
        elif not one and start is not None:
            yield start, i - start
            start = None


def _said(spans: tuple[tuple[int, int], ...], sold: list[bool], month: int, figures: Figures) -> str:
    """Say the season, and where the month of the event is its first or its last."""
    _ = figures.voice.words
    text = ", ".join(_span(start, start + many - 1, figures) for start, many in _round_the_year(spans))
    if not sold[month % 12]:
        return _("{season}; it ends in the month of the event", season=text)
    if not sold[month - 2]:
        return _("{season}; it begins in the month of the event", season=text)
    return text


def _round_the_year(spans: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
    """Say a winter that is drawn at both ends of the bar as one season."""
    if len(spans) < 2 or spans[0][0] != 0 or sum(spans[-1]) != len(YEAR):
        return spans
    return (*spans[1:-1], (spans[-1][0], spans[-1][1] + spans[0][1]))


def _span(first: int, last: int, figures: Figures) -> str:
    _, language = figures.voice.words, figures.voice.language
    start, end = short_month(first + 1, language), short_month(last % 12 + 1, language)
    return start if first == last else _("{first} to {last}", first=start, last=end)
