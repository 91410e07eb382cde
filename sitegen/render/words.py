"""The words of the page, by language.

The English text is its own key; a language without a catalogue is English.
"""

import gettext
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

_CATALOGUES = Path(__file__).parent / "locales"


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
    """Give the words of a language tag such as `en-US`."""
    tags = [language.replace("-", "_"), language.partition("-")[0]]
    return Words(gettext.translation("sitegen", str(_CATALOGUES), tags, fallback=True))
