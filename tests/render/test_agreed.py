"""What both sides sign: the days it tells, the choices, the sums, and what may never stand there."""

import datetime as dt
from dataclasses import fields, replace
from typing import Any

from bs4 import BeautifulSoup

from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.table import table
from sitegen.choices.totals import totals
from sitegen.model.content import Words
from sitegen.price.event import price_event
from sitegen.price.priced import PricedEvent
from sitegen.render import couple_paper
from sitegen.render.agreed import Settled, agreed_view
from sitegen.render.couple_paper import AgreedPage
from sitegen.render.pages import paper_page
from sitegen.theme import SHIPPED, find_theme
from tests import make

TODAY = dt.date(2031, 5, 1)
AGREED = Settled(dt.date(2031, 2, 24), dt.date(2031, 3, 1), dt.date(2031, 3, 2))
PRIVATE = {"cost", "supplier", "margin", "markup", "private", "budget", "stock", "loss"}


def event_of(**more: Any) -> PricedEvent:
    stems = {"rose": make.stem("71.31", "10")}
    studio: dict[str, Any] = {
        "pricing": {"markup": {"fresh": "3"}, "round": {"to": "1.00", "how": "up"}},
        "charges": [{"id": "delivery", "label": "Delivery", "percent": "12%"}],
        "tax": {"rates": [{"label": "Sales tax", "rate": "8.25%"}]},
        "payments": [
            {"label": "Retainer", "percent": "30%", "due": "approval"},
            {"label": "Balance", "rest": "yes", "due": "21 days before"},
        ],
    }
    bouquets = {
        "piece": "Attendants' bouquets",
        "group": "Personal flowers",
        "quantity": "5",
        "recipe": {"rose": "2"},
        "second_place": {"place": "barn", "spot": "Head table"},
        "choices": [
            make.choice(
                "fullness", {"id": "shown", "label": "As shown"}, {"id": "fuller", "label": "Fuller"}
            ),
            make.choice(
                "maker", {"id": "we", "label": "We do"}, {"id": "you", "label": "You do", "made_by": "couple"}
            ),
        ],
    }
    crown = {"piece": "Crown", "group": "Personal flowers", "recipe": {"rose": "1"}, "optional": "yes"}
    bowl = {"piece": "Bowl", "group": "Tables", "recipe": {"rose": "4"}}
    places = [
        {"id": "garden", "name": "Walled garden", "use": "Ceremony", "starts": "15:30"},
        {"id": "barn", "name": "Long barn", "use": "Dinner", "starts": "18:00", "ends": "23:30"},
    ]
    folder = make.event(
        bouquets, crown, bowl, places=places, guests="84", changes_close="28 days before", **more
    )
    priced = price_event(make.shared(stems=stems, **studio), folder)
    shared = replace(priced.shared, terms=Words("## Ours\n\nThe law counts.", make.NOWHERE))
    return replace(priced, shared=shared)


def picks_of(event: PricedEvent) -> Picks:
    """Fuller bouquets that the couple make, and no crown."""
    usual = usual_picks(table(event))
    bouquets, crown, bowl = usual.pieces
    return replace(usual, pieces=(replace(bouquets, answers=(1, 1)), replace(crown, out=True), bowl))


def page_of(settled: Settled = AGREED, today: dt.date = TODAY, **more: Any) -> AgreedPage:
    event = event_of(**more)
    return agreed_view(event, picks_of(event), settled, today)


def html_of(page: AgreedPage) -> BeautifulSoup:
    theme, problems = find_theme("sheets", SHIPPED)
    assert theme is not None, problems
    return BeautifulSoup(paper_page("agreed.html", page, theme), "html.parser")


def plain(text: str) -> str:
    return text.replace("\u202f", " ").replace("\N{NO-BREAK SPACE}", " ")


def test_it_tells_when_and_from_what_it_was_agreed() -> None:
    page = page_of()
    assert page.title == "What we make for you"
    assert page.lead == (
        "Ada and Ben. Agreed on March 2, 2031 from your reply of March 1, 2031 to our proposal of February 24, 2031."
    )
    assert page.date == "Saturday, June 14, 2031"
    assert plain(page.places) == "Walled garden, Ceremony: 3:30 PM · Long barn, Dinner: 6:00 PM to 11:30 PM"
    assert page.guests == ("Guests", "84")
    assert "our proposal of" not in str(page.frame.foot)
    assert "Our proposal of February 24" in str(page.frame.foot).replace("\\2c ", ",")


def test_what_was_agreed_by_hand_tells_of_no_reply() -> None:
    page = page_of(replace(AGREED, replied=None))
    assert page.lead == "Ada and Ben. Agreed on March 2, 2031, to our proposal of February 24, 2031."


def test_pieces_stand_as_they_were_chosen_and_none_that_was_left_out() -> None:
    # Roses cost 7.131: two come to 42.786 at three times that, so 43; four to 85.572, so 86.
    rows = [
        (row.piece, row.chosen, row.quantity, row.each, row.in_all)
        for g in page_of().groups
        for row in g.pieces
    ]
    assert rows == [
        ("Attendants' bouquets", "Fuller · You do · Made by you", "5", "43.00", "215.00"),
        ("Bowl", "As we suggest", "1", "86.00", "86.00"),
    ]
    assert [group.title for group in page_of().groups] == ["Personal flowers", "Tables"]
    assert page_of().groups[0].pieces[0].moves == "then moves: Head table, Long barn"


def test_sums_and_payments_are_those_of_the_proposal() -> None:
    # 301.00, 12 % of it 36.12; 8.25 % of 337.12 is 27.8124, so 27.81; in all 364.93; 30 % of it is 109.479.
    page = page_of()
    assert [(row.label, row.detail, row.amount) for row in page.sums] == [
        ("All pieces", "", "301.00"),
        ("Delivery", "12% of the pieces", "36.12"),
        ("Sales tax", "8.25% of 337.12", "27.81"),
    ]
    assert page.total == "$364.93"
    assert [(row.label, row.amount) for row in page.payments] == [
        ("Retainer, 30%", "109.48"),
        ("Balance", "255.45"),
    ]
    event = event_of()
    assert totals(table(event), picks_of(event)).total == 36493


def test_money_that_came_in_is_told() -> None:
    page = page_of(paid=[{"date": "2031-03-02", "amount": "109.48"}])
    assert [(row.label, row.detail, row.amount) for row in page.payments] == [
        ("Received", "March 2, 2031", "109.48"),
        ("Balance", "by May 24, 2031", "255.45"),
        ("Still due", "", "255.45"),
    ]


def test_both_sides_sign_and_the_terms_are_there() -> None:
    assert page_of().signs == (
        "For the couple: name, signature, date",
        "For the couple: name, signature, date",
        "Test Studio: name, signature, date",
    )
    named = page_of(signers=["Ada Ash", "Ben Lund"])
    assert named.signs[:2] == ("Ada Ash: signature, date", "Ben Lund: signature, date")
    soup = html_of(page_of())
    assert "The law counts." in soup.select_one(".terms").get_text()  # type: ignore[union-attr]  # it is there


def test_counts_are_open_until_their_day_and_fixed_after_it() -> None:
    open_, fixed = page_of(today=dt.date(2031, 5, 17)).fixed, page_of(today=dt.date(2031, 5, 18)).fixed
    assert open_.startswith("Counts and choices can change until May 17, 2031.")
    assert fixed.startswith("Counts and choices are fixed since May 17, 2031.")
    assert fixed.endswith("What binds you and us stands in the written terms and in local law.")


def test_a_draft_has_nothing_to_sign() -> None:
    page = page_of(Settled(dt.date(2031, 2, 24)))
    assert page.title == "What we would make for you"
    assert page.lead == "Ada and Ben. Our proposal of February 24, 2031, at the choices we suggest."
    assert page.signs == ()
    soup = html_of(page)
    assert "DRAFT. This has not been approved. There is nothing to sign yet." in soup.get_text(
        " ", strip=True
    )
    assert "DRAFT" not in html_of(page_of()).get_text()


def test_what_was_never_sent_names_no_proposal() -> None:
    page = page_of(Settled())
    assert page.lead == "Ada and Ben. At the choices we suggest."
    assert "Not sent yet" in str(page.frame.foot)


def test_no_type_of_the_couple_s_paper_can_hold_what_is_private() -> None:
    types = [one for one in vars(couple_paper).values() if hasattr(one, "__dataclass_fields__")]
    names = {field.name for one in types for field in fields(one)}
    assert len(types) > 5
    assert not {name for name in names if any(word in name for word in PRIVATE)}


def test_what_authors_write_reaches_the_page_as_text() -> None:
    evil = '</style></title><script>alert(1)</script>"\\'
    event = event_of()
    folder = event.folder
    told = folder.event.model_copy(update={"for_": evil, "signers": (evil,)})
    pieces = tuple(
        replace(one, file=replace(one.file, piece=one.file.piece.model_copy(update={"piece": evil})))
        for one in event.pieces
    )
    event = replace(event, folder=replace(folder, event=told), pieces=pieces)
    soup = html_of(agreed_view(event, picks_of(event), AGREED, TODAY))
    assert soup.find("script") is None
    assert len(soup.find_all("style")) == 1
    assert soup.get_text().count("alert(1)") >= 4


def test_every_word_is_in_the_couple_s_language() -> None:
    event = event_of(paid=[{"date": "2031-03-02", "amount": "109.48"}])
    shared = replace(event.shared, studio=event.shared.studio.model_copy(update={"language": "de-DE"}))
    soup = html_of(agreed_view(replace(event, shared=shared), picks_of(event), AGREED, TODAY))
    text = soup.get_text(" ")
    assert "Was wir für euch machen" in text
    assert "Noch zu zahlen" in text
    for word in ("Still due", "Received", "How many", "Guests", "signature", "Our terms", "As we suggest"):
        assert word not in text


def test_it_names_another_count_what_is_not_made_and_the_couples_own_words() -> None:
    event = event_of()
    usual = picks_of(event)
    bouquets, crown, bowl = usual.pieces
    picks = replace(usual, pieces=(replace(bouquets, answers=(0, 0), quantity=8), crown, bowl))
    noted = replace(AGREED, notes=(("Bowl", "Low, <b>please</b>"), ("", "Thank you")))
    page = agreed_view(event, picks, noted, TODAY)
    (first, *_), (tables, *_) = (group.pieces for group in page.groups)
    assert (first.chosen, tables.chosen) == ("8, instead of 5", "As we suggest")
    assert page.without == "Not made, as agreed: Crown"
    said = html_of(page)
    assert [plain(note.get_text()) for note in said.select("p.theirs")] == [
        "Bowl: Low, <b>please</b>",
        "On all of it: Thank you",
    ]
    with_answer = replace(picks, pieces=(replace(picks.pieces[0], answers=(1, 0)), crown, bowl))
    (group, *_) = agreed_view(event, with_answer, AGREED, TODAY).groups
    assert group.pieces[0].chosen == "Fuller · We do · 8, instead of 5"
    assert not html_of(agreed_view(event, with_answer, AGREED, TODAY)).select("p.theirs")
