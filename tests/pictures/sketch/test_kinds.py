"""What a stem is drawn as."""

import pytest

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
    assert kind_of(draw, latin, role, bloom) == kind


def test_every_kind_is_one_that_can_be_drawn() -> None:
    for role in ("line", "mass", "form", "filler", "foliage"):
        assert kind_of(None, None, role, None) in HABITS
