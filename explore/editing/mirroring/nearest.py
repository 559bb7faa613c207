"""The solver's part: values that keep every rule with the fewest changes, and how few are proven to be needed."""

from __future__ import annotations

from functools import cached_property

import numpy as np

from constraints.formula import TRUE, linear, truth
from constraints.lattice import BoolArray, IntArray
from constraints.mirrors import FrameDraft
from constraints.solver import Solver
from constraints.variables import Model
from explore.editing.mirroring.changes import NAME, added, changes


class Nearest:
    """What comes nearest to a draft: first as few pinholes as can be are changed, then as little as can be is added.

    values: of the formula, None if none that keep every rule were found in the effort. least: so many pinholes must be
    changed, as is proven.
    """

    def __init__(self, model: Model, draft: FrameDraft, hint: BoolArray, effort: float) -> None:
        """hint: values near the draft, as long as the formula is before; effort: in the solver's deterministic time."""
        self._changes, self._effort = changes(model, draft), effort
        self._formula = model.formula
        extra = added(model, draft)
        # All that could be added weighs less than one pinhole changed.
        literals, each = np.concatenate([self._changes, extra]), len(extra) + 1
        weights = np.where(np.arange(len(literals)) < len(self._changes), each, 1)
        hint = self._formula.complete(np.append(hint, np.zeros(self._formula.size - len(hint), dtype=np.bool_)))
        self.values: BoolArray | None
        if self._formula.broken(hint) or _avoidable(hint, literals).any():
            self.values, cost = self._cheapest(literals, weights, hint)
            self.least = max(0, -((len(extra) - cost) // each))
        else:
            self.values, self.least = hint, int(truth(hint, self._changes).sum())

    def least_of(self, part: BoolArray) -> int:
        """How many pinholes of a part, (n,), must be changed, as is proven."""
        assert self.values is not None
        literals = self._changes[part]
        if not _avoidable(self.values, literals).any():
            return int((literals == TRUE).sum())
        _, least = self._cheapest(literals, np.ones(len(literals), dtype=np.int64), self.values)
        return least

    @cached_property
    def _solver(self) -> Solver:
        return Solver(self._formula)

    def _cheapest(self, literals: IntArray, weights: IntArray, hint: BoolArray) -> tuple[BoolArray | None, int]:
        """Values of which the true literals weigh least, and what they must weigh at least."""
        cost = linear(NAME, literals, weights, 0, 0)
        answer = self._solver.maximise(cost.variables, -cost.weights, hint, self._effort)
        # The constant part of a sum is taken off its bounds.
        return answer.values, 0 if answer.values is None else -cost.least - answer.most


def _avoidable(values: BoolArray, literals: IntArray) -> BoolArray:
    """Which literals are true, but need not be for all that is known."""
    found: BoolArray = truth(values, literals) & (literals != TRUE)
    return found
