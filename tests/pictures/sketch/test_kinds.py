"""What a stem is drawn as."""

import re
from pathlib import Path

import pytest

from sitegen.pictures.sketch import called
from sitegen.pictures.sketch.kinds import HABITS, kind_of


@pytest.mark.parametrize(
    ("draw", "latin", "role", "bloom", "kind"),
    [
        ("peony", "Rosa", "foliage", 1.0, "peony"),  # what is named is drawn
        ("peonie", "Rosa", "form", 3.0, "garden-rose"),  # what is misspelt is not
        (None, "Rosa", "mass", 1.5, "spray-rose"),
        (None, "Rosa", "form", None, "garden-rose"),
        (None, "Ranunculus asiaticus", "mass", 2.0, "ranunculus"),
        (None, "× Chamelaucium uncinatum", "filler", None, "filler"),
        (None, "Olea europaea", "foliage", None, "olive"),
        (None, "Olea europaea", "filler", None, "filler"),  # an olive sold as filler is no leaf
        (None, "Hydrangea", "foliage", None, "ruscus"),
        (None, "Nova planta", "line", None, "delphinium"),
        (None, None, "mass", 2.0, "ranunculus"),
        (None, "", "foliage", None, "ruscus"),
    ],
)
def test_the_kind_of_a_stem(
    draw: str | None, latin: str | None, role: str, bloom: float | None, kind: str
) -> None:
    assert kind_of(draw, latin, "Nova", role, bloom) == kind


@pytest.mark.parametrize(
    ("name", "role", "kind"),
    [
        ("Dahlia, plum", "form", "dahlia"),
        ("Scabious, white", "mass", "carnation"),
        ("Cosmos", "filler", "anemone"),
        ("Spray rose, peach", "mass", "spray-rose"),
        ("White roses", "form", "garden-rose"),
        ("Peony, rose", "form", "peony"),
        ("Rose peony", "form", "peony"),
        ("Mulberry dahlias", "form", "dahlia"),
        ("Baby’s breath", "filler", "filler"),
        ("Olive hydrangea", "mass", "hydrangea"),
        ("Olive", "foliage", "olive"),
        ("Copper beech", "foliage", "ruscus"),
        ("Rose leaf", "foliage", "ruscus"),  # leaf is drawn as leaf
        ("Sage", "filler", "filler"),
        ("Blackberries", "filler", "berries"),
    ],
)
def test_a_name_in_english_says_what_is_drawn(name: str, role: str, kind: str) -> None:
    assert kind_of(None, None, name, role, None) == kind


def test_a_name_says_less_than_what_is_drawn_and_the_latin_name() -> None:
    assert kind_of("peony", "Rosa", "Dahlia", "form", None) == "peony"
    assert kind_of(None, "Rosa", "Dahlia", "form", None) == "garden-rose"
    assert kind_of(None, "Nova planta", "Dahlia", "form", None) == "dahlia"


def test_every_kind_that_a_name_can_mean_is_one_that_can_be_drawn() -> None:
    assert {kind for kind, _words in (*called._NAMES, *called._COLOURS)} <= set(HABITS)
    assert set(called._GENERA.values()) <= set(HABITS)


def test_every_kind_is_one_that_can_be_drawn() -> None:
    for role in ("line", "mass", "form", "filler", "foliage"):
        assert kind_of(None, None, "", role, None) in HABITS


def test_the_readme_names_every_kind() -> None:
    readme = Path(__file__).parents[3].joinpath("README.md").read_text("utf-8")
    _before, _, after = readme.partition("The kinds\nare ")
    assert set(re.findall(r"[a-z]+(?:-rose)?", after.partition(". `form")[0])) >= set(HABITS)
