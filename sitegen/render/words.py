"""The words of the page, by language: one file each in `locales/`, in gettext's own format.

The English text is its own key; a language without a catalogue is English. What a couple reads is translated
whole; the florist's own pages are in English.
"""

import gettext
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from pathlib import Path

from babel.core import get_global
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

CATALOGUES = Path(__file__).parent / "locales"
# British English writes days before months, as most of those do who write no English.
_FLORIST = "en-GB"


def counted(one: str, many: str) -> tuple[str, str]:
    """Mark the two forms of a counted sentence that is looked up later, so that catalogues have it."""
    return one, many


@dataclass(frozen=True, slots=True)
class Words:
    """The words of one language."""

    catalogue: gettext.NullTranslations

    def __call__(self, text: str, /, **values: object) -> str:
        """Give *text* in the language, its `{name}`s filled in."""
        said = self.catalogue.gettext(text)
        return said.format(**values) if values else said

    def plural(self, one: str, many: str, number: int, /, **values: object) -> str:
        """Choose between *one* and *many* as the language does, `{n}` being the number."""
        return self.catalogue.ngettext(one, many, number).format(n=number, **values)

    def forms(self, one: str, many: str) -> tuple[str, str]:
        """Give both forms of a counted sentence, for the page's script to choose from."""
        return self.catalogue.ngettext(one, many, 1), self.catalogue.ngettext(one, many, 2)

    def number(self, number: int) -> str:
        """Spell a small number, as running text does: `five`."""
        spelled = self.small_numbers()
        return spelled[number] if 0 <= number < len(spelled) else str(number)

    def small_numbers(self) -> tuple[str, ...]:
        """Give nought to twelve in words, for the page's script too."""
        _ = self
        return (
            _("none"), _("one"), _("two"), _("three"), _("four"), _("five"), _("six"),
            _("seven"), _("eight"), _("nine"), _("ten"), _("eleven"), _("twelve"),
        )  # fmt: skip


@lru_cache(maxsize=16)
def words_for(language: str) -> Words:
    """Give the words of a language tag such as `en-US`; texts that its catalogue lacks stay English."""
    for name in _names(language):
        path = CATALOGUES / f"{name}.po"
        if path.is_file():
            return Words(_read(path))
    return Words(gettext.NullTranslations())


def florist_language(language: str) -> str:
    """Give the language of the words on the florist's own pages: the studio's where that is English."""
    return language if language.partition("-")[0] == "en" else _FLORIST


def _names(language: str) -> tuple[str, ...]:
    """Give the catalogues that may serve, the best first: the region's own, then the language's.

    English outside North America descends from en-001 in the Unicode CLDR, and is spelled as in Britain.
    """
    region, bare = language.replace("-", "_"), language.partition("-")[0]
    if bare != "en":
        return region, bare
    return ("en_GB",) if region in get_global("parent_exceptions") or region == "en_001" else ("en_US",)


def _read(path: Path) -> gettext.GNUTranslations:
    compiled = BytesIO()
    with path.open("rb") as file:
        write_mo(compiled, read_po(file))
    compiled.seek(0)
    return gettext.GNUTranslations(compiled)
