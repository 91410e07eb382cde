"""Picking answers comes to the same as writing a piece that way and pricing it from scratch."""

from fractions import Fraction
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from sitegen.choices.picks import Pick, Picks, usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.price.event import price_event
from sitegen.price.why import why
from tests.make import Raw, choice, event, pack, shared, stem

STEMS = {
    "rose": stem("28.00", "10", loss="12.5%"),
    "ivory": stem("31.00", "12", role="mass"),
    "fern": stem("7.35", "15", role="foliage"),
    "olive": stem("11.00", "~8", role="foliage", loss="0%"),
}
GOODS = {
    "silk": pack("36.00", length="25 yd"),
    "pin": pack("6.50", pieces="144"),
    "bowl": {"name": "Bowl", "hire": "6"},
}
SHARED = shared(
    stems=STEMS,
    goods=GOODS,
    pricing={
        "markup": {"fresh": "3.5", "foliage": "2.5", "goods": "2"},
        "labour": {"per_hour": "48"},
        "loss": "10%",
        "loss_in_price": "yes",
        "round": {"to": "0.50", "how": "nearest"},
    },
    charges=[{"id": "delivery", "label": "Delivery", "percent": "12%", "least": "90"}],
    tax={"rates": [{"label": "State", "rate": "6.25%"}, {"label": "County", "rate": "1%"}]},
    payments=[
        {"label": "Half", "percent": "50%", "due": "approval"},
        {"label": "Rest", "rest": "yes", "due": "approval"},
    ],
)

counts = st.sampled_from(("0", "1", "2/3", "2.5", "1 1/2", "7"))
lengths = st.sampled_from(("0 yd", "0.5 yd", "40 cm", "2 ft"))
recipes = st.dictionaries(st.sampled_from(sorted(STEMS)), counts, min_size=1)
minutes = st.sampled_from(("0", "10", "12.5"))


@st.composite
def written_pieces(draw: st.DrawFn) -> Raw:
    """A piece with three choices that do not clash: lines and minutes, swaps, goods and money."""
    fuller = [{"id": f"a{i}", "recipe": draw(recipes), "minutes": draw(minutes)} for i in range(2)]
    swaps = st.dictionaries(st.sampled_from(sorted(STEMS)), st.sampled_from(sorted(STEMS)), max_size=2)
    colours = [{"id": f"a{i}", "swap": draw(swaps)} for i in range(2)]
    bows = [{"id": f"a{i}", "goods": {"silk": draw(lengths)}, "add": draw(counts)} for i in range(2)]
    return {
        "recipe": draw(recipes),
        "goods": {"silk": draw(lengths), "bowl": draw(st.sampled_from(("0", "1", "2")))},
        "minutes": draw(minutes),
        "choices": [choice("fuller", *fuller), choice("colour", *colours), choice("bow", *bows)],
    }


def written_out(piece: Raw, answers: tuple[int, ...]) -> dict[str, Any]:
    """The piece as if the answers' lines were its own, the swap its only answer."""
    fuller, colour, bow = (
        one["answers"][answer] for one, answer in zip(piece["choices"], answers, strict=True)
    )
    only = choice("only", {"id": "only", "swap": colour["swap"], "add": bow["add"]})
    return {
        "recipe": piece["recipe"] | fuller["recipe"],
        "goods": piece["goods"] | bow["goods"],
        "minutes": fuller["minutes"],
        "choices": [only],
    }


answers_drawn = st.tuples(*[st.integers(0, 1)] * 3)


@given(st.lists(st.tuples(written_pieces(), answers_drawn, st.integers(0, 9)), min_size=1, max_size=3))
def test_picks_come_to_what_they_cost_written_out(drawn: list[tuple[Raw, tuple[int, ...], int]]) -> None:
    asked = table(price_event(SHARED, event(*[piece for piece, _, _ in drawn])))
    picks = Picks(tuple(Pick(answers, quantity) for _, answers, quantity in drawn))
    pieces = [written_out(piece, answers) | {"quantity": str(n)} for piece, answers, n in drawn]
    plain = table(price_event(SHARED, event(*pieces)))
    assert totals(asked, picks) == totals(plain, usual_picks(plain))


@given(written_pieces(), answers_drawn)
def test_an_explanation_adds_up_to_its_price(piece: Raw, answers: tuple[int, ...]) -> None:
    priced = price_event(SHARED, event(piece))
    combination = priced.pieces[0].at(answers)
    lines = why(priced, priced.pieces[0], combination)
    computed = [line.name for line in lines].index("computed")
    assert sum((line.amount for line in lines[:computed]), Fraction(0)) == combination.exact
