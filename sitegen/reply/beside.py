"""What stands in a couple's message beside what their page wrote: a wish, or a line changed by hand.

The code alone says what was chosen. Whatever else was written is never read as a choice, and never lost: it
is shown, and kept with the reply, as their own words.
"""

import re
from collections.abc import Iterable, Iterator

from sitegen.choices.picks import Picks, usual_picks
from sitegen.choices.totals import totals
from sitegen.records.shown import Shown
from sitegen.render.changes import voice_of
from sitegen.reply.code import END, START
from sitegen.reply.notes import shown as inert

MOST = 2_000
_MOST_READ = 40_000
_LONGEST = 300
_CODE = re.compile(rf"{START}[1il].{{0,3000}}?(?:{END}\b|\n[ \t]*\n|\Z)", re.IGNORECASE | re.DOTALL)
_NOTE = re.compile(r"\[([1-9][0-9]{0,3}): .{0,3000}? :\1\]", re.DOTALL)
_QUOTED = re.compile(r"^[ \t]*(?:[>|][ \t]*)+", re.MULTILINE)
_SIGN = re.compile(r"\w")


def beside(text: str, own: Iterable[str]) -> str:
    """Give the lines of *text* that hold words beside a code, notes, and the page's *own* sentences; bounded.

    Case, punctuation, quoting and where lines are broken do not count. A changed line is given whole.
    """
    text = text[:_MOST_READ]
    if not any(map(_quoted, _code_lines(text))):
        # What they answer to stands quoted below: our own message.
        text = "\n".join(line for line in text.splitlines() if not _quoted(line))
    text = _QUOTED.sub("", _NOTE.sub("\n", _CODE.sub("\n", _QUOTED.sub("", text))))
    known = _known(text, own)
    lines, start = [], 0
    for line in text.split("\n"):
        signs = [start + found.start() for found in _SIGN.finditer(line)]
        if any(at not in known for at in signs):
            lines.append(inert(line, _LONGEST))
        start += len(line) + 1
    said = "\n".join(lines)
    return said if len(said) <= MOST else f"{said[: MOST - 1]}…"


def _quoted(line: str) -> bool:
    return bool(_QUOTED.match(line))


def _code_lines(text: str) -> Iterator[str]:
    return (line for line in text.splitlines() if re.search(f"{START}[1il]", line, re.IGNORECASE))


def _known(text: str, own: Iterable[str]) -> set[int]:
    """Where in *text* the letters and digits of its *own* sentences stand, the longest sentences first."""
    places = [found.start() for found in _SIGN.finditer(text)]
    stream = "".join(_plain(text[at]) for at in places)
    known: set[int] = set()
    for sentence in sorted({"".join(map(_plain, _SIGN.findall(one))) for one in own}, key=len, reverse=True):
        at = stream.find(sentence) if sentence else -1
        if at >= 0:
            known.update(places[at : at + len(sentence)])
            stream = stream[:at] + "\0" * len(sentence) + stream[at + len(sentence) :]
    return known


def _plain(sign: str) -> str:
    """One sign for one sign, whatever its case."""
    folded = sign.casefold()
    return folded if len(folded) == 1 else sign


def own_sentences(shown: Shown, picks: Picks, total: int) -> Iterator[str]:
    """Give what the page writes for *picks* of the proposal *shown*, at the *total* that it showed."""
    voice = voice_of(shown)
    _, money, usual = voice.words, voice.money, usual_picks(shown.table)
    yield f"{_('Our choices')}: {shown.names} · {shown.contact.studio}"
    before, after = totals(shown.table, usual), totals(shown.table, picks)
    for at, (pick, first) in enumerate(zip(picks.pieces, usual.pieces, strict=True)):
        said = []
        for choice, now, was in zip(shown.pieces[at].choices, pick.answers, first.answers, strict=True):
            if now != was:
                labels = choice.answers[now].label, choice.answers[was].label
                said.append(_("{now}, instead of {usual}", now=labels[0], usual=labels[1]))
        if pick.quantity != first.quantity:
            said.append(_("{now}, instead of {usual}", now=pick.quantity, usual=first.quantity))
        told = _("left out") if pick.out else "; ".join(said)
        moved = after.lines[at] - before.lines[at]
        yield f"{shown.pieces[at].title}: {told}" + (f" ({money.change(moved)})" if moved else "")
        yield shown.pieces[at].title
    for i in picks.charges:
        yield f"{shown.labels.charges[i]}: {_('added')} ({money.change(after.charges[i] or 0)})"
    yield _("Total: {price}", price=money.exact(total))
    yield from (
        _("Everything as you suggest."),
        _("Everything else as you suggest."),
        _("Our notes:"),
        _("Please leave this line in:"),
        _("The rest was copied and did not fit in here. Please paste it below:"),
        f"Subject: {_('Our choices')}",
    )
