"""The solver's part: values that keep every rule with the fewest changes, and how few are proven to be needed."""

from __future__ import annotations

import numpy as np

from constraints.formula import TRUE, linear, truth
from constraints.lattice import BoolArray, IntArray
from constraints.mirrors import FrameDraft
from explore.editing.mirroring.changes import NAME, changes
from explore.search.context import Context


class Nearest:
    """What comes nearest to a draft: first as few pinholes as can be are changed, then as little as can be is added.

    values: of the formula, None if none that keep every rule were found in the effort. least: so many pinholes must be
    changed, as is proven.
    """

    def __init__(self, context: Context, draft: FrameDraft, hint: BoolArray, effort: float) -> None:
        """context: with the rule `define_grounds`. hint: (size,) values near the draft, those defined aside.
        effort: in the solver's deterministic time."""
        self._context, self._effort = context, effort
        self._changed, added = changes(context.model, draft)
        # All that could be added weighs less than one pinhole changed.
        literals, each = np.concatenate([self._changed, added]), len(added) + 1
        weights = np.where(np.arange(len(literals)) < len(self._changed), each, 1)
        hint = context.model.formula.complete(hint)
        self.values: BoolArray | None
        if context.model.formula.broken(hint) or _avoidable(hint, literals).any():
            self.values, cost = self._cheapest(literals, weights, hint)
            self.least = max(0, -((len(added) - cost) // each))
        else:
            self.values, self.least = hint, int(truth(hint, self._changed).sum())

    def least_of(self, part: BoolArray) -> int:
        """How many pinholes of a part, (n,), must be changed, as is proven."""
        assert self.values is not None
        literals = self._changed[part]
        if not _avoidable(self.values, literals).any():
            return int((literals == TRUE).sum())
        _, least = self._cheapest(literals, np.ones(len(literals), dtype=np.int64), self.values)
        return least

    def _cheapest(self, literals: IntArray, weights: IntArray, hint: BoolArray) -> tuple[BoolArray | None, int]:
        """Values of which the true literals weigh least, and what they must weigh at least."""
        cost = linear(NAME, literals, weights, 0, 0)
        answer = self._context.solver.maximise(cost.variables, -cost.weights, hint, self._effort)
        # The constant part of a sum is taken off its bounds.
        return answer.values, 0 if answer.values is None else -cost.least - answer.most


def _avoidable(values: BoolArray, literals: IntArray) -> BoolArray:
    """Which literals are true, but need not be for all that is known."""
    found: BoolArray = truth(values, literals) & (literals != TRUE)
    return found
