"""Every text that a couple reads is there in every language, with the same gaps to fill in.

The texts are found in the code by Babel's own extractors, so that a new one that no catalogue has fails here.
"""

import re
from functools import lru_cache
from pathlib import Path
from string import Formatter

import pytest
from babel.core import Locale
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.pofile import read_po
from babel.plural import PluralRule, to_gettext

from sitegen.check.shared import PAGE_LANGUAGES
from sitegen.render.palette import COLOURS
from sitegen.render.voice import florist_voice, voice_for
from sitegen.render.words import CATALOGUES, words_for
from sitegen.values.money import Currency

ROOT = Path(__file__).parents[2]
# The florist's own pages and sheets are in English.
HERS = re.compile(
    r"sitegen/(cli|build|publish|preview)/|render/(desk|order|compare|label)|themes/(desk|sheets|labels)/"
)
CALLS = {"_": None, "words": None, "counted": (1, 2), "plural": (1, 2), "forms": (1, 2)}
TRANSLATED = ("de", "es", "fr")

Text = str | tuple[str, ...]
Said = str | tuple[str, ...] | list[str] | None  # as Babel's messages hold it


def extracted(path: Path) -> list[Text]:
    method = "python" if path.suffix == ".py" else "jinja2.ext:babel_extract"
    options = {} if path.suffix == ".py" else {"trimmed": "true"}
    found = extract_from_file(method, str(path), CALLS, (), options)
    return [text for _, text, _, _ in found if text]


@lru_cache
def texts(*, hers: bool) -> tuple[Text, ...]:
    files = sorted([*(ROOT / "sitegen").rglob("*.py"), *(ROOT / "themes").rglob("*.html")])
    chosen = [path for path in files if bool(HERS.search(path.as_posix())) is hers]
    colours = () if hers else tuple(COLOURS)
    return tuple(dict.fromkeys((*(text for path in chosen for text in extracted(path)), *colours)))


@lru_cache
def catalogue(name: str) -> Catalog:
    with (CATALOGUES / f"{name}.po").open("rb") as file:
        return read_po(file)


def gaps(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name}


def forms(text: Said) -> tuple[str, ...]:
    return (text,) if isinstance(text, str) else tuple(text or ())


def test_the_texts_are_found() -> None:
    assert "Your choices" in texts(hers=False)
    assert ("{n} piece", "{n} pieces") in texts(hers=False)
    assert any("out and back" in text for text in texts(hers=True) if isinstance(text, str))


@pytest.mark.parametrize("name", TRANSLATED)
def test_a_couple_reads_every_text_in_their_language(name: str) -> None:
    known = catalogue(name)
    missing = []
    for text in texts(hers=False):
        message = known.get(text if isinstance(text, str) else text[0])
        said = forms(message.string if message else None)
        if len(said) != len(forms(text)) or not all(said):
            missing.append(text)
    assert missing == []


@pytest.mark.parametrize("name", [*TRANSLATED, "en_GB", "en_US"])
def test_a_translation_fills_the_same_gaps(name: str) -> None:
    known = catalogue(name)
    for message in known:
        for text, said in zip(forms(message.id), forms(message.string), strict=True) if message.id else ():
            assert gaps(said) - {"n"} == gaps(text) - {"n"}, said
    used = {forms(text)[0] for hers in (True, False) for text in texts(hers=hers)}
    assert {forms(message.id)[0] for message in known if message.id} <= used, "translated, but said nowhere"


@pytest.mark.parametrize("name", TRANSLATED)
def test_counted_texts_choose_as_the_unicode_plural_rules_do(name: str) -> None:
    """Source: plural rules of the Unicode CLDR, as Babel carries them."""
    rule: PluralRule = Locale.parse(name).plural_form
    choose = words_for(name).plural
    for n in range(1001):
        told = choose("{n} stem", "{n} stems", n)
        assert (told == choose("{n} stem", "{n} stems", 1).replace("1", str(n))) is (rule(n) == "one"), n
    assert to_gettext(rule)  # Babel knows the rule that the catalogue's head writes by hand


@pytest.mark.parametrize(
    ("language", "never"),
    [
        ("en-US", r"colour|grey|\bhire|labour|buttonhole|favour|centre"),
        ("en-CA", r"\bbuttonhole"),
        ("en-GB", r"color\b|colors\b|gray|rental|labor\b|boutonniere|favor\b"),
        ("en-AU", r"color\b|colors\b|gray|rental|labor\b|boutonniere|favor\b"),
    ],
)
def test_english_is_spelled_as_its_region_does(language: str, never: str) -> None:
    """Common practice without a source, but for which regions follow Britain: en-001 of the Unicode CLDR."""
    words = words_for(language)
    for text in (*texts(hers=True), *texts(hers=False)):
        said = words.forms(*text) if isinstance(text, tuple) else (words.catalogue.gettext(text),)
        assert not [one for one in said if re.search(never, one, re.IGNORECASE)]


def test_check_knows_the_languages_that_there_are() -> None:
    assert {path.stem.partition("_")[0] for path in CATALOGUES.glob("*.po")} == set(PAGE_LANGUAGES)


def test_a_region_without_words_of_its_own_reads_its_language() -> None:
    assert words_for("fr-CA")("Your choices") == "Vos choix"
    assert words_for("pt-BR")("Your choices") == "Your choices"


def test_the_florist_reads_english_with_her_own_days_and_amounts() -> None:
    euro = Currency("EUR", 2)
    hers, theirs = florist_voice("de-DE", euro), voice_for("de-DE", euro)
    assert hers.words("Your choices") == "Your choices"
    assert theirs.words("Your choices") == "Eure Auswahl"
    assert hers.money.exact(123456) == theirs.money.exact(123456) == "1.234,56\N{NO-BREAK SPACE}€"
