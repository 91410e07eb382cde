"""What changed in one piece, as a list of short phrases in a couple's words."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from sitegen.records.change import AmountChange, AnswerChange, Facet, PieceChange
from sitegen.records.shown import Shown
from sitegen.render.voice import Voice
from sitegen.render.words import Words
from sitegen.values.length import Length

_MOST = 5


def piece_words(change: PieceChange, now: Shown, voice: Voice, chosen: int | None = None) -> Iterator[str]:
    """Say what changed in a piece of the proposal *now*, the most telling first; never nothing.

    Where the couple have *chosen* how many, and still may have as many, a new count is only suggested.
    """
    _ = voice.words
    if change.kind == "new":
        yield _("new")
    elif change.kind == "gone":
        yield _("no longer in it")
    if change.called:
        yield _("was called {name}", name=change.called.was)
    yield from _counts(change, voice, chosen)
    yield from _each(change, now, voice)
    yield from _at_most(list(amount_words(change.stems, voice)), voice)
    yield from _at_most(list(amount_words(change.goods, voice)), voice)
    yield from _choices(change, voice)
    told = _told(voice.words)
    yield from (told[facet] for facet in change.facets)


def _counts(change: PieceChange, voice: Voice, chosen: int | None) -> Iterator[str]:
    _ = voice.words
    if change.quantity:
        was, now = _.number(change.quantity.was), _.number(change.quantity.now)
        if chosen is None:
            yield _("{now} instead of {was}", now=now, was=was)
        elif chosen == change.quantity.now:
            yield _("{now}, as you chose, instead of the {was} that we suggested", now=now, was=was)
        else:
            n = _.number(chosen)
            yield _(
                "we now suggest {now} instead of {was}; you chose {n}, and that stays", now=now, was=was, n=n
            )
    if change.bounds:
        least, most = change.bounds.now
        if least == most:
            yield _("the count is fixed now")
        else:
            yield _("you may have from {least} to {most}", least=least, most=most)


def _each(change: PieceChange, now: Shown, voice: Voice) -> Iterator[str]:
    if change.each is None or change.at is None:
        return
    _, money = voice.words, voice.money
    was, then = money.brief(change.each.was), money.brief(change.each.now)
    if now.table.pieces[change.at].quantity == 1:
        yield _("{now} instead of {was}", now=then, was=was)
    else:
        yield _("{now} each instead of {was}", now=then, was=was)


def _at_most(said: list[str], voice: Voice) -> list[str]:
    return said if len(said) <= _MOST else [*said[: _MOST - 1], voice.words("and more")]


def amount_words(changes: tuple[AmountChange, ...], voice: Voice) -> Iterator[str]:
    """Say which stems or goods came, went, or are more or fewer; as many of one for another are told so."""
    _ = voice.words
    come = [one for one in changes if one.was is None]
    told: list[AmountChange] = []
    for old in changes:
        new = next((one for one in come if one.now == old.was), None) if old.now is None else None
        if new:
            come.remove(new)
            told += old, new
            yield _("{new} in place of {old}", new=new.name, old=old.name)
    yield from (_amount(one, voice) for one in changes if one not in told)


def _amount(change: AmountChange, voice: Voice) -> str:
    _, was, now = voice.words, change.was, change.now
    if now is None:
        return _("without {good}", good=change.name)
    if not change.counted:
        return _("with {stem}", stem=change.name)
    if isinstance(now, Length) or isinstance(was, Length):
        return _("{n} of {good}", n=voice.amount(now), good=change.name)
    more = now - (was or Fraction(0))
    n = voice.amount(abs(more))
    if more > 0:
        return _("{n} more of {stem}", n=n, stem=change.name)
    return _("{n} fewer of {stem}", n=n, stem=change.name)


def _choices(change: PieceChange, voice: Voice) -> Iterator[str]:
    _ = voice.words
    yield from (_("a new question: {ask}", ask=ask) for ask in change.asked)
    yield from (_("no longer asked: {ask}", ask=ask) for ask in change.unasked)
    yield from _at_most([_answer(one, voice) for one in change.answers], voice)


def _answer(change: AnswerChange, voice: Voice) -> str:
    _ = voice.words
    if change.step:
        was, now = voice.step(change.step.was), voice.step(change.step.now)
        return _("“{answer}”: {now} instead of {was}", answer=change.label, now=now, was=was)
    if change.kind == "new":
        return _("new to choose: “{answer}”", answer=change.label)
    if change.kind == "gone":
        return _("“{answer}” is no longer offered", answer=change.label)
    return _("we now suggest “{answer}”", answer=change.label)


def _told(_: Words) -> Mapping[Facet, str]:
    return {
        "words": _("new words"),
        "pictures": _("new pictures"),
        "group": _("stands in another part"),
        "place": _("in another place"),
        "moves": _("what becomes of it afterwards has changed"),
        "spares": _("another number of spares"),
        "wearers": _("the names of who wears them have changed"),
        "set": _("shared out in another way"),
        "optional": _("you may now leave it out"),
        "required": _("no longer to leave out"),
        "by-couple": _("you put it together, from stems we prepare"),
        "by-studio": _("we put it together"),
        "cautions": _("its cautions have changed"),
        "rest": _("small corrections"),
    }
