"""A worked event whose order was computed by hand: Millrace, one bouquet and five low bowls."""

from pathlib import Path

import pytest

from sitegen.choices.picks import usual_picks
from sitegen.choices.table import table
from sitegen.order.need import Portion
from sitegen.order.order import portions as portions_of
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from tests.reading import read_content

MILLRACE = Path(__file__).parents[1] / "golden" / "millrace"


@pytest.fixture
def millrace() -> PricedEvent:
    shared, (folder,) = read_content(MILLRACE)
    return price_event(shared, folder)


@pytest.fixture
def portions(millrace: PricedEvent) -> tuple[Portion, ...]:
    """Its pieces at the usual answers."""
    return portions_of(millrace, usual_picks(table(millrace)))
