"""The key store and its backup: nothing is lost, overwritten unseen, shown, or readable by others."""

import datetime as dt
import json
import os
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitegen.seal.backup import Verdict, arrivals, packed, take_in, unpacked
from sitegen.seal.cover import Stretch
from sitegen.seal.failure import Failure
from sitegen.seal.keys import (
    Secrets,
    choose_link,
    keys_of,
    new_secrets,
    new_stretch,
    renewed,
    view_link,
    with_phrase,
)
from sitegen.seal.link import address, fragment
from sitegen.seal.phrase import FOR_A_BACKUP, FOR_A_COUPLE, bits, normal, words
from sitegen.seal.plain import from_plain, to_plain
from sitegen.seal.redact import redact
from sitegen.seal.saved import back_up, last_backup, not_backed_up, note_backup
from sitegen.seal.store import (
    KeyFault,
    KeyTrouble,
    Store,
    add,
    events,
    exchange,
    find,
    find_or_make,
    open_to_others,
)

JUNE = "2027-06-12-fern-hollow"


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / ".sitegen" / "keys")


@pytest.fixture(scope="module")
def guarded() -> Secrets:
    return with_phrase(new_secrets())


def trouble(found: Secrets | KeyFault | None) -> KeyTrouble | None:
    return found.trouble if isinstance(found, KeyFault) else None


# --- secrets


def test_secrets_are_new_each_time() -> None:
    made = {(own.pid, own.choose) for own in (new_secrets() for _ in range(50))}
    assert len(made) == 50
    assert all(len(pid) == len(choose) == 16 for pid, choose in made)


def test_renewing_changes_folder_and_link_and_remembers_the_folder(guarded: Secrets) -> None:
    again = renewed(renewed(guarded))
    assert again.renewals == 2
    assert again.former[0] == guarded.pid
    assert len({guarded.pid, *again.former, again.pid}) == 3
    assert again.choose != guarded.choose
    assert again.phrase == guarded.phrase
    assert keys_of(again).siv != keys_of(guarded).siv


def test_a_phrase_is_generated(guarded: Secrets) -> None:
    phrase = guarded.phrase
    assert phrase is not None
    assert len(phrase.words.split()) == FOR_A_COUPLE
    assert set(phrase.words.split()) <= set(words())
    assert len(phrase.stretch.salt) == 16
    assert phrase.stretch.rounds == 600_000


def test_the_word_list() -> None:
    # 2,048 words make 11 bits each; what makes a word easy to say and read is common practice, no source.
    found = words()
    assert len(found) >= 2048
    assert list(found) == sorted(set(found))
    assert all(re.fullmatch("[a-z]{3,7}", word) for word in found)
    assert not [(a, b) for a, b in pairwise(found) if b.startswith(a)]
    assert bits(FOR_A_COUPLE) == 46
    assert bits(FOR_A_BACKUP) == 70


@given(st.text(max_size=60))
def test_a_phrase_is_written_in_one_way(phrase: str) -> None:
    once = normal(phrase)
    assert normal(f" {once}\u00a0\n") == once
    assert "  " not in once
    assert once == once.strip()


def test_composed_and_taken_apart_letters_are_one() -> None:
    assert normal("Café\u2003ÉTÉ") == normal("cafe\u0301 e\u0301te\u0301") == "café été"


def test_nothing_shows_a_secret(guarded: Secrets) -> None:
    shown = f"{guarded!r} {guarded!s} {guarded.phrase!r} {choose_link(guarded)!r}"
    assert guarded.phrase is not None
    for secret in (guarded.choose, guarded.phrase.key):
        assert secret.hex() not in shown
        assert repr(secret)[2:-1] not in shown
    assert guarded.phrase.words not in shown


# --- the store


def test_a_key_is_made_once(store: Store) -> None:
    assert trouble(find(store, JUNE)) is KeyTrouble.MISSING
    own = find_or_make(store, JUNE)
    assert isinstance(own, Secrets)
    assert find_or_make(store, JUNE) == own
    assert find(store, JUNE) == own
    assert events(store) == (JUNE,)


def test_files_are_for_their_owner_alone(store: Store) -> None:
    before = os.umask(0)
    try:
        find_or_make(store, JUNE)
    finally:
        os.umask(before)
    assert store.folder.stat().st_mode & 0o777 == 0o700
    assert store.path(JUNE).stat().st_mode & 0o777 == 0o600
    assert open_to_others(store) == ()
    store.path(JUNE).chmod(0o640)
    assert open_to_others(store) == (store.path(JUNE),)
    store.folder.chmod(0o755)
    assert open_to_others(store) == (store.folder, store.path(JUNE))


def test_secrets_go_to_plain_data_and_back(guarded: Secrets) -> None:
    own = renewed(guarded)
    assert from_plain(json.loads(json.dumps(to_plain(own)))) == own


def test_every_damaged_file_is_found_and_left_alone(store: Store, guarded: Secrets) -> None:
    add(store, JUNE, guarded)
    path = store.path(JUNE)
    whole = path.read_bytes()
    blank = re.compile(rb"\s*")
    for at in range(len(whole)):
        for changed in (whole[:at], whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :]):
            if blank.sub(b"", changed) == blank.sub(b"", whole):
                continue
            path.write_bytes(changed)
            assert trouble(find_or_make(store, JUNE)) in {KeyTrouble.DAMAGED, KeyTrouble.NEWER}
            assert path.read_bytes() == changed


@pytest.mark.parametrize("content", [b"", b"[]", b"null", b"\xff\xfe", b"[" * 100_000, b'{"sum": 1}'])
def test_any_other_file_is_damaged(store: Store, content: bytes) -> None:
    store.folder.mkdir(parents=True)
    store.path(JUNE).write_bytes(content)
    assert trouble(find(store, JUNE)) is KeyTrouble.DAMAGED


def test_a_later_version_s_file_is_told_apart(store: Store) -> None:
    store.folder.mkdir(parents=True)
    store.path(JUNE).write_text(json.dumps({"format": 2}))
    assert trouble(find(store, JUNE)) is KeyTrouble.NEWER


def test_a_file_that_cannot_be_read(store: Store) -> None:
    store.path(JUNE).mkdir(parents=True)
    assert trouble(find_or_make(store, JUNE)) is KeyTrouble.UNREADABLE


def test_the_first_key_stays(store: Store) -> None:
    first, second = new_secrets(), new_secrets()
    assert add(store, JUNE, first) is None
    assert trouble(add(store, JUNE, second)) is KeyTrouble.CHANGED
    assert find(store, JUNE) == first


def test_a_disk_without_links(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(1, "no links here")

    monkeypatch.setattr(os, "link", refuse)
    first = new_secrets()
    assert add(store, JUNE, first) is None
    assert trouble(add(store, JUNE, new_secrets())) is KeyTrouble.CHANGED
    assert find(store, JUNE) == first


def test_only_what_was_read_is_exchanged(store: Store) -> None:
    first = new_secrets()
    add(store, JUNE, first)
    second = renewed(first)
    assert exchange(store, JUNE, first, second) is None
    assert find(store, JUNE) == second
    assert trouble(exchange(store, JUNE, first, new_secrets())) is KeyTrouble.CHANGED
    assert find(store, JUNE) == second
    assert trouble(exchange(store, "other", first, second)) is KeyTrouble.MISSING


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failing_disk_leaves_the_old_key_and_no_rest(
    store: Store, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    first = new_secrets()
    add(store, JUNE, first)

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os if step == "fsync" else Path, step, refuse)
    with pytest.raises(OSError, match="No space"):
        exchange(store, JUNE, first, renewed(first))
    monkeypatch.undo()
    assert find(store, JUNE) == first
    assert [path.name for path in store.folder.iterdir()] == [f"{JUNE}.json"]


@pytest.mark.parametrize("name", ["", ".hidden", "../up", "a/b", "a\\b", "a\0b"])
def test_a_name_cannot_leave_the_folder(store: Store, name: str) -> None:
    with pytest.raises(ValueError, match="name of a folder"):
        find(store, name)


# --- backup


def test_a_backup_is_taken_in_elsewhere(store: Store, tmp_path: Path, guarded: Secrets) -> None:
    add(store, JUNE, guarded)
    other = find_or_make(store, "other")
    backup = back_up(store)
    assert len(backup.phrase.split()) == FOR_A_BACKUP
    keys = unpacked(backup.data, backup.phrase.upper())
    assert keys == {JUNE: guarded, "other": other}
    elsewhere = Store(tmp_path / "elsewhere")
    found = arrivals(elsewhere, keys)
    assert {one.verdict for one in found} == {Verdict.NEW}
    assert take_in(elsewhere, found) == ()
    assert find(elsewhere, JUNE) == guarded
    assert {one.verdict for one in arrivals(elsewhere, keys)} == {Verdict.SAME}


def test_a_backup_shows_nothing(store: Store, guarded: Secrets) -> None:
    add(store, JUNE, guarded)
    backup = back_up(store)
    assert backup.phrase not in repr(backup)
    for hidden in (JUNE.encode(), guarded.choose, guarded.choose.hex().encode(), backup.phrase.encode()):
        assert hidden not in backup.data
    assert len(backup.data) == 8 + 20 + 4096 + 16 + 4


def test_two_backups_have_nothing_in_common(store: Store) -> None:
    find_or_make(store, JUNE)
    first, second = back_up(store), back_up(store)
    assert first.phrase != second.phrase
    assert first.data[8:24] != second.data[8:24]


def test_why_a_backup_does_not_open(guarded: Secrets) -> None:
    stretch = new_stretch()
    data = packed({JUNE: guarded}, "amber owl", stretch)
    assert unpacked(data, " AMBER  owl ") == {JUNE: guarded}
    assert unpacked(data, "amber wren") is Failure.WRONG_PHRASE
    assert unpacked(data, "") is Failure.NO_PHRASE
    assert unpacked(b"PK" + data, "amber owl") is Failure.FOREIGN
    for changed in (
        data[:-1],
        data[:20],
        data[:8],
        data + b"\0",
        data[:50] + bytes([data[50] ^ 1]) + data[51:],
    ):
        assert unpacked(changed, "amber owl") is Failure.DAMAGED


def test_a_backup_with_few_rounds_is_refused(guarded: Secrets) -> None:
    with pytest.raises(TypeError):
        packed({JUNE: guarded}, "amber", Stretch(bytes(16), 1000))


def test_a_backup_overwrites_nothing_newer(store: Store, tmp_path: Path) -> None:
    names = ("same", "later", "earlier", "other", "mends", "new")
    old = {name: new_secrets() for name in names}
    for name in names[:-1]:
        add(store, name, old[name])
    incoming = {**old, "later": renewed(old["later"]), "other": new_secrets()}
    here = renewed(old["earlier"])
    exchange(store, "earlier", old["earlier"], here)
    store.path("mends").write_bytes(b"{")
    found = arrivals(store, incoming)
    assert {one.event: one.verdict for one in found} == {name: Verdict(name) for name in names}

    assert take_in(store, found) == ()
    assert find(store, "earlier") == here
    assert find(store, "other") == old["other"]
    for name in ("new", "later", "mends", "same"):
        assert find(store, name) == incoming[name]
    assert store.path("mends").with_name("mends.json.before").read_bytes() == b"{"
    kept = json.loads(store.path("later").with_name("later.json.before").read_bytes())
    assert from_plain(kept) == old["later"]
    store.path("later").write_bytes(b"{")
    assert take_in(store, arrivals(store, incoming)) == ()
    assert store.path("later").with_name("later.json.before-2").read_bytes() == b"{"
    assert (
        from_plain(json.loads(store.path("later").with_name("later.json.before").read_bytes()))
        == old["later"]
    )

    assert take_in(store, found, also=("earlier", "other"))[0].trouble is KeyTrouble.CHANGED
    again = arrivals(store, incoming)
    assert take_in(store, again, also=("earlier", "other")) == ()
    assert find(store, "earlier") == old["earlier"]
    assert find(store, "other") == incoming["other"]
    assert open_to_others(store) == ()
    assert tmp_path in store.folder.parents


def test_a_hostile_backup_cannot_leave_the_folder(guarded: Secrets) -> None:
    data = packed({"../../evil": guarded, JUNE: guarded}, "amber owl", new_stretch())
    assert unpacked(data, "amber owl") == {JUNE: guarded}


def test_when_keys_were_last_backed_up(store: Store) -> None:
    own = find_or_make(store, JUNE)
    assert isinstance(own, Secrets)
    assert last_backup(store) is None
    assert not_backed_up(store) == (JUNE,)
    note_backup(store, back_up(store), dt.date(2027, 1, 2))
    last = last_backup(store)
    assert last is not None
    assert last.on == dt.date(2027, 1, 2)
    assert not_backed_up(store) == ()
    assert events(store) == (JUNE,)
    exchange(store, JUNE, own, renewed(own))
    find_or_make(store, "other")
    assert not_backed_up(store) == (JUNE, "other")
    note = store.folder / ".backed-up.json"
    assert own.choose.hex() not in note.read_text()
    note.write_text("{")
    assert last_backup(store) is None


def test_a_key_that_cannot_be_read_is_named_in_the_backup(store: Store) -> None:
    find_or_make(store, "good")
    find_or_make(store, "bad")
    store.path("bad").write_bytes(b"")
    backup = back_up(store)
    assert list(backup.keys) == ["good"]
    assert [(fault.event, fault.trouble) for fault in backup.faults] == [("bad", KeyTrouble.DAMAGED)]


# --- keys in other texts


def test_every_form_of_a_link_is_hidden(guarded: Secrets) -> None:
    for link in (choose_link(guarded), view_link(guarded)):
        whole, key = address("https://host.example", link), fragment(link)
        for text in (
            whole,
            whole.upper(),
            whole.replace("#", "%23"),
            whole.replace("#", "%2523"),
            whole[:-9],
            key,
            f'GET /?u="{whole}" 404',
        ):
            hidden = redact(text)
            assert "…" in hidden
            assert key[6:20] not in hidden.lower()
            assert hidden.startswith(text[:3]) or text == key


def test_known_secrets_are_hidden_in_any_form(guarded: Secrets) -> None:
    phrase = guarded.phrase
    assert phrase is not None
    text = f"no host {guarded.choose.hex()} {phrase.words.upper()} {phrase.key.hex()} end"
    assert redact(text, [guarded]) == "no host … … … end"


@pytest.mark.parametrize(
    "text",
    [
        "palette #c1a2b3, #c12 and #vine",
        "https://host.example/810m4gt48n34ej29995mrkae9w/ answered 404",
        "c1 of 32 pieces",
        "sha256 9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
    ],
)
def test_other_texts_stay(text: str) -> None:
    assert redact(text) == text


def test_phrase_and_link_of_another_event_are_not_touched(guarded: Secrets) -> None:
    assert redact("amber canoe", [replace(guarded, phrase=None)]) == "amber canoe"
