"""The codes of all problems that the package can report, found in its source."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "sitegen"
CODE = re.compile(r"[a-z]+(-[a-z0-9]+)+")
_Call = ast.FunctionDef | ast.AsyncFunctionDef


def codes() -> set[str]:
    """Every text that is handed on as a problem's code: to `Problem`, or to a function that takes a `code`."""
    modules = [ast.parse(path.read_text(encoding="utf-8")) for path in sorted(PACKAGE.rglob("*.py"))]
    makers = {"Problem": 0} | {name: at for module in modules for name, at in _makers(module)}
    return {code for module in modules for code in _codes(module, makers)}


def _makers(module: ast.Module) -> Iterator[tuple[str, int]]:
    for found in ast.walk(module):
        if isinstance(found, _Call):
            names = [argument.arg for argument in found.args.args if argument.arg != "self"]
            if "code" in names:
                yield found.name, names.index("code")


def _codes(module: ast.Module, makers: dict[str, int]) -> Iterator[str]:
    for found in ast.walk(module):
        if isinstance(found, ast.Call) and _name(found.func) in makers:
            at = makers[_name(found.func)]
            given = [*found.args[at : at + 1], *(word.value for word in found.keywords if word.arg == "code")]
            yield from (code for one in given for code in _texts(one) if CODE.fullmatch(code))
        elif isinstance(found, ast.Assign) and [_name(target) for target in found.targets] == ["code"]:
            yield from _texts(found.value)


def _name(node: ast.expr) -> str:
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""


def _texts(node: ast.expr) -> Iterator[str]:
    """A text, either of two texts, or the texts of a table."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_texts(node.body), *_texts(node.orelse))
    elif isinstance(node, ast.Dict):
        yield from (text for value in node.values for text in _texts(value))
