"""Whether a figure of a filling finds room in a square of one half-size, beside the stamp or at all."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints import rulebook
from constraints.brief import limits
from constraints.check import check
from constraints.fillings import GROUNDS, OF_KIND
from constraints.formula import FALSE, Linear, linear
from constraints.lattice import BoolArray, IntArray
from constraints.rules.grounds import ground_pinholes
from constraints.rules.match import match
from constraints.solver import Answer, Solver, Status
from constraints.variables import Model
from explore.bench import Bench
from explore.budget.frontier import Room
from explore.finish import finish
from explore.job import Fault
from explore.laying.laid import Laid

# Deterministic time for each question; and so many places of the stamp are asked of.
_EFFORT, _PLACES = 0.4, 2
_RULE = "room"


def figures_of(stitches: Sequence[str]) -> tuple[str, ...]:
    """The figures and the grounds of the allowed fillings, by name."""
    return tuple(kind for kind, filling in OF_KIND.items() if filling.name in stitches)


def room(bench: Bench, figure: str, laid: Sequence[Laid]) -> Room:
    """Whether a square that keeps all of the brief holds the figure. laid: usable, the most telling first.

    Every answer but "not found" is certain: a square was found and stands the second check, or the solver has
    proven that there is none.
    """
    wanted = _wanted(bench.model, figure)
    if not len(wanted.variables):
        return Room.IMPOSSIBLE  # no place of the grid is large enough
    for each in laid[:_PLACES]:
        if _beside(bench, figure, each):
            return Room.FOUND
    answer = _solved(bench.model, wanted, np.zeros(bench.model.formula.size, dtype=bool), bench.brief.effort)
    if answer.values is not None:
        _stands(bench, bench.model, answer.values)
        return Room.FOUND if bench.stamp is None else Room.ALONE
    return Room.IMPOSSIBLE if answer.status is Status.IMPOSSIBLE else Room.NOT_FOUND


def _wanted(model: Model, figure: str) -> Linear:
    """At least one of the figure, as a constraint."""
    literals: IntArray = ground_pinholes(model, figure) if figure in GROUNDS else model.sites[figure].chosen
    literals = literals[literals != FALSE]
    return linear(_RULE, literals, np.ones(len(literals), dtype=np.int64), 1, max(1, len(literals)))


def _beside(bench: Bench, figure: str, laid: Laid) -> bool:
    """Whether the solver finds the figure in a square that shows the stamp as well as the brief asks."""
    assert laid.blocking is not None
    model = rulebook.build(bench.piece, bench.brief)  # a new one, since the match becomes part of it
    wanted = _wanted(model, figure)
    model.formula.linears.append(match(model, laid.target, bench.brief.least_match))
    hint = np.zeros(model.formula.size, dtype=bool)
    literal = next(iter(model.stitch.values()))[laid.blocking.block]
    hint[literal[literal > 0]] = True
    answer = _solved(model, wanted, model.formula.complete(hint), bench.brief.effort, prove=False)
    if answer.values is None:
        return False
    _stands(bench, model, answer.values)
    return True


def _solved(model: Model, wanted: Linear, hint: BoolArray, effort: float, prove: bool = True) -> Answer:
    answer = Solver(model.formula).solve(hint, _EFFORT * effort, wanted)
    if answer.status is not Status.NOT_FOUND or not prove:
        return answer
    model.formula.linears.append(wanted)
    answer = Solver(model.formula).prove(_EFFORT * effort)
    model.formula.linears.remove(wanted)
    return answer


def _stands(bench: Bench, model: Model, values: BoolArray) -> None:
    """Raises Fault if the second check refuses what the model allowed."""
    design = finish(
        model,
        values,
        pitch_mm=bench.size.pitch_mm,
        pairs=bench.size.pairs,
        stamp=None,
        brief=limits(bench.brief),
        composition="",
    )
    findings = check(design)
    if findings:
        raise Fault(f"half-size {bench.size.half_size}: {findings[0]}")
