"""`sitegen why`: the lines of a price, each figure with its place."""

import re

from sitegen.build.event import work_out
from sitegen.build.quick import NoSuchEvent, Survey, one_of
from sitegen.check.shared import check_shared
from sitegen.cli.exits import CONTENT, DONE, USAGE, Stop, say, say_json
from sitegen.pictures.memo import Memo
from sitegen.price.priced import PricedEvent, PricedPiece
from sitegen.price.why import why
from sitegen.price.why_line import Figure, Line, money_text
from sitegen.report import finding, plain, whole
from sitegen.values.nearest import nearest
from sitegen.values.problem import Problem, in_order


def explain(found: Survey, event: str, piece: str, answers: list[str], *, as_json: bool) -> int:
    """Print how the price of *piece* comes about at the usual answers, or at *answers* (`choice=answer`)."""
    checked = check_shared(found.tree)
    worked, problems = work_out(found.files(event), checked, found.settings.today, Memo())
    if worked is None:
        return _refused([*checked.problems, *problems], as_json=as_json)
    priced = worked.content
    chosen = one_of(_bare(piece), [one.id for one in priced.pieces], "piece")
    one = next(one for one in priced.pieces if one.id == chosen)
    lines = why(priced, one, one.at(_picked(one, answers)))
    if as_json:
        say_json(_as_json(priced, one, lines))
    else:
        say(_text(priced, one, lines))
    return DONE


def _bare(piece: str) -> str:
    """A piece by the name of its file is as good as by its id."""
    return re.sub(r"^\d+-(?=\w)", "", piece.removesuffix(".md").rpartition("/")[2])


def _refused(problems: list[Problem], *, as_json: bool) -> int:
    errors = [problem for problem in in_order(problems) if problem.severity == "error"]
    told = [finding(problem) for problem in errors]
    if as_json:
        say_json({"ok": False, "problems": plain(told)})
    say(whole(told, "There is no price to explain yet."), error=True)
    return CONTENT


def _picked(piece: PricedPiece, answers: list[str]) -> tuple[int, ...]:
    """The usual answers, but for those named."""
    picked = {choice.id: choice.usual for choice in piece.file.piece.choices}
    for text in answers:
        name, _, answer = text.partition("=")
        choice = next((choice for choice in piece.file.piece.choices if choice.id == name), None)
        if choice is None:
            asked = ", ".join(picked) or "nothing"
            raise NoSuchEvent(f'"{name}" is not asked of this piece; it asks {asked}')
        ids = [one.id for one in choice.answers]
        if answer not in ids:
            near = nearest(answer, ids)
            hint = f'did you mean "{near}"?' if near else f"they are {', '.join(ids)}"
            raise Stop(f'"{answer}" is no answer to {name}; {hint}', USAGE)
        picked[name] = ids.index(answer)
    return tuple(picked.values())


def _text(priced: PricedEvent, piece: PricedPiece, lines: tuple[Line, ...]) -> str:
    """One line a step, amounts under each other, then the places of its figures."""
    money = priced.shared.currency
    amounts = [money_text(line.amount, money) for line in lines]
    width = max(len(amount) for amount in amounts)
    out = [f"{piece.file.piece.piece}, {priced.folder.id}, one piece, in {money.code}", ""]
    for line, amount in zip(lines, amounts, strict=True):
        out.append(f"{amount:>{width}}  {line.name}" + (f" = {line.sum}" if line.factors else ""))
        out += [f"{'':{width}}      {_figure(figure)}" for figure in (*line.factors, *line.notes)]
    return "\n".join(out)


def _figure(figure: Figure) -> str:
    return f"{figure.text} {figure.what}" + (f"  {figure.place}" if figure.place else "")


def _as_json(priced: PricedEvent, piece: PricedPiece, lines: tuple[Line, ...]) -> dict[str, object]:
    money = priced.shared.currency
    return {
        "event": priced.folder.id,
        "piece": piece.id,
        "currency": money.code,
        "lines": [
            {
                "name": line.name,
                "amount": money_text(line.amount, money),
                "factors": [_plain(figure) for figure in line.factors],
                "notes": [_plain(figure) for figure in line.notes],
            }
            for line in lines
        ],
    }


def _plain(figure: Figure) -> dict[str, str | None]:
    return {"text": figure.text, "what": figure.what, "place": str(figure.place) if figure.place else None}
