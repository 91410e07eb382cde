"""What was agreed, for both sides to sign: pieces, sums, payments, and the terms on a page of their own.

Reads from the event only what a couple may know.
"""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace

from sitegen.choices.picks import Pick, Picks
from sitegen.choices.table import Table, TablePiece, table
from sitegen.choices.totals import Totals, totals
from sitegen.model.event import Place
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.render.couple import Sum
from sitegen.render.couple_paper import AgreedGroup, AgreedHeads, AgreedPage, AgreedPiece, AgreedSum, Frame
from sitegen.render.dates import clock, full_date, long_date, reads_from
from sitegen.render.estimate import payable, payments_of, still_due, sums_of, taxes_of
from sitegen.render.money import without_sign
from sitegen.render.paper import css_text, downwards, named_and_dated, page_of_pages, shorten
from sitegen.render.prose import prose
from sitegen.render.standing import last_day
from sitegen.render.voice import Voice, voice_for
from sitegen.render.words import Words
from sitegen.values.money import half_away


@dataclass(frozen=True, slots=True)
class Settled:
    """The days of the proposal, of the reply to it, and of the approval; None for what has not been.

    *notes* are those of the reply: the name of a piece, or nothing for all of it, and the couple's own words.
    """

    proposed: dt.date | None = None
    replied: dt.date | None = None
    approved: dt.date | None = None
    notes: tuple[tuple[str, str], ...] = ()


def frame_of(event: PricedEvent, title: str, foot: str, *, draft: bool) -> Frame:
    """Give what stands around one of the couple's sheets; *foot* is its line at the bottom."""
    language, content = event.shared.studio.language, event.folder.event
    voice = voice_for(language, event.shared.currency)
    drafted = voice.words("DRAFT") if draft else ""
    return Frame(
        language=language,
        direction=reads_from(language),
        title=f"{content.for_} · {title}",
        draft=drafted,
        event=css_text(named_and_dated(content.for_, long_date(content.date, language))),
        sheet=css_text(shorten(title)),
        foot=css_text(foot),
        count=page_of_pages(voice.words),
        drafted=css_text(drafted),
        down=downwards(drafted),
    )


def agreed_view(event: PricedEvent, picks: Picks, settled: Settled, today: dt.date) -> AgreedPage:
    """Lay out *event* at *picks*; without an approval it says that there is nothing to sign yet."""
    voice = voice_for(event.shared.studio.language, event.shared.currency)
    _, content, draft = voice.words, event.folder.event, settled.approved is None
    money, symbol = without_sign(voice.money)
    bare = replace(voice, money=money)
    prices = payable(event, table(event), picks)
    sums = totals(prices, picks)
    return AgreedPage(
        frame=frame_of(
            event,
            _("Summary, not approved") if draft else _("Approved summary"),
            _foot(event, settled, voice),
            draft=draft,
        ),
        title=_("What we would make for you") if draft else _("What we make for you"),
        lead=f"{content.for_.rstrip('.')}. {_lead(settled, voice)}",
        warning=_("This has not been approved. There is nothing to sign yet.") if draft else "",
        date=full_date(content.date, voice.language),
        places=" · ".join(_place(place, voice) for place in content.places),
        guests=(_("Guests"), str(content.guests)) if content.guests else ("", ""),
        heads=_heads(symbol, _),
        groups=_groups(event, prices, picks, sums, bare),
        without=_without(event, picks, _),
        notes=settled.notes,
        sums=tuple(_sums(event, sums, bare, sums_of(event, prices, sums, bare))),
        total=voice.money.exact(sums.total),
        contained=tuple(_sums(event, sums, bare, taxes_of(event, sums, bare))) if prices.included else (),
        payments=tuple(_payments(event, sums, bare)),
        fixed=" ".join((*_fixed(event, today, voice), _binds(_))),
        signs=() if draft else tuple(_signs(event, _)),
        terms=prose(event.shared.terms.text),
    )


def _foot(event: PricedEvent, settled: Settled, voice: Voice) -> str:
    """Name the proposal that it shows, so that two printouts are told apart, and whom to ring."""
    _, studio = voice.words, event.shared.studio
    ours = _("Not sent yet")
    if settled.proposed:
        ours = _("Our proposal of {date}", date=long_date(settled.proposed, voice.language))
    who = " ".join(part for part in (shorten(studio.studio), studio.contact.phone) if part)
    return f"{ours} · {who}"


def _lead(settled: Settled, voice: Voice) -> str:
    _, language = voice.words, voice.language
    proposed = long_date(settled.proposed, language) if settled.proposed else ""
    if settled.approved is None:
        if proposed:
            return _("Our proposal of {proposed}, at the choices we suggest.", proposed=proposed)
        return _("At the choices we suggest.")
    agreed = long_date(settled.approved, language)
    if settled.replied is None:
        return _("Agreed on {agreed}, to our proposal of {proposed}.", agreed=agreed, proposed=proposed)
    return _(
        "Agreed on {agreed} from your reply of {replied} to our proposal of {proposed}.",
        agreed=agreed,
        replied=long_date(settled.replied, language),
        proposed=proposed,
    )


def _place(place: Place, voice: Voice) -> str:
    """Say what happens there and when: `Long barn, Dinner: 5:30 PM to 11:30 PM`."""
    _, language = voice.words, voice.language
    named = ", ".join(part for part in (place.name, place.use) if part)
    if place.starts and place.ends:
        hours = _("{start} to {end}", start=clock(place.starts, language), end=clock(place.ends, language))
    elif place.starts:
        hours = clock(place.starts, language)
    else:
        hours = _("flowers by {time}", time=clock(place.ready, language)) if place.ready else ""
    return f"{named}: {hours}" if hours else named


def _heads(symbol: str, _: Words) -> AgreedHeads:
    return AgreedHeads(
        piece=_("Piece"),
        chosen=_("As you chose"),
        quantity=_("How many"),
        each=" ".join((_("Each"), symbol)),
        in_all=" ".join((_("In all"), symbol)),
        total=_("Total"),
        payments=_("Payments"),
        notes=_("Your notes, as you wrote them"),
        whole=_("On all of it"),
        terms=_("Our terms"),
    )


def _groups(
    event: PricedEvent, prices: Table, picks: Picks, sums: Totals, voice: Voice
) -> tuple[AgreedGroup, ...]:
    """Give what is made, by the groups of the proposal."""
    groups: dict[str, list[AgreedPiece]] = {}
    every = zip(event.pieces, prices.pieces, picks.pieces, sums.lines, strict=True)
    for piece, suggested, pick, line in every:
        if pick.quantity and not pick.out:
            chosen = _chosen(piece, suggested, pick, voice.words)
            row = _piece(event, piece, pick, chosen, line, voice)
            groups.setdefault(piece.file.piece.group, []).append(row)
    return tuple(AgreedGroup(title, tuple(rows)) for title, rows in groups.items())


def _without(event: PricedEvent, picks: Picks, _: Words) -> str:
    """Name what was proposed and is not made."""
    both = zip(event.pieces, picks.pieces, strict=True)
    names = [piece.file.piece.piece for piece, pick in both if pick.out or not pick.quantity]
    return _("Not made, as agreed: {names}", names="; ".join(names)) if names else ""


def _piece(
    event: PricedEvent, piece: PricedPiece, pick: Pick, chosen: str, line: int, voice: Voice
) -> AgreedPiece:
    return AgreedPiece(
        piece=piece.file.piece.piece,
        moves=_moves(event, piece, voice.words),
        chosen=chosen,
        quantity=str(pick.quantity),
        each=voice.money.exact(piece.at(pick.answers).each),
        in_all=voice.money.exact(line),
    )


def _moves(event: PricedEvent, piece: PricedPiece, _: Words) -> str:
    second = piece.file.piece.second_place
    if second is None:
        return ""
    place = next((one.name for one in event.folder.event.places if one.id == second.place), "")
    return _("then moves: {place}", place=", ".join(part for part in (second.spot, place) if part))


def _chosen(piece: PricedPiece, suggested: TablePiece, pick: Pick, _: Words) -> str:
    """Name the answers and another count, or say that they are as we suggest; and that the couple make it."""
    choices, said = piece.file.piece.choices, []
    if pick.answers != suggested.usual:
        said = [choice.answers[a].label for choice, a in zip(choices, pick.answers, strict=True)]
    if pick.quantity != suggested.quantity:
        said.append(_("{now}, instead of {usual}", now=pick.quantity, usual=suggested.quantity))
    if piece.at(pick.answers).made.by_couple:
        said.append(_("Made by you"))
    return " · ".join(said) or _("As we suggest")


def _sums(event: PricedEvent, sums: Totals, voice: Voice, rows: Iterator[Sum]) -> Iterator[AgreedSum]:
    """Give each sum; a tax that is rounded once says on what it was taken."""
    once = event.terms.tax.rounding == "invoice" and not event.terms.tax.included
    taxable = voice.money.exact(half_away(sums.taxable))
    for row in rows:
        if row.shown:
            on = once and row.key.startswith("tax-")
            of = voice.words("{percent} of {amount}", percent=row.detail, amount=taxable)
            yield AgreedSum(row.label, of if on else row.detail, row.amount)


def _payments(event: PricedEvent, sums: Totals, voice: Voice) -> Iterator[AgreedSum]:
    for row in payments_of(event, sums, voice):
        yield AgreedSum(row.label, row.due, row.amount)
    still = still_due(event, sums, voice)
    if still:
        yield AgreedSum(still.label, "", still.amount)


def _fixed(event: PricedEvent, today: dt.date, voice: Voice) -> Iterator[str]:
    last = last_day(event.folder)
    if last is None:
        return
    _, day = voice.words, long_date(last, voice.language)
    if today > last:
        yield _("Counts and choices are fixed since {date}.", date=day)
    else:
        yield _("Counts and choices can change until {date}.", date=day)


def _binds(_: Words) -> str:
    return _("What binds you and us stands in the written terms and in local law.")


def _signs(event: PricedEvent, _: Words) -> Iterator[str]:
    """Give a line for each who signs; where nobody is named, two for the couple."""
    signers = event.folder.event.signers
    yield from (_("{name}: signature, date", name=name) for name in signers)
    if not signers:
        yield from [_("For the couple: name, signature, date")] * 2
    yield _("{name}: name, signature, date", name=event.shared.studio.studio)
