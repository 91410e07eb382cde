"""From a priced event to the couple's page: the builder of the view.

Reads from the event only what a couple may know; cost, suppliers, mark-up, budget and notes to self have no
field to go to.
"""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from urllib.parse import quote

from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.table import Table, table
from sitegen.model.content import EventFolder
from sitegen.model.terms import Contact as StudioContact
from sitegen.order.order import sets_at
from sitegen.pictures.plan import Picture
from sitegen.price.priced import PricedEvent
from sitegen.render.couple import Contact, CouplePage, Frozen, Link, Name, Note, Part, Spot
from sitegen.render.couple_piece import Moment
from sitegen.render.data import Days, script_data
from sitegen.render.dates import full_date, long_date, reads_from, time_of
from sitegen.render.day import hours
from sitegen.render.estimate import estimate, payable
from sitegen.render.grounds import grounds
from sitegen.render.palette import palette
from sitegen.render.photos import Show
from sitegen.render.piece import PieceMaker
from sitegen.render.prose import letter, prose
from sitegen.render.sketched import Sketched
from sitegen.render.standing import Standing, closing, frozen, held, held_until, last_day, reached
from sitegen.render.voice import Voice, voice_for

_LATIN_ENDS = 0x24F  # the last of Latin Extended-B; names beyond it need more room between lines


@dataclass(frozen=True, slots=True)
class Photos:
    """An event's photos by file name, the opening's, how the page addresses them, and sketches by piece."""

    pictures: Mapping[str, Picture]
    opening: Picture | None
    show: Show
    sketches: Mapping[str, Sketched] = field(default_factory=dict)


_AS_WRITTEN = Standing()


def couple_view(event: PricedEvent, photos: Photos, standing: Standing = _AS_WRITTEN) -> CouplePage:
    """Make the view of an event at what the studio suggests."""
    studio, content = event.shared.studio, event.folder.event
    voice = voice_for(studio.language, event.shared.currency)
    whole = table(event)
    picks = usual_picks(whole)
    prices = payable(event, whole, picks)
    groups = _groups(event)
    fixed = frozen(event, standing, voice)
    maker = _maker(event, prices, picks, photos, voice, agreed=fixed is not None and fixed.agreed)
    parts = _parts(maker, groups)
    names = _names(content.for_, voice)
    day = hours(event, voice)
    colours = palette(event, voice)
    return CouplePage(
        language=studio.language,
        direction=reads_from(studio.language),
        paper=studio.paper,
        title=f"{content.for_} · {studio.studio}",
        studio=studio.studio,
        contact=_contact(studio.contact),
        names=names,
        longest_word=max(len(word) for name in names for word in re.split(r"[\s-]+", name.text)),
        grounds=grounds(content.palette, (swatch.colour for swatch in colours)),
        names_open=any(ord(char) > _LATIN_ENDS for char in content.for_),
        date=Moment(content.date.isoformat(), full_date(content.date, studio.language)),
        spots=_spots(event.folder, studio.language),
        opening=photos.show(photos.opening, "") if photos.opening else None,
        issued=_issued(event.folder, standing.on, voice),
        links=_links(parts, voice, day=bool(day)),
        changed=standing.changed,
        note=_note(event, voice),
        colours=colours,
        parts=parts,
        hours=day,
        estimate=estimate(event, prices, picks, groups, voice),
        choosing=_choosing(event, voice),
        held=held(event.folder, standing, voice),
        frozen=fixed,
        closing=closing(event, voice),
        terms=prose(event.shared.terms.text),
        data=script_data(event, prices, tuple(groups.values()), voice, _days(event, standing, fixed)),
    )


def _maker(
    event: PricedEvent, prices: Table, picks: Picks, photos: Photos, voice: Voice, *, agreed: bool
) -> PieceMaker:
    return PieceMaker(
        event,
        prices,
        picks,
        photos.pictures,
        photos.show,
        voice,
        photos.sketches,
        sets=sets_at(event, picks),
        agreed=agreed,
    )


def _groups(event: PricedEvent) -> dict[str, list[int]]:
    """Gather pieces under their group's name, in the order in which the names first appear."""
    groups: dict[str, list[int]] = {}
    for i, piece in enumerate(event.pieces):
        groups.setdefault(piece.file.piece.group, []).append(i)
    return groups


def _parts(maker: PieceMaker, groups: Mapping[str, list[int]]) -> tuple[Part, ...]:
    voice, parts = maker.voice, []
    for k, (title, indexes) in enumerate(groups.items(), 1):
        count = voice.words.plural("{n} piece", "{n} pieces", len(indexes))
        price = voice.money.brief(sum(map(maker.line, indexes)))
        parts.append(Part(f"part-{k}", title, count, price, tuple(map(maker.piece, indexes))))
    return tuple(parts)


def _names(text: str, voice: Voice) -> tuple[Name, ...]:
    """Part two names at the small word between them, so that a title can set it apart."""
    joint = re.compile(rf"\s+({re.escape(voice.words('and'))}|&|\+)\s+")
    return tuple(Name(part, joins=i % 2 == 1) for i, part in enumerate(joint.split(text)))


def _contact(contact: StudioContact) -> Contact:
    web = contact.web or ""
    return Contact(
        name=contact.name or "",
        email=contact.email or "",
        mail=quote(contact.email or "", safe="@+"),
        phone=contact.phone or "",
        dial=re.sub(r"[^0-9+]", "", contact.phone or ""),
        web=re.sub(r"^https?://|/$", "", web),
        site=web if re.match(r"https?://", web) else f"https://{quote(web)}",
    )


def _spots(folder: EventFolder, language: str) -> tuple[Spot, ...]:
    """Give the places where the couple's own part of the day has a time or a name."""
    return tuple(
        Spot(place.use or "", place.name, time_of(place.starts, language) if place.starts else None)
        for place in folder.event.places
        if place.starts or place.use
    )


def _issued(folder: EventFolder, on: dt.date | None, voice: Voice) -> tuple[str, ...]:
    _, valid = voice.words, folder.event.valid
    if on is None:
        return () if valid is None else (_("Prices held for {n} days", n=valid),)
    dated = _("Proposal of {date}", date=long_date(on, voice.language))
    until = held_until(folder, on)
    if until is None:
        return (dated,)
    return dated, _("Prices held until {date}", date=long_date(until, voice.language))


def _days(event: PricedEvent, standing: Standing, fixed: Frozen | None) -> Days:
    held_to = held_until(event.folder, standing.on)
    agreed = fixed is not None and fixed.agreed
    return Days(held_to, last_day(event.folder), fixed=fixed is not None, agreed=agreed)


def _links(parts: tuple[Part, ...], voice: Voice, *, day: bool) -> tuple[Link, ...]:
    _ = voice.words
    after = [Link("#estimate", _("Estimate")), Link("#choices", _("Your choices"))]
    between = [Link("#day", _("The day"))] if day else []
    return (*(Link(f"#{part.key}", part.title) for part in parts), *between, *after)


def _note(event: PricedEvent, voice: Voice) -> Note:
    said = letter(event.folder.note.text)
    greeting = said.greeting or voice.words("For {names}", names=event.folder.event.for_)
    signed = said.signed or event.shared.studio.contact.name or ""
    return Note(greeting, said.html, tuple(_asides(event, voice)), signed)


def _asides(event: PricedEvent, voice: Voice) -> Iterator[str]:
    _ = voice.words
    yield _(
        "Flowers are a crop: where a stem is poor or missing that week, we put its nearest like in its place"
        " and tell you."
    )
    if any(piece.as_suggested.made.recipe for piece in event.pieces):
        yield _(
            "Some flowers can make people or pets ill if eaten, or irritate the skin: when in doubt, please"
            " ask a poison line, a doctor or your vet."
        )
    if event.folder.event.mind:
        yield _("We mark stems by published lists, as you asked. One without a mark is not thereby harmless.")


def _choosing(event: PricedEvent, voice: Voice) -> tuple[str, ...]:
    """Say what becomes of choices."""
    _, contact, last = voice.words, event.shared.studio.contact, last_day(event.folder)
    said = [
        _(
            "What you choose stays here until you send it. Please tell us what you would like. {contact}",
            contact=reached(contact, event, voice),
        ),
        _("What you send is a wish. We confirm it in writing, and nothing is final until we both sign."),
    ]
    if last is not None:
        said.append(_("Counts and choices can change until {date}.", date=long_date(last, voice.language)))
    return tuple(said)
