"""What the page's script computes from: prices and recipes by combination, terms, words, money's format.

All of it is public: the table of prices that the couple choose from, and what the page shows anyway.
"""

import datetime as dt
import hashlib
import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from fractions import Fraction
from typing import Any
from urllib.parse import quote

from markupsafe import Markup

from sitegen.choices.table import Table, ratio_json, table_json
from sitegen.price.priced import Made, PricedEvent, PricedPiece
from sitegen.render.estimate import received, still_words
from sitegen.render.recipe import ABOUT_STEMS, KINDS, STEMS, is_dealt
from sitegen.render.voice import Voice
from sitegen.render.words import Words

# Inside a script element only these could end it or begin a comment; JSON may spell them as escapes.
_ESCAPES = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}


@dataclass(frozen=True, slots=True)
class Days:
    """The last days on which prices hold and on which choices can change.

    *fixed* tells that nothing can change as the page is built, *agreed* that it shows what was agreed.
    """

    held: dt.date | None
    close: dt.date | None
    fixed: bool
    agreed: bool


def script_data(
    event: PricedEvent, table: Table, parts: Sequence[Sequence[int]], voice: Voice, days: Days
) -> Markup:
    """Give the data as JSON that may stand in a script element; *parts* holds the pieces of each part."""
    shared = event.shared
    counted = shared.studio.show_stems == "counts"
    stems = [] if shared.studio.show_stems == "no" else _stems(event)
    return safe_json(
        {
            "table": table_json(table),
            "pieces": [_piece(piece, stems, counted=counted) for piece in event.pieces],
            "parts": parts,
            "charges": [charge.label for charge in event.terms.charges],
            "stems": [(shared.stems[id_].name, shared.stems[id_].colour) for id_ in stems],
            "counted": counted,
            "least": shared.currency.units(event.folder.event.least or Fraction(0)),
            "money": asdict(voice.money),
            "language": voice.language,
            "words": script_words(voice.words, agreed=days.agreed),
            "page": _page_name(event),
            "title": f"{event.folder.event.for_} · {shared.studio.studio}",
            "mail": quote(shared.studio.contact.email or "", safe="@+"),
            "received": received(event),
            "held": days.held and days.held.isoformat(),
            "close": days.close and days.close.isoformat(),
            "fixed": days.fixed,
            "agreed": days.agreed,
        }
    )


def _page_name(event: PricedEvent) -> str:
    """Name the page within one browser, so that what is kept there of two proposals does not meet."""
    said = f"{event.shared.studio.studio}\n{event.folder.id}"
    return hashlib.sha256(said.encode()).hexdigest()[:16]


def safe_json(data: Any) -> Markup:
    """Print *data* as JSON in which nothing can end a script element."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for char, escape in _ESCAPES.items():
        text = text.replace(char, escape)
    return Markup(text)  # noqa: S704 - no <, > or & is left in it


def _stems(event: PricedEvent) -> list[str]:
    made = (combination.made for piece in event.pieces for combination in piece.combinations)
    return list(dict.fromkeys(id_ for one in made for id_ in one.recipe))


def _piece(piece: PricedPiece, stems: list[str], *, counted: bool) -> dict[str, Any]:
    index = {id_: i for i, id_ in enumerate(stems)}
    choices = piece.file.piece.choices
    # Combinations share a recipe where the answers that differ do not touch it.
    shared = {id(one.made.recipe): one.made for one in piece.combinations if stems}
    recipes = {key: _recipe(made, index, counted=counted) for key, made in shared.items()}
    return {
        "name": piece.file.piece.piece,
        "labels": [[answer.label for answer in choice.answers] for choice in choices],
        "choices": [[choice.id, choice.ask, [answer.id for answer in choice.answers]] for choice in choices],
        "recipes": [recipes[id(one.made.recipe)] for one in piece.combinations] if stems else [],
        "dealt": [index[id_] for id_ in stems if is_dealt(piece, id_)],
    }


def _recipe(made: Made, index: dict[str, int], *, counted: bool) -> list[list[int]]:
    """Give each stem's index, with its count as numerator and denominator where counts are shown."""
    return [[index[id_], *(ratio_json(n) if counted else ())] for id_, n in made.recipe.items()]


def script_words(_: Words, *, agreed: bool) -> dict[str, Any]:
    """Give the words that the script puts into the page: the same that the page was built with."""
    return {
        "each": _("{price} each"),
        "line": _("{n} for {price}"),
        "forAll": _("{price} for {n}"),
        "total": _("total {price}"),
        "same": _("same price"),
        "about": _("about {n}"),
        "across": _("{n} across {pieces}"),
        "aboutAcross": _("about {n} across {pieces}"),
        "stems": [_.forms(*pair) for pair in STEMS],
        "aboutStems": [_.forms(*pair) for pair in ABOUT_STEMS],
        "kinds": _.forms(*KINDS),
        "choices": _.forms("{n} choice of yours", "{n} choices of yours"),
        "suggest": _("as agreed") if agreed else _("as we suggest"),
        "instead": _("{now}, instead of {usual}"),
        "out": _("left out"),
        "added": _("added"),
        "everything": _("Everything"),
        "everythingElse": _("Everything else"),
        "backAsk": _("Put everything back to what we suggested? Your notes stay."),
        "noted": _("with a note"),
        "left": _.forms("{n} character left", "{n} characters left"),
        "due": still_words(_)[0],
        "above": still_words(_)[1],
        **_kept_words(_),
        **_sent_words(_),
        "numbers": _.small_numbers(),
    }


def _kept_words(_: Words) -> dict[str, Any]:
    return {
        "kept": _("Kept on this phone until you send them."),
        "sent": _("You made a message of these on {date}. They stay on this phone, too."),
        "later": _("Changed since your message of {date}, and kept on this phone until you send them."),
        "unfit": _.forms("{n} no longer fits", "{n} no longer fit"),
        "gone": _("{name}: no longer in the proposal. You had: {what}"),
        "notOffered": _("{name}: “{what}” is no longer offered."),
        "notAdded": _("“{what}” is no longer offered."),
        "notAsked": _("{name}: “{ask}” is no longer asked. You had: {what}"),
        "notCount": _("{name}: {n} is no longer possible, so it stands at {now}."),
        "notOut": _("{name}: it can no longer be left out."),
        "yourNote": _("your note “{note}”"),
    }


def _sent_words(_: Words) -> dict[str, Any]:
    return {
        "subject": _("Our choices"),
        "ours": _("Our choices"),
        "all": _("Everything as you suggest."),
        "rest": _("Everything else as you suggest."),
        "sum": _("Total: {price}"),
        "notes": _("Our notes:"),
        "leave": _("Please leave this line in:"),
        "paste": _("The rest was copied and did not fit in here. Please paste it below:"),
        "shared": _("Handed on. Please see that it was really sent."),
        "mailed": _("Your mail program has the message: please send it there."),
        "cut": _("The message is too long for this, so all of it was copied: please paste it into the mail."),
        "copied": _("Copied: paste it into a message to us."),
        "select": _("Please copy the message below."),
        "saved": _("Saved as a file: attach it to a message to us."),
        "file": _("our-choices.txt"),
    }
