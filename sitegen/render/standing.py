"""Where a proposal stands with the couple: its day, until when prices and choices are open, its approval."""

import datetime as dt
from dataclasses import dataclass

from sitegen.model.content import EventFolder
from sitegen.model.terms import Contact
from sitegen.price.priced import PricedEvent
from sitegen.render.couple import Frozen, Held, Since
from sitegen.render.dates import long_date
from sitegen.render.voice import Voice


@dataclass(frozen=True, slots=True)
class Standing:
    """What is known beside the content: *on* is the day the proposal is dated, *today* the day of the build.

    *changed* tells what is new since the last proposal; *frozen* that choices are fixed already.
    """

    on: dt.date | None = None
    today: dt.date | None = None
    changed: Since | None = None
    frozen: Frozen | None = None


def last_day(folder: EventFolder) -> dt.date | None:
    """Give the last day on which counts and choices can change."""
    before = folder.event.changes_close
    return None if before is None else folder.event.date - dt.timedelta(days=before)


def held_until(folder: EventFolder, on: dt.date | None) -> dt.date | None:
    """Give the last day on which the prices of a proposal of the day *on* hold."""
    return None if on is None or folder.event.valid is None else on + dt.timedelta(days=folder.event.valid)


def held(folder: EventFolder, standing: Standing, voice: Voice) -> Held | None:
    until = held_until(folder, standing.on)
    if until is None:
        return None
    _, day = voice.words, long_date(until, voice.language)
    says = _("Prices are held until {date}.", date=day)
    past = _("Prices were held until {date}: please ask us whether they still stand.", date=day)
    return Held(says, past, over=standing.today is not None and standing.today > until)


def closing(event: PricedEvent, voice: Voice) -> Frozen | None:
    """Say what holds once the last day for changes is over."""
    last = last_day(event.folder)
    if last is None:
        return None
    _, contact = voice.words, event.shared.studio.contact
    says = _(
        "Counts and choices could change until {date}. What counts is what we confirmed in writing.",
        date=long_date(last, voice.language),
    )
    brief = _("To change something, please ask {name}.", name=_name(event))
    return Frozen(says, _ask(contact, event, voice), brief)


def approved(day: dt.date, event: PricedEvent, voice: Voice) -> Frozen:
    """Say that the proposal was approved on that *day*."""
    says = voice.words("Approved on {date}", date=long_date(day, voice.language))
    return Frozen(f"{says}.", _ask(event.shared.studio.contact, event, voice), says, agreed=True)


def frozen(event: PricedEvent, standing: Standing, voice: Voice) -> Frozen | None:
    """Say why nothing can be chosen on the page as it is built; None where it can."""
    last = last_day(event.folder)
    over = last is not None and standing.today is not None and standing.today > last
    return standing.frozen or (closing(event, voice) if over else None)


def _ask(contact: Contact, event: PricedEvent, voice: Voice) -> str:
    return voice.words("To change something, please ask {contact}.", contact=reached(contact, event, voice))


def reached(contact: Contact, event: PricedEvent, voice: Voice) -> str:
    """Name whom to ask, and how: `Una Test: una@studio.example and 555-0100`."""
    ways = tuple(way for way in (contact.email, contact.phone) if way)
    return ": ".join(filter(None, (_name(event), voice.listed(ways))))


def _name(event: PricedEvent) -> str:
    return event.shared.studio.contact.name or event.shared.studio.studio
