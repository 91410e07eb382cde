"""A worked event whose order was computed by hand: Millrace, one bouquet and five low bowls."""

from fractions import Fraction

import pytest

from sitegen.model.catalogue import Good, Stem, Supplier
from sitegen.model.content import EventFolder, Nodes, Shared, Words, terms_of
from sitegen.model.event import Event
from sitegen.model.terms import Studio
from sitegen.order.need import Portion
from sitegen.price.priced import Made, PricedEvent
from sitegen.values.length import length
from sitegen.values.money import Currency
from sitegen.values.node import Map
from sitegen.values.problem import whole_file

STEMS = {
    "dahlia-apricot": {
        "name": "Dahlia, apricot",
        "role": "form",
        "colour": "#eab08c",
        "loss": "12.5%",
        "arrive": "2",
        "offers": [
            {"supplier": "long-acre", "bunch": "10", "price": "14.50", "months": "Jul-Oct"},
            {"supplier": "river-market", "bunch": "5", "price": "9.25"},
        ],
    },
    "spray-rose-ivory": {
        "name": "Spray rose, ivory",
        "role": "mass",
        "colour": "#f5efe6",
        "arrive": "3",
        "offers": [{"supplier": "river-market", "bunch": "10", "price": "16.50"}],
    },
    "olive": {
        "name": "Olive",
        "role": "foliage",
        "colour": "#8d9a7a",
        "arrive": "4",
        "offers": [
            {"supplier": "long-acre", "bunch": "8", "price": "11.00"},
            {"supplier": "river-market", "bunch": "10", "price": "13.00"},
        ],
    },
}
GOODS = {
    "silk": {
        "name": "Silk ribbon, stone",
        "packs": [{"supplier": "thread-box", "length": "25 yd", "price": "36.00"}],
    },
    "pin": {"name": "Short pins", "packs": [{"supplier": "thread-box", "pieces": "144", "price": "6.50"}]},
    "bowl": {"name": "Footed bowl", "hire": "6.00", "replace": "24.00", "owned": "12"},
}
SUPPLIERS = {
    "long-acre": {
        "name": "Long Acre Growers",
        "order_days": "7",
        "minimum": "80.00",
        "delivery": "20.00",
        "delivers": "Wed Thu",
    },
    "river-market": {
        "name": "River Market",
        "order_days": "3",
        "delivery": "12.00",
        "delivers": "Mon Tue Wed Thu Fri",
    },
    "thread-box": {"name": "Thread Box", "order_days": "10", "delivery": "5.50", "delivers": "Tue"},
}


@pytest.fixture
def millrace() -> PricedEvent:
    """The event without its prices: the order asks for none."""
    nothing = Map({}, whole_file("nothing"))
    studio = Studio.model_validate(
        {
            "studio": "Wicket Lane Flowers",
            "contact": {"name": "Ilse Quill"},
            "language": "en-US",
            "currency": "USD",
            "pricing": {"markup": {"fresh": "3.5"}, "loss": "10%"},
        }
    )
    event = Event.model_validate({"event": "Millrace", "for": "Noor and Elis", "date": "2031-09-13"})
    words = Words("", nothing.place)
    shared = Shared(
        studio=studio,
        currency=Currency("USD", 2),
        terms=words,
        stems={name: Stem.model_validate(stem) for name, stem in STEMS.items()},
        goods={name: Good.model_validate(good) for name, good in GOODS.items()},
        suppliers={name: Supplier.model_validate(one) for name, one in SUPPLIERS.items()},
        stock={},
        nodes=Nodes(nothing, nothing, nothing, nothing),
    )
    folder = EventFolder("2031-09-13-millrace", event, words, (), {}, nothing)
    return PricedEvent(shared, folder, terms_of(studio, event), ())


@pytest.fixture
def portions() -> tuple[Portion, ...]:
    """Its pieces at the usual answers."""
    bouquet = {"dahlia-apricot": Fraction(7), "spray-rose-ivory": Fraction(5), "olive": Fraction(4)}
    bowl = {"dahlia-apricot": Fraction(2, 3), "spray-rose-ivory": Fraction(4), "olive": Fraction("2.5")}
    silk = length("1 yd")
    nothing = Fraction(0)
    return (
        Portion(
            "hand-tied",
            Made(bouquet, {"silk": silk, "pin": Fraction(6)}, nothing, nothing, by_couple=False),
            1,
        ),
        Portion("low-bowls", Made(bowl, {"bowl": Fraction(1)}, nothing, nothing, by_couple=False), 5),
    )
