"""What changed since the couple last had the proposal, in their words and at what we suggest.

Made from what was shown alone; the florist's own view of a change is in `render.compare`.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sitegen.choices.picks import Picks
from sitegen.records.change import Difference, EventFacet, SumChange
from sitegen.records.difference import difference, matched
from sitegen.records.shown import Shown
from sitegen.render.changes_piece import piece_words
from sitegen.render.couple import ChangeRow, Since
from sitegen.render.dates import long_date
from sitegen.render.voice import Voice, voice_for
from sitegen.render.words import Words
from sitegen.values.money import Currency


@dataclass(frozen=True, slots=True)
class Told:
    """One change before it is printed; `moved` is what it does to the total, `piece` the id of a piece."""

    href: str
    name: str
    what: str
    moved: int = 0
    piece: str = ""


def since(was: Shown, now: Shown, day: dt.date, picks: Picks | None = None) -> Since | None:
    """Say what changed since the proposal of that *day*; None where the couple see and pay the same.

    *picks* are what they have chosen of it, where they have.
    """
    found = difference(was, now)
    if found.empty:
        return None
    voice = voice_of(now)
    _ = voice.words
    return Since(
        title=_("What changed since {date}", date=long_date(day, voice.language)),
        rows=tuple(
            ChangeRow(one.href, one.name, one.what, voice.money.change(one.moved) if one.moved else "")
            for one in tell(found, now, voice, _counts(picks, was, now) if picks else {})
        ),
        total=_("As we suggest: {price}", price=voice.money.exact(found.total.now)),
        was=_("it was {price}", price=voice.money.exact(found.total.was)),
    )


def _counts(picks: Picks, was: Shown, now: Shown) -> dict[str, int]:
    """How many they chose, by the id of each piece, where that was not our count and still may be."""
    found = {}
    for at, before in matched(was, now).items():
        pick, new = picks.pieces[before], now.table.pieces[at]
        own = not pick.out and pick.quantity != was.table.pieces[before].quantity
        if own and new.least <= pick.quantity <= new.most:
            found[now.pieces[at].id] = pick.quantity
    return found


def still_agreed(day: dt.date, approved: int, now: int, voice: Voice) -> str:
    """Say what was *approved* on that *day*, what the same choices come to *now*, and which of them holds."""
    _, exact = voice.words, voice.money.exact
    if approved == now:
        return _(
            "On {date} you approved {was}. With this change, what you chose still comes to that."
            " Until you agree to it, what you approved holds.",
            date=long_date(day, voice.language),
            was=exact(approved),
        )
    return _(
        "On {date} you approved {was}. With this change, what you chose comes to {now}."
        " Until you agree to it, what you approved holds.",
        date=long_date(day, voice.language),
        was=exact(approved),
        now=exact(now),
    )


def voice_of(shown: Shown) -> Voice:
    """Give the voice in which a proposal was written."""
    return voice_for(shown.language, Currency(shown.currency, shown.table.digits))


def tell(
    found: Difference, now: Shown, voice: Voice, chosen: Mapping[str, int] | None = None
) -> Iterator[Told]:
    """Tell each thing that changed: the event, its pieces (*chosen*: how many of each), sums, terms."""
    yield from _about_event(found, now, voice, _BEFORE)
    for change in found.pieces:
        href = "" if change.at is None else f"#piece-{change.at + 1}"
        what = "; ".join(piece_words(change, now, voice, (chosen or {}).get(change.id)))
        yield Told(href, change.title, what, change.line.now - change.line.was, change.id)
    yield from (_sum(change, voice) for change in found.sums)
    yield from _about_event(found, now, voice, _AFTER)
    yield from _dates(found, voice)


def _sum(change: SumChange, voice: Voice) -> Told:
    _ = voice.words
    if change.contained:
        what = _("contained in the prices")
    elif change.was is None and change.now is not None:
        what = _("new")
    elif change.now is None and change.was is not None:
        what = _("no longer asked")
    else:
        what = _("on other terms") if change.terms else _("follows the pieces")
    moved = 0 if change.contained else (change.now or 0) - (change.was or 0)
    return Told("#estimate", change.label or _("Discount"), what, moved)


_BEFORE: tuple[EventFacet, ...] = ("names", "date", "places", "order")
_AFTER: tuple[EventFacet, ...] = ("payments", "note", "terms", "contact", "minded", "shown", "rest")


def _about_event(
    found: Difference, now: Shown, voice: Voice, facets: tuple[EventFacet, ...]
) -> Iterator[Told]:
    told = _told(voice.words, now, voice)
    for facet in facets:
        if facet in found.facets:
            yield Told(*told[facet])


def _told(_: Words, now: Shown, voice: Voice) -> dict[EventFacet, tuple[str, str, str]]:
    return {
        "names": ("", _("Your names"), now.names),
        "date": ("", _("The date"), long_date(now.date, voice.language)),
        "places": ("", _("The day"), _("places or times have changed")),
        "order": ("", _("The order of the pieces"), _("has changed")),
        "payments": ("#estimate", _("Payments"), _("parts or dates have changed")),
        "note": ("", _("Our letter to you"), _("is new")),
        "terms": ("", _("Terms"), _("have changed; please read them again")),
        "contact": ("", _("How to reach us"), _("has changed")),
        "minded": ("", _("What you asked us to mind"), _("the notes beside the stems have changed")),
        "shown": ("", _("What is in it"), _("stems are listed in another way")),
        "rest": ("", _("Small corrections"), ""),
    }


def _dates(found: Difference, voice: Voice) -> Iterator[Told]:
    _ = voice.words
    if found.valid:
        days = found.valid.now
        said = _("no day is named") if days is None else _("for {n} days", n=days)
        yield Told("", _("How long prices hold"), said)
    if found.closes:
        last = found.closes.now
        said = (
            _("no day is named")
            if last is None
            else _("Counts and choices can change until {date}.", date=long_date(last, voice.language))
        )
        yield Told("", _("Changes"), said.removesuffix("."))
    if found.least:
        least = found.least.now
        said = _("from {price}", price=voice.money.brief(least)) if least else _("no least total")
        yield Told("#estimate", _("Events we take on"), said)
