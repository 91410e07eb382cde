"""The messages in which a private link travels, in the couple's language."""

from dataclasses import dataclass

from sitegen.model.terms import Studio
from sitegen.render.words import words_for


@dataclass(frozen=True, slots=True)
class Invitation:
    """One text for a mail, its subject on top, and a shorter one for a messenger."""

    mail: str
    messenger: str


def invitation(names: str, link: str, studio: Studio, *, phrase: bool) -> Invitation:
    """Write both messages around *link* for a couple; *phrase* tells that the page asks for words as well."""
    _ = words_for(studio.language)
    asks = (_("It also asks for a few words, which I send you another way."),) if phrase else ()
    careful = _(
        "The link is its key, so please keep it to yourselves."
        " If the page says that a part of the link is missing, copy the whole line from this mail."
    )
    paragraphs = (
        _("Subject: Your flowers"),
        _("Dear {names},", names=names),
        _(
            "your proposal is ready: every piece with its picture, what is in it and what it costs,"
            " and the choices that are yours."
        ),
        link,
        *asks,
        careful,
        "\n".join(dict.fromkeys((studio.contact.name or studio.studio, studio.studio))),
    )
    short = _(
        "Your proposal from {studio} is ready. The link is its key, so please keep it to yourselves: {link}",
        studio=studio.studio,
        link=link,
    )
    return Invitation("\n\n".join(paragraphs), short)
