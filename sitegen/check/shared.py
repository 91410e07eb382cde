"""The shared files: studio.md, and the catalogue in stems, goods, suppliers and stock."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeVar

from babel import Locale, UnknownLocaleError

from sitegen.check import catalogue
from sitegen.check.prose import check_words
from sitegen.check.shape import shape
from sitegen.check.starter_words import of_document
from sitegen.load.front import Document, split
from sitegen.load.nodes import read
from sitegen.load.tree import File, Tree, source_of
from sitegen.model.catalogue import Good, InHand, Stem, Supplier
from sitegen.model.content import Nodes, Shared, Words
from sitegen.model.fields import Shape
from sitegen.model.terms import Studio
from sitegen.values.many import most
from sitegen.values.money import DIGITS, Currency
from sitegen.values.nearest import nearest
from sitegen.values.node import ABSENT, Map, place_at
from sitegen.values.problem import Problem, has_errors, whole_file

S = TypeVar("S", bound=Shape)
_LETTERS = 3  # of a currency, ISO 4217

# Languages whose words the couple's page has; others get English, with a warning.
PAGE_LANGUAGES = ("de", "en", "es", "fr")


@dataclass(frozen=True, slots=True)
class SharedFound:
    """What could be read of the shared files; *sound* says whether it may be built."""

    shared: Shared | None
    problems: list[Problem]

    @property
    def sound(self) -> bool:
        return self.shared is not None and not has_errors(self.problems)


def check_shared(tree: Tree) -> SharedFound:
    """Read and check the files that all events share."""
    if not tree.shared and not tree.events:
        return SharedFound(None, [*tree.problems, *(() if has_errors(tree.problems) else (_empty(tree),))])
    studio, document, problems = _studio(tree)
    stems, stem_node, some = _records(tree, "stems.yaml", Stem)
    goods, good_node, more = _records(tree, "goods.yaml", Good)
    suppliers, supplier_node, rest = _records(tree, "suppliers.yaml", Supplier)
    stock, stock_node, last = _records(tree, "stock.yaml", InHand, needed=False)
    problems = [*tree.problems, *problems, *some, *more, *rest, *last]
    if not (studio and document and stem_node and good_node and supplier_node):
        return SharedFound(None, problems)
    currency = Currency(studio.currency, DIGITS.get(studio.currency, 2))
    words = Words(document.body.strip(), document.body_place)
    nodes = Nodes(document.front, stem_node, good_node, supplier_node)
    shared = Shared(studio, currency, words, stems, goods, suppliers, stock, nodes)
    problems += catalogue.across(shared, stock_node)
    return SharedFound(shared, problems)


def _empty(tree: Tree) -> Problem:
    return Problem(
        "content-empty",
        whole_file(tree.shown),
        "this content folder is empty",
        "There is no studio and no event to build from.",
        'run "sitegen new 2027-06-12-fern-hollow", with a day and a name of yours, for a commented starter',
    )


def _lacking(tree: Tree, name: str) -> list[Problem]:
    path = f"{tree.shown}/{name}"
    if any(problem.place.source.path == path and problem.severity == "error" for problem in tree.problems):
        return []  # it is there, and was refused
    what = f"there is no {name}"
    why = "Every event is priced with the studio's terms and its lists of stems, goods and suppliers."
    fix = f"write {name}, or copy the one that sitegen new makes in an empty folder"
    return [Problem("file-missing", whole_file(path), what, why, fix)]


def _studio(tree: Tree) -> tuple[Studio | None, Document | None, list[Problem]]:
    file = tree.shared.get("studio.md")
    if file is None:
        return None, None, _lacking(tree, "studio.md")
    document, problems = document_of(file)
    if document is None:
        return None, None, problems
    studio, more = shape(Studio, document.front)
    problems = [*problems, *more, *check_words(document), *of_document(document, "studio.md")]
    if studio is not None:
        front = document.front
        problems += [] if more and studio.currency == ABSENT else _currency(studio, front)
        problems += [] if more and studio.language == ABSENT else _language(studio, front)
    return studio, document, problems


def document_of(file: File) -> tuple[Document | None, list[Problem]]:
    """Decode a Markdown file and split it."""
    source, problems = source_of(file)
    if source is None:
        return None, problems
    return split(source)


def _records(
    tree: Tree, name: str, kind: type[S], *, needed: bool = True
) -> tuple[dict[str, S], Map | None, list[Problem]]:
    """Read a file that holds many records by short name; one that fails does not hide the others."""
    file = tree.shared.get(name)
    if file is None:
        return {}, None, _lacking(tree, name) if needed else []
    source, problems = source_of(file)
    if source is None:
        return {}, None, problems
    node, problems = read(source)
    if node is None:
        return {}, None, problems
    found: dict[str, S] = {}

    def records() -> Iterator[Problem]:
        for key in node.entries:
            record, more = shape(kind, node, (key,))
            yield from (*more, *_short_name(key, node))
            if record is not None:
                found[key] = record

    return found, node, [*problems, *most(records())]


def _short_name(key: str, node: Map) -> list[Problem]:
    if key and all(char.isalnum() or char in "-_." for char in key) and key[0].isalnum() and len(key) <= 64:
        return []
    what = "this cannot be a short name"
    why = "Recipes call stems and goods by it."
    fix = "use letters, digits and hyphens, a letter first"
    return [Problem("value-unreadable", place_at(node, (key,), key=True), what, why, fix)]


def _currency(studio: Studio, node: Map) -> list[Problem]:
    if studio.currency in DIGITS:
        return []
    code = studio.currency.strip().upper()
    near = next((known for known in DIGITS if sorted(known) == sorted(code)), None)
    # Only a code can be mistyped as another; of a word, nobody knows whose dollars are meant.
    near = near or (nearest(code, DIGITS) if len(code) == _LETTERS else None)
    what = f'"{studio.currency}" is not a currency of ISO 4217'
    why = "Every amount is rounded to the currency's smallest unit."
    fix = f'write "{near}"' if near else "write its three letters, such as USD, EUR or JPY"
    return [Problem("currency-unknown", place_at(node, ("currency",)), what, why, fix)]


def _language(studio: Studio, node: Map) -> list[Problem]:
    place = place_at(node, ("language",))
    try:
        locale = Locale.parse(studio.language, sep="-")
    except (UnknownLocaleError, ValueError):
        what = f'"{studio.language}" is not a language that is known'
        why = "Dates and amounts are printed as this language writes them."
        return [
            Problem("language-unknown", place, what, why, "write en-US, en-GB, es, fr or de, for example")
        ]
    if locale.language in PAGE_LANGUAGES:
        return []
    what = f"the couple's page has no words in {locale.english_name} yet"
    why = "Dates and amounts follow the language; headings and buttons will be English."
    fix = "write en-US, en-GB, es, fr or de, or leave it so"
    return [Problem("language-words", place, what, why, fix, "warning")]
