"""The door to HiGHS: whole numbers in, whole numbers and a bound out. The only floats near money.

Nothing that comes out of here is believed: `solve` checks it again in whole numbers.
"""

import importlib
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum, auto
from fractions import Fraction
from functools import cache
from itertools import accumulate
from math import inf, isfinite
from typing import Any

_USUAL, _STRICT = 1e-6, 1e-9  # the library's own tolerance, and its least but one


class End(Enum):
    """How a run ended."""

    DONE = auto()
    IMPOSSIBLE = auto()
    STOPPED = auto()


@dataclass(frozen=True, slots=True)
class Task:
    """One program with one goal, all in whole numbers; rows are (terms, least, most).

    The search ends once its bound is within half of a unit of the goal: the
    goal is whole, so nothing better is left, with room for the solver's
    rounding. It stops at *nodes* and not at a time, so that a slow machine
    gives the same answer. *strict* takes what is nearly whole for whole less readily.
    """

    ranges: Sequence[tuple[int, int]]
    rows: Sequence[tuple[tuple[tuple[int, int], ...], int | None, int | None]]
    goal: tuple[tuple[int, int], ...]
    start: Sequence[int] | None
    nodes: int
    strict: bool


@dataclass(frozen=True, slots=True)
class Found:
    """What came back: values rounded to whole numbers, if any, and a bound that no answer is below."""

    end: End
    values: tuple[int, ...] | None
    bound: Fraction | None


@cache
def _library() -> Any:
    # Loaded by the first program that is really solved: it takes longer than a build with nothing to solve.
    return importlib.import_module("highspy")


def run(task: Task) -> Found:
    """Search *task* in one thread, always in the same way."""
    lib = _library()
    engine = _engine(lib, task)
    engine.passModel(_model(lib, task))
    if task.start is not None:
        known = lib.HighsSolution()
        known.col_value = [float(n) for n in task.start]
        engine.setSolution(known)
    engine.run()
    status, ends = engine.getModelStatus(), lib.HighsModelStatus
    if status == ends.kInfeasible:
        return Found(End.IMPOSSIBLE, None, None)
    info, columns = engine.getInfo(), engine.getSolution().col_value
    has_values = len(columns) == len(task.ranges) and all(isfinite(n) for n in columns)
    return Found(
        end=End.DONE if status == ends.kOptimal else End.STOPPED,
        values=tuple(round(n) for n in columns) if has_values else None,
        bound=Fraction(info.mip_dual_bound) if isfinite(info.mip_dual_bound) else None,
    )


def _engine(lib: Any, task: Task) -> Any:
    # The plain binding under the library's own class: that class prints a banner as it is made.
    engine = lib.Highs.__base__()
    for name, value in (
        ("output_flag", False),
        ("threads", 1),
        ("parallel", "off"),
        ("random_seed", 0),
        ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.5),
        ("mip_max_nodes", task.nodes),
        ("mip_feasibility_tolerance", _STRICT if task.strict else _USUAL),
    ):
        engine.setOptionValue(name, value)
    return engine


def _model(lib: Any, task: Task) -> Any:
    model = lib.HighsLp()
    model.num_col_, model.num_row_ = len(task.ranges), len(task.rows)
    costs = dict(task.goal)
    model.col_cost_ = [float(costs.get(i, 0)) for i in range(len(task.ranges))]
    model.col_lower_ = [float(low) for low, _ in task.ranges]
    model.col_upper_ = [float(high) for _, high in task.ranges]
    model.row_lower_ = [-inf if least is None else float(least) for _, least, _ in task.rows]
    model.row_upper_ = [inf if most is None else float(most) for _, _, most in task.rows]
    model.integrality_ = [lib.HighsVarType.kInteger] * len(task.ranges)
    matrix = model.a_matrix_
    matrix.format_ = lib.MatrixFormat.kRowwise
    matrix.start_ = [0, *accumulate(len(terms) for terms, _, _ in task.rows)]
    matrix.index_ = [i for terms, _, _ in task.rows for i, _ in terms]
    matrix.value_ = [float(count) for terms, _, _ in task.rows for _, count in terms]
    return model
