"""A square with some rules written down, asked whether it goes together with places that are fixed.

The fixed places are one linear constraint beside the formula, so the rule under test meets them as the
solver does, and one trial answers many questions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import numpy as np
from designs import Points

from constraints import rulebook
from constraints.brief import Brief
from constraints.forms import Square
from constraints.formula import FALSE, linear
from constraints.solver import Solver, Status
from constraints.variables import Model

Literals = list[int]

EVERYTHING = ("cloth", "half", "whole", "rose", "spider", "double-ground")


class Trial:
    """Only these rules, under limits that allow anything unless the brief says otherwise."""

    def __init__(
        self,
        *rules: Callable[[Model], None],
        half_size: int = 14,
        worked: str = "round",
        symmetry: str = "none",
        stitches: tuple[str, ...] = ("cloth",),
        **brief: Any,
    ) -> None:
        limits = {"narrowest": 1, "narrowest_ground": 1, "margin": 1, "solid": (0.0, 1.0), **brief}
        asked = Brief.of(worked=worked, symmetry=symmetry, stitches=stitches, **limits)
        self.model = rulebook.build(Square(half_size).piece(worked, symmetry), asked.rules, rules)
        self.fixed: Literals = []
        self._solver: Solver | None = None

    def takes(self, *fixed: Literals) -> bool:
        """Whether the rules and everything fixed go together: found, or proven impossible."""
        if self._solver is None:
            self._solver = Solver(self.model.formula)
        literals = np.array([*self.fixed, *(each for part in fixed for each in part)], dtype=np.int64)
        ones = np.ones(len(literals), dtype=np.int64)
        status = self._solver.solve(None, 2.0, [linear("fixed", literals, ones, len(ones), len(ones))]).status
        assert status is not Status.NOT_FOUND
        return status is not Status.IMPOSSIBLE

    def blocks(self, places: Points) -> Literals:
        """Exactly these pinholes lie in blocks."""
        index = self.model.piece.index
        inside = {index[place] for place in places}
        return [int(b if i in inside else ~b) for i, b in enumerate(self.model.block)]

    def stitch(self, name: str, places: Iterable[tuple[int, int]]) -> Literals:
        """These pinholes are worked in that stitch, whatever the others are."""
        return [int(self.model.stitch[name][self.model.piece.index[place]]) for place in places]

    def units(self, name: str, *centres: tuple[int, int]) -> Literals:
        """Units of that kind stand there; FALSE where the model knows of no such unit."""
        sites = self.model.sites[name]
        place = {(int(x), int(y)): i for i, (x, y) in enumerate(sites.centres)}
        return [int(sites.chosen[place[centre]]) if centre in place else FALSE for centre in centres]


def wall(half_size: int = 14) -> Points:
    """A broad bar across the middle: fields above and below it meet only in the ground along the edge."""
    inner = half_size - 2
    return {(x, y) for x in range(-inner, inner + 1) for y in (-1, 0, 1, 2) if (x + y) % 2}
