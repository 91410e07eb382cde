"""The calendar file against RFC 5545 (rfc-editor.org/rfc/rfc5545) and the library icalendar, which reads it back."""

import datetime as dt
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from sitegen.render.ical import Entry, calendar, escaped, folded

TODAY = dt.date(2026, 11, 25)
# What a content file may hold: no control characters but the line break, and no half of a surrogate pair.
TEXT = st.text(st.characters(exclude_categories=("Cc", "Cs"), include_characters="\n"), max_size=200)


def at(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text)


def test_the_text_of_the_standard_is_escaped_as_it_prints_it() -> None:
    # RFC 5545, 3.3.11, the example of the value type TEXT.
    told = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    assert escaped(told) == r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    # 3.3.11: "backslash … SEMICOLON … COMMA … MUST be escaped"; 3.8.1.6 prints this LOCATION.
    assert escaped("Conference Room - F123, Bldg. 002") == r"Conference Room - F123\, Bldg. 002"
    assert escaped("\\;,") == r"\\\;\,"


def test_a_line_is_folded_in_octets_and_no_letter_is_cut() -> None:
    # RFC 5545, 3.1: at most 75 octets without the line break; a fold is CRLF and one space. Counted by hand: 43 letters
    # of two octets and 38 of one are 124, and the 38th of the first does not fit into the 75th octet.
    line = "é" * 43 + "a" * 38
    assert [len(part.encode()) for part in folded(line)] == [74, 51]
    assert list(folded("a" * 75)) == ["a" * 75]
    assert [len(part) for part in folded("a" * 76)] == [75, 2]


def test_a_long_line_unfolds_as_in_the_standard() -> None:
    # RFC 5545, 3.1: the example's description, made long enough to be folded.
    line = "DESCRIPTION:" + "This is a long description that exists on a long line. " * 4
    parts = list(folded(line))
    assert len(parts) > 1
    assert all(part.startswith(" ") for part in parts[1:])
    assert "".join(part[1:] if i else part for i, part in enumerate(parts)) == line


@given(TEXT, TEXT, TEXT)
def test_whatever_is_written_is_read_back(summary: str, location: str, description: str) -> None:
    entry = Entry(
        "a.b@sitegen", at("2027-06-19T10:30"), summary, at("2027-06-19T11:00"), location, description
    )
    text = calendar("A day", [entry], TODAY, settled=True)
    assert all(len(line) <= 75 for line in text.encode().split(b"\r\n"))
    (event,) = Calendar.from_ical(text.encode()).walk("VEVENT")
    for name, told in (("SUMMARY", summary), ("LOCATION", location), ("DESCRIPTION", description)):
        assert str(event.get(name, "")) == told


def read(*entries: Entry, settled: bool = False) -> list[Any]:
    return list(
        Calendar.from_ical(calendar("A day", entries, TODAY, settled=settled).encode()).walk("VEVENT")
    )


def test_what_the_standard_asks_of_every_entry() -> None:
    # RFC 5545, 3.6.1: UID and DTSTAMP must occur; 3.8.7.2: DTSTAMP in UTC; 3.6: VERSION and PRODID.
    text = calendar("A day", [Entry("a@sitegen", dt.date(2027, 6, 19), "Bench")], TODAY, settled=False)
    whole = Calendar.from_ical(text)
    assert (str(whole["VERSION"]), bool(whole["PRODID"])) == ("2.0", True)
    event: Any
    (event,) = whole.walk("VEVENT")
    assert (str(event["UID"]), event["DTSTAMP"].dt) == ("a@sitegen", dt.datetime(2026, 11, 25, tzinfo=dt.UTC))
    assert "DTSTAMP:20261125T000000Z\r\n" in text


def test_a_whole_day_ends_on_the_first_day_after() -> None:
    # RFC 5545, 3.6.1: DTEND is "the non-inclusive end of the event".
    (event,) = read(Entry("a@sitegen", dt.date(2027, 12, 31), "Bench"))
    assert (event["DTSTART"].dt, event["DTEND"].dt) == (dt.date(2027, 12, 31), dt.date(2028, 1, 1))
    assert str(event["TRANSP"]) == "TRANSPARENT"


def test_moments_are_floating_and_may_pass_midnight() -> None:
    # RFC 5545, 3.3.5, form 1: local time, neither Z nor TZID.
    (event,) = read(
        Entry("a@sitegen", at("2027-06-19T23:30"), "Strike", at("2027-06-20T00:45")), settled=True
    )
    assert (event["DTSTART"].dt, event["DTEND"].dt) == (at("2027-06-19T23:30"), at("2027-06-20T00:45"))
    assert event["DTSTART"].dt.tzinfo is None
    assert str(event["STATUS"]) == "CONFIRMED"
    (point,) = read(Entry("a@sitegen", at("2027-06-19T23:30"), "Hand over", at("2027-06-19T23:30")))
    assert ("DTEND" in point, str(point["STATUS"])) == (False, "TENTATIVE")
