"""From an order to its sheets. Later sheets join here and in the page, each a module of its own."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from sitegen.order.order import Order
from sitegen.order.plan import Plan, plan_of
from sitegen.order.shelf import Beside
from sitegen.render.dates import reads_from
from sitegen.render.order_buying import buying
from sitegen.render.order_cards import Seen, cards
from sitegen.render.order_cost import cost
from sitegen.render.order_days import days_sheet
from sitegen.render.order_goods import goods, hire
from sitegen.render.order_pack import pack_sheet
from sitegen.render.order_page import OrderPage
from sitegen.render.order_pull import pull_sheet
from sitegen.render.order_run import run_sheet
from sitegen.render.order_voice import OrderVoice, order_voice
from sitegen.render.paper import css_text, named_and_dated, page_of_pages, shorten

_NOTHING: Mapping[str, Beside] = {}


@dataclass(frozen=True, slots=True)
class Stage:
    """How far the event is: its last revision, and the day it was approved. Without one all is a draft."""

    revision: int | None = None
    approved: dt.date | None = None


def order_view(
    order: Order,
    stage: Stage,
    today: dt.date,
    agreed: int | None = None,
    *,
    seen: Mapping[str, Seen] | None = None,
    plan: Plan | None = None,
    beside: Mapping[str, Beside] | None = _NOTHING,
) -> OrderPage:
    """Lay out the sheets of *order*, with figures of *today*.

    *agreed* is the proposal without tax (subtotal less discount plus charges)
    in the currency's smallest unit; without it, what is left is not told. *seen*
    is what the build cards show beside the order, by the pieces' ids; *plan* is the order's,
    where it was made already. *beside* is what other events have out meanwhile, None where a mark is to stand
    for it.
    """
    voice, planned = order_voice(order, today), plan or plan_of(order)
    event = order.priced.folder.event
    return OrderPage(
        language=voice.voice.language,
        direction=reads_from(voice.voice.language),
        title=voice.words("{event}, order", event=event.event),
        draft=stage.approved is None,
        event=css_text(named_and_dated(event.event, voice.date(event.date))),
        foot=css_text(_foot(voice, stage)),
        count=page_of_pages(voice.words),
        made=_foot(voice, stage),
        buying=buying(voice),
        cost=cost(voice, agreed),
        goods=goods(voice),
        hire=hire(voice, beside),
        pull=pull_sheet(voice),
        cards=cards(voice, seen or {}),
        days=days_sheet(voice, planned),
        run=run_sheet(voice, planned),
        pack=pack_sheet(voice, planned),
    )


def _foot(voice: OrderVoice, stage: Stage) -> str:
    """Tell two printouts on one bench apart: the revision, its approval, the day of the figures."""
    _, studio = voice.words, voice.shared.studio
    revision = "" if stage.revision is None else _("Revision {n}", n=stage.revision)
    approved = _("approved {day}", day=voice.date(stage.approved)) if stage.approved else ""
    state = ", ".join(part for part in (revision, approved or _("not approved")) if part)
    figures = _("figures of {day}", day=voice.date(voice.today))
    phone = f" {studio.contact.phone}" if studio.contact.phone else ""
    return " · ".join((f"{state[:1].upper()}{state[1:]}", figures, f"{shorten(studio.studio)}{phone}"))
