"""The couple's page as HTML: every part there, every text inert, nothing from elsewhere."""

import dataclasses
import re

import pytest
from bs4 import BeautifulSoup, Tag
from jinja2 import UndefinedError
from markupsafe import Markup

from sitegen.render import couple, couple_piece, grounds, pages
from sitegen.render.couple import CouplePage
from sitegen.render.data import safe_json
from sitegen.render.photos import carried
from sitegen.render.proposal import couple_view
from sitegen.render.scripts import choosing_script
from tests import make
from tests.render import sample

HOSTILE = "</script></style><script>alert(1)</script><!--\"'{{ 7*7 }}"


def soup(html: str) -> BeautifulSoup:
    return BeautifulSoup(html, "html.parser")


def one(found: BeautifulSoup | Tag, selector: str) -> Tag:
    tag = found.select_one(selector)
    assert tag is not None, selector
    return tag


def test_the_parts_stand_in_reading_order() -> None:
    page = soup(sample.page())
    order = [
        "a.skip",
        "header.opening",
        "nav",
        "#note",
        "#colours",
        "#part-1",
        "#part-2",
        "#day",
        "#estimate",
    ]
    order += ["#choices", "#terms", "footer", "section.bar"]
    places = [str(page).index(str(one(page, selector))) for selector in order]
    assert places == sorted(places)
    for link in page.select("a[href^='#']"):
        assert page.find(id=str(link["href"])[1:]), link["href"]


def test_a_piece_shows_pictures_then_words_then_choices_then_stems() -> None:
    article = one(soup(sample.page()), "#piece-1")
    order = [".pictures", "h3", ".price", "fieldset", ".count", "details", ".cautions", "aside.moves"]
    places = [str(article).index(str(one(article, selector))) for selector in order]
    assert places == sorted(places)
    assert one(article, "aside .where").text == "Head table, Long barn"


def test_a_piece_without_a_photo_has_no_empty_frame() -> None:
    article = one(soup(sample.page()), "#piece-3")
    assert not article.select("figure, picture, img, .pictures")


def test_pictures_have_size_words_and_wait_until_they_are_near() -> None:
    images = soup(sample.page()).select("img")
    assert len(images) == 4
    for image in images:
        assert image["alt"]
        assert int(str(image["width"])) > 0
        assert int(str(image["height"])) > 0
    assert [image.get("loading") for image in images] == [None, "lazy", "lazy", "lazy"]
    sources = soup(sample.page()).select("source")
    assert all(source["type"] == "image/webp" and "1200w" in str(source["srcset"]) for source in sources)


def test_one_file_carries_its_pictures_and_asks_for_nothing() -> None:
    photos = dataclasses.replace(sample.photos(), show=carried(lambda one: one.name.encode()))
    page = soup(pages.couple_page(couple_view(sample.priced(), photos), sample.theme()))
    assert all(str(image["src"]).startswith("data:image/webp;base64,") for image in page.select("img"))
    assert not page.select("source, link, script[src], figure a")


def test_every_label_and_legend_has_its_control() -> None:
    page = soup(sample.page())
    for label in page.select("label"):
        assert label.find("input") or page.find(id=str(label.get("for")))
    assert len(page.select("input[type=radio][checked]")) == 3
    ids = [str(tag["id"]) for tag in page.select("[id]")]
    assert len(ids) == len(set(ids))


def test_nothing_runs_or_is_styled_inside_the_markup() -> None:
    page = soup(sample.page())
    for tag in page.select("*"):
        assert not [name for name in tag.attrs if name.startswith("on") or name == "style"]
    assert [tag.get("type") for tag in page.select("script")] == ["application/json", "module"]


def test_one_sentence_says_that_flowers_are_a_crop() -> None:
    assert "Flowers are a crop" in one(soup(sample.page()), "#note").text


def test_texts_with_markup_in_every_field_stay_texts() -> None:
    piece = sample.BOUQUETS | {
        "piece": HOSTILE,
        "group": HOSTILE,
        "wearers": [HOSTILE],
        "cautions": [HOSTILE],
        "photos": [{"file": "a.jpg", "alt": HOSTILE, "credit": HOSTILE}],
        "choices": [
            make.choice("q", {"id": "a", "label": HOSTILE}, {"id": "b", "label": HOSTILE}) | {"ask": HOSTILE}
        ],
        "second_place": {"place": "barn", "spot": HOSTILE, "from": "16:30"},
    }
    studio = {
        "studio": HOSTILE,
        "contact": dict.fromkeys(("name", "email", "phone", "web"), HOSTILE),
        "charges": [{"id": "c", "label": HOSTILE, "amount": "5", "optional": "yes"}],
        "tax": {"rates": [{"label": HOSTILE, "rate": "5%"}]},
        "payments": [{"label": HOSTILE, "rest": "yes", "due": "</script>"}],
        "discount": {"label": HOSTILE, "amount": "1"},
    }
    places = [{"id": "barn", "name": HOSTILE, "use": HOSTILE, "starts": "15:00"}]
    html = sample.page(piece, studio=studio, places=places, note=HOSTILE, **{"for": HOSTILE})
    page = soup(html)
    plain = soup(sample.page())
    assert len(page.select("script, style")) == len(plain.select("script, style"))
    assert "49" not in one(page, "h1").text
    assert "alert(1)" in one(page, "h1").text
    assert html.count("</script") == 2
    assert "<!--" not in html


def test_data_cannot_end_the_script_it_stands_in() -> None:
    said = safe_json({"a": "</script><!-- & \u2028"})
    assert not set(said) & set("<>&\u2028")


def test_the_joined_script_is_one_module_without_imports() -> None:
    script = choosing_script()
    assert not re.search(r"^\s*(import|export)\b", script, re.MULTILINE)
    assert "</script" not in script
    names = re.findall(r"^(?:const|let|function) (\w+)", script, re.MULTILINE)
    assert len(names) == len(set(names))


def test_a_template_that_asks_for_an_unknown_name_fails(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("templates")
    (folder / "note.html").write_text("{{ page.cost }}", encoding="utf-8")
    theme = sample.theme()
    broken = dataclasses.replace(theme, templates=(folder, *theme.templates))
    with pytest.raises(UndefinedError):
        pages.couple_page(sample.view(), broken)


def test_a_view_holds_finished_text_alone() -> None:
    """Counts for an input and sizes of pictures are numbers; all else is text, so nothing is left to ask."""
    plain = {"str", "bool", "int", "Markup"}
    modules = (couple, couple_piece, grounds)
    views = {name for module in modules for name in vars(module) if name[0].isupper()}
    for module in modules:
        for view in vars(module).values():
            if dataclasses.is_dataclass(view):
                for field in dataclasses.fields(view):
                    said = re.sub(r"\w+\.|<class '|'>", "", str(field.type))
                    named = set(re.findall(r"\w+", said))
                    assert named <= plain | views | {"tuple", "None", "NoneType"}, (view, field.name)
    assert "cost" not in {field.name for field in dataclasses.fields(CouplePage)}
    assert isinstance(sample.view().terms, Markup)


def test_the_same_event_gives_the_same_bytes() -> None:
    assert sample.page() == sample.page()
