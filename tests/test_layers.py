"""The shape of the code: who may import whom, one door for each library, sizes, and what must not appear.

The order of the layers is the map in DEVELOPERS.md: a file imports only from files above it.
"""

import ast
from collections.abc import Iterator
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "sitegen"

# From the top down: a layer imports from itself and from those before it.
LAYERS = (
    "values",
    "model",
    "load",
    "pictures",
    "check",
    "price",
    "choices",
    "solve",
    "varied",
    "order",
    "fit",
    "records",
    "theme",
    "render",
    "report",
    "start",
    "seal",
    "reply",
    "publish",
    "reply",
    "build",
    "preview",
    "cli",
    "__main__",
)

# Third-party libraries, and the only files that may import them.
DOORS = {
    "yaml": ("load/nodes.py",),
    "PIL": ("pictures/",),
    "pydantic": (
        "model/",
        "check/shape.py",
        "check/many.py",
        "check/partial.py",
        "check/schemas.py",
        "theme.py",
    ),
    "pydantic_core": (
        "build/pages.py",
        "model/fields.py",
        "check/shape.py",
        "check/many.py",
        "check/partial.py",
    ),
    "coloraide": ("check/colour.py",),
    "babel": ("check/shared.py", "check/clocks.py", "render/"),
    "jinja2": ("render/pages.py",),
    "markdown": ("render/prose.py",),
    "nh3": ("render/prose.py",),
    "livereload": ("preview/",),
    "tornado": ("preview/",),
    "rcssmin": ("theme.py",),
    "rjsmin": ("render/scripts.py",),
    "filelock": ("build/lock.py", "publish/", "records/append.py"),
    "cryptography": ("seal/",),
    "paramiko": ("publish/sftp.py",),
    "boto3": ("publish/s3.py",),
    "botocore": ("publish/s3.py",),
    "bs4": ("reply/mail.py",),
    "rich": ("cli/progress.py", "cli/carrying.py"),
    "segno": ("cli/qr.py",),
    "highspy": ("solve/engine.py",),
    "numpy": ("pictures/sketch/",),
}

FLOATS_ALLOWED = (
    "pictures/",
    "check/colour.py",
    "render/palette.py",
    "render/grounds.py",
    "preview/",
    "values/nearest.py",
    "solve/engine.py",
)
CHANCE = {"seal/keys.py"}  # new keys: the only use of randomness
CLOCKS = {"cli/main.py", "preview/serve.py"}
MOST_LINES = 300
MOST_IN_FUNCTION = 50

FILES = sorted(PACKAGE.rglob("*.py"))
TESTS = Path(__file__).parent


def shown(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def imports(tree: ast.Module) -> Iterator[tuple[str, ast.stmt]]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node) for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            names = [f"{node.module}.{alias.name}" for alias in node.names]
            yield from ((name, node) for name in (names if node.module == "sitegen" else [node.module]))


def loaded_late(tree: ast.Module) -> Iterator[str]:
    """Modules that are loaded by name: `import_module("…")`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func).endswith("import_module"):
            (name,) = node.args
            assert isinstance(name, ast.Constant), f"line {node.lineno} loads what no test can name"
            yield str(name.value)


def layer(name: str) -> str:
    return name.split(".")[1] if name.count(".") else "root"


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_imports_point_up(path: Path) -> None:
    own = shown(path).split("/")[0].removesuffix(".py")
    if own == "__init__":
        return
    for name, node in imports(tree_of(path)):
        if name.startswith("sitegen"):
            other = layer(name)
            if other in {"root", "__version__"}:
                assert own == "cli", f"line {node.lineno} imports the package root"
            else:
                assert LAYERS.index(other) <= LAYERS.index(own), f"line {node.lineno}: {own} imports {other}"


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_each_library_has_one_door(path: Path) -> None:
    tree = tree_of(path)
    for name in (*(name for name, _ in imports(tree)), *loaded_late(tree)):
        doors = DOORS.get(name.split(".")[0])
        if doors:
            assert shown(path).startswith(doors), f"imports {name}"


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_imports_stand_at_the_top_but_in_the_command_line(path: Path) -> None:
    if shown(path).startswith("cli/"):
        return
    top = set(tree_of(path).body)
    late = [node.lineno for _, node in imports(tree_of(path)) if node.col_offset]
    assert not late, f"imports inside functions on lines {late}"
    assert top


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_no_float_near_money_or_stems(path: Path) -> None:
    if shown(path).startswith(FLOATS_ALLOWED):
        return
    found = [
        node.lineno
        for node in ast.walk(tree_of(path))
        if (isinstance(node, ast.Constant) and isinstance(node.value, float))
        or (isinstance(node, ast.Name) and node.id == "float")
    ]
    allowed = {"build/", "cli/"}
    if not any(shown(path).startswith(place) for place in allowed):
        assert not found, f"floats on lines {found}"


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_no_assert_print_clock_or_chance(path: Path) -> None:
    text = path.read_text("utf-8")
    tree = ast.parse(text)
    assert not [node.lineno for node in ast.walk(tree) if isinstance(node, ast.Assert)]
    calls = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    assert not [
        call.lineno for call in calls if isinstance(call, ast.Name) and call.id in {"print", "eval", "exec"}
    ]
    names = {name.split(".")[0] for name, _ in imports(tree)}
    if shown(path) not in CHANCE:
        assert not names & {"random", "secrets", "uuid"}
    if shown(path) not in CLOCKS:
        assert "time" not in names
        assert not [
            call
            for call in calls
            if isinstance(call, ast.Attribute) and call.attr in {"now", "today", "utcnow"}
        ]


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_files_and_functions_stay_small(path: Path) -> None:
    assert path.read_text("utf-8").count("\n") <= MOST_LINES
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef):
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            assert length <= MOST_IN_FUNCTION, f"{node.name} has {length} lines"


def test_no_import_cycles() -> None:
    graph = {
        "sitegen." + shown(path).removesuffix(".py").removesuffix("/__init__").replace("/", "."): {
            name for name, _ in imports(tree_of(path)) if name.startswith("sitegen.")
        }
        for path in FILES
    }
    done: set[str] = set()

    def walk(module: str, trail: tuple[str, ...]) -> None:
        assert module not in trail, " -> ".join((*trail, module))
        if module in done:
            return
        for other in graph.get(module, ()):
            walk(other, (*trail, module))
        done.add(module)

    for module in graph:
        walk(module, ())


def test_every_folder_of_tests_is_looked_into(pytestconfig: pytest.Config) -> None:
    """By default folders of some names, `build` among them, are passed over."""
    passed_over = pytestconfig.getini("norecursedirs")
    for path in sorted(TESTS.rglob("test_*.py")):
        for folder in path.relative_to(TESTS).parts[:-1]:
            assert not [pattern for pattern in passed_over if fnmatch(folder, pattern)], path


def test_one_browser_serves_all_tests() -> None:
    """A second one costs seconds, and its library refuses to be started twice: ask for the fixture `browser`."""
    starting = [
        path.name
        for path in sorted(TESTS.rglob("*.py"))
        if any(name.startswith("playwright") for name, _ in imports(tree_of(path)))
        and "with sync_playwright" in path.read_text("utf-8")
    ]
    assert starting == ["conftest.py"]
