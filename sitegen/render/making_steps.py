"""How a first-timer builds each kind of piece, step by step, in words that need no trade.

How long and how wide things are said to be is common practice, no source; finished lengths are the recipe's.
"""

from collections.abc import Callable
from dataclasses import dataclass

from sitegen.render.words import Words


@dataclass(frozen=True, slots=True)
class Told:
    """What the steps need of one piece: the order of its stems, what binds it, finished and whole length.

    `finish` are the florist's own words for how it ends.
    """

    order: str
    bindings: str
    cut: str
    length: str
    words: Words
    finish: str = ""


@dataclass(frozen=True, slots=True)
class StepText:
    """One step: the name of its drawing, its title, and what to do."""

    drawing: str
    title: str
    text: str


def steps_of(method: str, told: Told) -> tuple[StepText, ...]:
    """Give the steps for a method of building."""
    return _STEPS[method](told)


def _step(drawing: str, title: str, *sentences: str) -> StepText:
    return StepText(drawing, title, " ".join(filter(None, sentences)))


def _in_order(told: Told) -> str:
    return told.words("In this order: {stems}; then again.", stems=told.order) if told.order else ""


def _with(told: Told) -> str:
    return told.words("You need: {things}.", things=told.bindings) if told.bindings else ""


def _finish(told: Told) -> str:
    return told.words("To finish: {finish}.", finish=told.finish) if told.finish else ""


def _clean(_: Words) -> StepText:
    leaves = _("Pull off every leaf on the lower half, so that none will stand in water.")
    return _step("clean", _("Clean the stems"), leaves, _("Lay the stems in heaps, one for each kind."))


def _tie(told: Told) -> StepText:
    _ = told.words
    firmly = _(
        "Wind it three times round the place where you hold, firmly, so that nothing slips, and knot it."
    )
    return _step("tie", _("Tie it"), firmly, _with(told), _finish(told))


def _one_length(told: Told) -> StepText:
    _ = told.words
    ends = _("Cut all ends to one length, about a hand’s width below the tie.")
    if told.cut:
        ends = _("Cut all ends {length} below the tie, the same for all.", length=told.cut)
    stand = _("Stand each at once in a glass with cold water, two fingers deep.")
    return _step("length", _("Cut them to one length"), ends, stand)


def _hand_tied(told: Told) -> tuple[StepText, ...]:
    _ = told.words
    cross = _("Hold one flower upright, and lay a second stem across it, a hand’s width below the flower.")
    hold = _("Where they cross is where you hold: keep that place to the end.")
    turn = _(
        "Lay on one stem after the other, all leaning the same way, and turn the bunch a little after each."
    )
    right = _("It is right when the ends below your hand fan out like a wheel.")
    return (
        _clean(_),
        _step("cross", _("Cross the first two"), cross, hold),
        _step("turn", _("Add and turn"), turn, _in_order(told), right),
        _tie(told),
        _one_length(told),
    )


def _flat_laid(told: Told) -> tuple[StepText, ...]:
    _ = told.words
    back = _("Lay the longest stem flat on the table, its better side up.")
    leaves = _("Lay leaves left and right of it, each a little shorter.")
    flowers = _("Lay each flower a little lower than the one before, so that every head can be seen.")
    return (
        _clean(_),
        _step("lay", _("Lay the back"), back, leaves),
        _step("layer", _("Lay the flowers on top"), flowers, _in_order(told)),
        _tie(told),
        _one_length(told),
    )


def _vase_built(told: Told) -> tuple[StepText, ...]:
    _ = told.words
    rinse = _("Rinse it, fill it two thirds with cold clean water, and wipe the outside dry.")
    beside = _("Hold the stem beside the vessel and cut it so that its head ends up where you want it.")
    strip = _("Pull off every leaf that would stand in water.")
    leaves = _("Put the leaves in first, so that they cross inside and lean over the rim on all sides.")
    large = _("Put the largest low and near the middle, the smaller ones between and above them.")
    turn = _("Turn it once round and fill the gaps that you see. Top up the water.")
    return (
        _step("vessel", _("Fill the vessel"), _with(told), rinse),
        _step("measure", _("Cut each stem beside it"), beside, strip),
        _step("leaves", _("Leaves first"), leaves, _("They hold what comes after.")),
        _step("flowers", _("Then the flowers"), large, _in_order(told)),
        _step("round", _("Turn it round"), turn, _finish(told)),
    )


def _wired(told: Told) -> tuple[StepText, ...]:
    _ = told.words
    short = _("Cut each flower and each leaf about a finger’s length below its head, and lay them in heaps.")
    wire = _(
        "Push a wire through the thick part just below the flower, and bend both ends down along the stem."
    )
    none = _("Where there is no wire in your box, go on to the next step.")
    tape = _(
        "Pull the tape as you wind it from the top down, over stem and wire: stretched, it sticks to itself."
    )
    lay = _("Lay one on the other, the largest in front, leaves behind, and wind tape round all of them.")
    ends = (
        _("Cut the ends {length} below the binding.", length=told.cut)
        if told.cut
        else _("Cut the ends even.")
    )
    cover = _("Wind the rest over the stems, so that no point of a wire sticks out.")
    return (
        _step("short", _("Cut the heads short"), short),
        _step("wire", _("Give each its wire"), wire, none),
        _step("tape", _("Wind the tape"), tape),
        _step("together", _("Put them together"), lay, _in_order(told)),
        _step("cover", _("Cut and cover"), ends, cover, _with(told), _finish(told)),
    )


def _garland(told: Told) -> tuple[StepText, ...]:
    _ = told.words
    pieces = _("Cut the leaves into pieces as long as your hand, and lay them in heaps, one for each kind.")
    bundle = _("Take three or four pieces together, mixed, all pointing the same way.")
    bind = _("Lay it along the cord and wind the wire three times round its stems. Do not cut the wire.")
    cover = _("Lay the next one so that its leaves cover the stems before it, and wind again.")
    long = (
        _("Go on until it is {length} long.", length=told.length) if told.length else _("Go on to the end.")
    )
    return (
        _step("pieces", _("Cut short branches"), pieces),
        _step("bundle", _("Make small bundles"), bundle),
        _step("bind", _("Bind the first one on"), bind, _with(told)),
        _step("overlap", _("Cover the stems with the next"), cover, long),
        _step("tube", _("Flowers last, in its place"), _tubes(_), _in_order(told), _finish(told)),
    )


def _tubes(_: Words) -> str:
    return _("Fill each small tube with water, put one flower in, and push it deep between the leaves.")


def _frame(told: Told) -> tuple[StepText, ...]:
    _ = told.words
    stand = _("Work where it cannot fall, two of you, both feet on the ground.")
    hang = _(
        "Whether and how it may stand or hang is for the venue, local rules and a licensed rigger to say."
    )
    leaves = _("Begin at one end and tie each branch so that it covers the stems of the one before.")
    look = _(
        "Look from where the guests will be. Cover what holds it, and leave some gaps: they make it light."
    )
    return (
        _step("frame", _("Make the frame stand"), stand, hang),
        _step("onframe", _("Tie on the leaves"), leaves, _with(told)),
        _step("tubes", _("Then the flowers"), _tubes(_), _in_order(told)),
        _step("back", _("Step back and look"), look, _finish(told)),
        _step(
            "pull",
            _("Try whether it holds"),
            _("Pull lightly at each flower and branch. Tie again what moves."),
        ),
    )


_STEPS: dict[str, Callable[[Told], tuple[StepText, ...]]] = {
    "hand-tied": _hand_tied,
    "flat-laid": _flat_laid,
    "vase-built": _vase_built,
    "wired": _wired,
    "garland": _garland,
    "frame": _frame,
}
