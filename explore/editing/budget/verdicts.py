"""Whether a figure of a filling finds room in pieces of one size, beside the stamps or at all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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
from explore.search.workshop import Ground, LaidPrints

# Deterministic time for each question; and so many places of the stamps are asked of.
_EFFORT, _PLACES = 0.4, 2
_RULE = "room"


def figures_of(stitches: Sequence[str]) -> tuple[str, ...]:
    """The figures and the grounds of the allowed fillings, by name."""
    return tuple(kind for kind, filling in OF_KIND.items() if filling.name in stitches)


def verdict(grounds: Mapping[int, Ground], figure: str, laid: Sequence[LaidPrints], stamped: bool) -> Verdict:
    """Whether a piece that keeps all of the brief holds the figure. grounds: all that it allows, by number. laid:
    usable, the best first. stamped: whether there are stamps to show.

    Every answer but "not found" is certain: a piece was found and stands the second check, or the solver has proven
    that there is none.
    """
    for each in laid[:_PLACES]:
        ground = grounds[each.number]
        holding = _holding(ground.context.allowing(sum(one.splits for one in each.prints)), figure)
        if len(_figure(holding.model, figure)) and _beside(ground, holding, each):
            return Verdict.FOUND
    alone = Verdict.ALONE if stamped else Verdict.FOUND
    # A piece of any symmetry is one of no symmetry.
    every = list(grounds.values())
    least = [each for each in every if each.context.piece.symmetry == "none"] or every
    answers = []
    # The roomiest first: what is found in one of them need not be asked of the others.
    for ground in sorted(least, key=lambda each: -len(each.context.piece)):
        answers.append(_alone(ground, figure, alone))
        if answers[-1] is alone:
            break
    return max(answers)


def _holding(own: Context, figure: str) -> Context:
    return Context(own.form, own.worked, own.symmetry, own.rules, (_Holding(figure),))


def _alone(ground: Ground, figure: str, found: Verdict) -> Verdict:
    """Whether there is such a piece without the stamps; `found` if there is."""
    holding = _holding(ground.context, figure)
    if not len(_figure(holding.model, figure)):
        return Verdict.IMPOSSIBLE  # no place of the grid is large enough
    effort = _EFFORT * ground.brief.run.effort
    values, status = holding.settled(np.zeros(holding.model.formula.size, dtype=np.bool_), effort)
    if values is None and status == Status.NOT_FOUND.value:
        answer = holding.solver.prove(effort)
        values, status = answer.values, answer.status.value
    if values is not None:
        made(holding, values, (), _making(ground))
        return found
    return Verdict.IMPOSSIBLE if status == Status.IMPOSSIBLE.value else Verdict.NOT_FOUND


@dataclass(frozen=True)
class _Holding:
    """The rule that a piece holds at least one of a figure."""

    figure: str

    def __call__(self, model: Model) -> None:
        literals = _figure(model, self.figure)
        model.formula.linear(_RULE, literals, np.ones(len(literals), dtype=np.int64), 1, max(1, len(literals)))


def _figure(model: Model, figure: str) -> IntArray:
    """The literals of which one is true where there is the figure."""
    literals: IntArray = ground_pinholes(model, figure) if figure in GROUNDS else model.sites[figure].chosen
    found: IntArray = literals[literals != FALSE]
    return found


def _beside(ground: Ground, holding: Context, laid: LaidPrints) -> bool:
    """Whether the solver finds the figure in a piece that shows the stamps as well as the brief asks."""
    model = holding.model
    hint = np.zeros(model.formula.size, dtype=np.bool_)
    for each in laid.prints:
        assert each.blocking is not None
        set_true(hint, next(iter(model.stitch.values()))[each.blocking.block])
    found, _ = attempt(holding, hint, laid.prints, _making(ground), _EFFORT * ground.brief.run.effort)
    return found is not None


def _making(ground: Ground) -> Making:
    brief, form = ground.brief, ground.context.form
    return Making(ground.pitch_mm, brief.piece.passives, brief.run.seed, "", f"room in {form}")
