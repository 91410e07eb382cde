"""What stands in a message beside what the page wrote: kept, bounded, inert, and found in no time."""

import time

import pytest

from sitegen.reply.beside import MOST, beside

OWN = ("Low bowls: Lush, instead of Full (+$31)", "Low bowls", "Total: $515.46", "Everything as you suggest.")
CODE = "TRUG1-165B3-RHVR9-BUD"


@pytest.mark.parametrize(
    ("text", "left"),
    [
        (f"- Low bowls: Lush, instead of Full (+$31)\nTotal: $515.46\n{CODE}", ""),
        (f"- low bowls: Lush instead\nof “Full” (+$31)\nTOTAL $515.46\n\n{CODE}", ""),
        (f"Everything as you suggest.\n[2: No lilies :2]\n{CODE}", ""),
        (f"Hello!\n{CODE}\nNoor", "Hello!\nNoor"),
        (f"Total: $400\n{CODE}", "Total: $400"),
        (f"Low bowls\nLow bowls in blue\n{CODE}", "Low bowls in blue"),
        (f"> Hello!\n> {CODE}", "Hello!"),
        (f"Hello!\n{CODE}\n> your own words", "Hello!"),
        (f"\u202eevil\x1b[31m\n{CODE}", "evil\ufffd[31m"),
    ],
)
def test_words_beside_a_reply_are_told_from_the_pages_own(text: str, left: str) -> None:
    assert beside(text, OWN) == left


@pytest.mark.parametrize("part", ["TRUG1-", "[1: ", "TRUG1\n \t", "> ", "a b ", "\u202ea\x00"])
def test_long_hostile_words_are_bounded_and_take_no_time(part: str) -> None:
    before = time.process_time()
    assert len(beside(part * 2_000_000, OWN * 20)) <= MOST
    assert time.process_time() - before < 5
