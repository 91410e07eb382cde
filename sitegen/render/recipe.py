"""What is in a piece, and what an answer changes in it, in the couple's words."""

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from math import ceil

from sitegen.model.catalogue import Good
from sitegen.model.catalogue import Stem as CatalogueStem
from sitegen.model.content import Shared
from sitegen.model.piece import Choice
from sitegen.model.terms import ShowStems
from sitegen.price.priced import Made, PricedPiece
from sitegen.render.couple_piece import Contents, Stem
from sitegen.render.voice import Voice
from sitegen.render.words import Words, counted
from sitegen.values.length import Length

_MOST_CHANGES = 5
_NONE = Fraction(0)

# Counted sentences: one and many; of stems, for one piece alone and for each of several.
KINDS = counted("{n} kind", "{n} kinds")
STEMS = (counted("{n} stem", "{n} stems"), counted("{n} stem in each", "{n} stems in each"))
ABOUT_STEMS = (
    counted("about {n} stem", "about {n} stems"),
    counted("about {n} stem in each", "about {n} stems in each"),
)


def contents(
    piece: PricedPiece, stems: Mapping[str, CatalogueStem], show: ShowStems, voice: Voice
) -> Contents | None:
    """List the stems at the suggested answers, as far as the studio shows them."""
    made, bounds = piece.as_suggested.made, piece.file.quantity
    if show == "no" or not any(combination.made.recipe for combination in piece.combinations):
        return None
    told = show == "counts"
    rows = tuple(
        _row(stems[id_], n if told else None, bounds.usual, voice, dealt=is_dealt(piece, id_))
        for id_, n in made.recipe.items()
    )
    return Contents(
        summary=_tally(made, bounds.usual, voice) if told else voice.words.plural(*KINDS, len(made.recipe)),
        counted=told,
        several=told and bounds.most > 1,
        stems=rows,
        notes=stood_in((one.made for one in piece.combinations), stems, voice.words),
    )


def stood_in(made: Iterable[Made], stems: Mapping[str, CatalogueStem], words: Words) -> tuple[str, ...]:
    """Say what stands in for what since the prices were agreed, each once: with its reason, never a price."""
    said = []
    for one in dict.fromkeys(one for each in made for one in each.stood_in):
        name = stems[one.new].name
        told = words("{new} in place of {old}", new=name, old=_without(stems[one.old].name, name))
        said.append(f"{told} ({one.why})" if one.why else told)
    return tuple(said)


def is_dealt(piece: PricedPiece, stem: str) -> bool:
    """Tell whether a varied set deals a stem out unevenly, so that no count each would be true."""
    if piece.file.piece.varied is None:
        return False
    return any(stem in one.made.recipe and stem not in one.made.kept for one in piece.combinations)


def _row(stem: CatalogueStem, n: Fraction | None, quantity: int, voice: Voice, *, dealt: bool) -> Stem:
    if n is None:
        return Stem(stem.colour, stem.name, "", "")
    if n.denominator == 1 and (quantity == 1 or not dealt):
        return Stem(stem.colour, stem.name, str(n.numerator), str(n.numerator * quantity))
    return Stem(stem.colour, stem.name, "", "", across(n * quantity, quantity, voice))


def across(total: Fraction, quantity: int, voice: Voice) -> str:
    """Say a count that is not the same whole number in each: a part of a stem is never cut.

    Two thirds of a stem in each of five are "about 4 across 5".
    """
    _ = voice.words
    exact, whole = total.denominator == 1, ceil(total)
    if quantity == 1:
        return str(whole) if exact else _("about {n}", n=whole)
    if exact:
        return _("{n} across {pieces}", n=whole, pieces=quantity)
    return _("about {n} across {pieces}", n=whole, pieces=quantity)


def _tally(made: Made, quantity: int, voice: Voice) -> str:
    total = sum(made.recipe.values(), Fraction(0))
    forms = STEMS if total.denominator == 1 else ABOUT_STEMS
    return voice.words.plural(*forms[0 if quantity == 1 else 1], ceil(total))


def changes(
    piece: PricedPiece,
    at: tuple[int, int],
    shared: Shared,
    voice: Voice,
) -> str:
    """Say what answer *at* (its choice and its own index) changes against the suggested one."""
    choice_index, answer_index = at
    choice = piece.file.piece.choices[choice_index]
    picked = list(piece.as_suggested.answers)
    picked[choice_index] = answer_index
    usual, made = piece.as_suggested.made, piece.at(tuple(picked)).made
    swaps = choice.answers[answer_index].swap
    said = list(_stem_changes(usual, made, swaps, shared, voice))
    if len(said) > _MOST_CHANGES:
        said = [*said[: _MOST_CHANGES - 1], voice.words("and more")]
    said += _good_changes(choice, made, shared.goods, voice)
    if made.by_couple and not usual.by_couple:
        said.append(voice.words("you put it together, from stems we prepare"))
    return "; ".join(said)


def _stem_changes(
    usual: Made, made: Made, swaps: Mapping[str, str], shared: Shared, voice: Voice
) -> Iterator[str]:
    _, stems, show = voice.words, shared.stems, shared.studio.show_stems
    if show == "no":
        return
    swapped = {old: new for old, new in swaps.items() if old in usual.recipe}
    for old, new in swapped.items():
        name = stems[new].name
        yield _("{new} in place of {old}", new=name, old=_without(stems[old].name, name))
    told = {*swapped, *swapped.values()}
    steps: dict[tuple[str, bool], Fraction] = {}
    for id_ in _in_order(usual.recipe, made.recipe):
        before, after = usual.recipe.get(id_, _NONE), made.recipe.get(id_, _NONE)
        if before != after and id_ not in told:
            way = stems[id_].name.partition(",")[0], after > before
            steps[way] = steps.get(way, _NONE) + after - before
    for (family, _more), step in steps.items():
        yield _step(family, step, voice, counted=show == "counts")


def _without(name: str, like: str) -> str:
    """Drop what *name* shares with *like* before its comma: "Dahlia, café in place of coral"."""
    family, _, colour = name.partition(", ")
    return colour if colour and like.startswith(f"{family}, ") else name


def _in_order(first: Iterable[str], second: Iterable[str]) -> Iterable[str]:
    return dict.fromkeys((*first, *second))


def _step(name: str, step: Fraction, voice: Voice, *, counted: bool) -> str:
    _ = voice.words
    if not counted:
        return _("more {stem}", stem=name) if step > 0 else _("less {stem}", stem=name)
    n = voice.amount(abs(step))
    return _("{n} more of {stem}", n=n, stem=name) if step > 0 else _("{n} fewer of {stem}", n=n, stem=name)


def _good_changes(choice: Choice, made: Made, goods: Mapping[str, Good], voice: Voice) -> Iterator[str]:
    """Say how much ribbon or which hire pieces an answer brings, where the choice is about them."""
    _ = voice.words
    about = list(dict.fromkeys(good for answer in choice.answers for good in answer.goods))
    families = [goods[id_].name.partition(",")[0] for id_ in about]
    for id_, family in zip(about, families, strict=True):
        n = made.goods.get(id_)
        if not isinstance(n, Length) and goods[id_].hire is None:
            continue
        name = family if families.count(family) == 1 else goods[id_].name
        yield _("{n} of {good}", n=voice.amount(n), good=name) if n else _("without {good}", good=name)
