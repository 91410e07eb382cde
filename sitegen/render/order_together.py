"""From an order for several events to its sheets: what to buy, what it costs, and whose what is."""

import datetime as dt
from dataclasses import replace

from sitegen.order.order import Order
from sitegen.order.together import Together
from sitegen.render.dates import reads_from
from sitegen.render.order_buying import buying
from sitegen.render.order_cost import cost
from sitegen.render.order_page import Buying, OrderPage
from sitegen.render.order_placed import passed_on
from sitegen.render.order_split import split
from sitegen.render.order_voice import OrderVoice, order_voice
from sitegen.render.paper import css_text, named_and_dated, page_of_pages, shorten


def together_view(made: Together, whole: Order, today: dt.date, *, draft: bool) -> OrderPage:
    """Lay out the sheets of *made*, of which *whole* is the one order. All else stays in the events' own."""
    voice = order_voice(whole, today)
    title = voice.words("Ordered together: {events}", events=_names(voice, made))
    made_on = _foot(voice)
    first = min(order.priced.folder.event.date for order in made.orders)
    return OrderPage(
        language=voice.voice.language,
        direction=reads_from(voice.voice.language),
        title=title,
        draft=draft,
        event=css_text(
            named_and_dated(voice.words("{n} events as one", n=len(made.orders)), voice.date(first))
        ),
        foot=css_text(made_on),
        count=page_of_pages(voice.words),
        made=made_on,
        buying=_with_passed(voice, made),
        cost=cost(voice, None),
        split=split(voice, made),
    )


def _with_passed(voice: OrderVoice, made: Together) -> Buying | None:
    """Say on the buying list what is not bought, since one of the events has it to spare."""
    found, said = buying(voice), tuple(passed_on(voice, made))
    return replace(found, placed=(*found.placed, *said)) if found else None


def _names(voice: OrderVoice, made: Together) -> str:
    return voice.voice.listed(tuple(order.priced.folder.event.event for order in made.orders))


def _foot(voice: OrderVoice) -> str:
    studio = voice.shared.studio
    figures = voice.words("figures of {day}", day=voice.date(voice.today))
    phone = f" {studio.contact.phone}" if studio.contact.phone else ""
    return " · ".join((f"{figures[:1].upper()}{figures[1:]}", f"{shorten(studio.studio)}{phone}"))
