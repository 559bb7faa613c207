"""Whether a figure of a filling finds room in a square of one half-size, beside the stamp or at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.encoding import set_true
from constraints.fillings import GROUNDS, OF_KIND
from constraints.formula import FALSE
from constraints.lattice import IntArray
from constraints.rules.grounds import ground_pinholes
from constraints.solver import Status
from constraints.variables import Model
from explore.editing.budget.frontier import Verdict
from explore.search.attempt import Making, attempt, made
from explore.search.context import Context
from explore.search.laying.laid import PlaceLaid
from explore.search.squares.placing import Placing
from explore.search.squares.suited import LaidThere

# Deterministic time for each question; and so many places of the stamp are asked of.
_EFFORT, _PLACES = 0.4, 2
_RULE = "room"


def figures_of(stitches: Sequence[str]) -> tuple[str, ...]:
    """The figures and the grounds of the allowed fillings, by name."""
    return tuple(kind for kind, filling in OF_KIND.items() if filling.name in stitches)


def verdict(placings: Sequence[Placing], figure: str, laid: Sequence[LaidThere]) -> Verdict:
    """Whether a square that keeps all of the brief holds the figure. placings: one for each symmetry that it allows.
    laid: usable, the best first.

    Every answer but "not found" is certain: a square was found and stands the second check, or the solver has
    proven that there is none.
    """
    for each in laid[:_PLACES]:
        placing = placings[each.number]
        own = placing.context.allowing(each.laid.splits)
        holding = _holding(own, figure)
        if len(_figure(holding.model, figure)) and _beside(placing, holding, each.laid):
            return Verdict.FOUND
    # A square of any symmetry is one of no symmetry.
    least = [each for each in placings if each.brief.piece.symmetry == "none"] or placings
    return max(_alone(each, figure) for each in least)


def _holding(own: Context, figure: str) -> Context:
    return Context(own.form, own.worked, own.symmetry, own.rules, (_Holding(figure),))


def _alone(placing: Placing, figure: str) -> Verdict:
    """Whether there is such a square without the stamp."""
    holding = _holding(placing.context, figure)
    if not len(_figure(holding.model, figure)):
        return Verdict.IMPOSSIBLE  # no place of the grid is large enough
    effort = _EFFORT * placing.brief.run.effort
    values, status = holding.settled(np.zeros(holding.model.formula.size, dtype=np.bool_), effort)
    if values is None and status == Status.NOT_FOUND.value:
        answer = holding.solver.prove(effort)
        values, status = answer.values, answer.status.value
    if values is not None:
        made(holding, values, (), _making(placing))
        return Verdict.FOUND if placing.stamp is None else Verdict.ALONE
    return Verdict.IMPOSSIBLE if status == Status.IMPOSSIBLE.value else Verdict.NOT_FOUND


@dataclass(frozen=True)
class _Holding:
    """The rule that a square holds at least one of a figure."""

    figure: str

    def __call__(self, model: Model) -> None:
        literals = _figure(model, self.figure)
        model.formula.linear(_RULE, literals, np.ones(len(literals), dtype=np.int64), 1, max(1, len(literals)))


def _figure(model: Model, figure: str) -> IntArray:
    """The literals of which one is true where there is the figure."""
    literals: IntArray = ground_pinholes(model, figure) if figure in GROUNDS else model.sites[figure].chosen
    found: IntArray = literals[literals != FALSE]
    return found


def _beside(placing: Placing, holding: Context, laid: PlaceLaid) -> bool:
    """Whether the solver finds the figure in a square that shows the stamp as well as the brief asks."""
    assert laid.blocking is not None
    model = holding.model
    hint = np.zeros(model.formula.size, dtype=np.bool_)
    set_true(hint, next(iter(model.stitch.values()))[laid.blocking.block])
    found, _ = attempt(holding, hint, (laid,), _making(placing), _EFFORT * placing.brief.run.effort)
    return found is not None


def _making(placing: Placing) -> Making:
    size, brief = placing.size, placing.brief
    return Making(size.pitch_mm, brief.piece.passives, brief.run.seed, "", f"half-size {size.half_size}")
