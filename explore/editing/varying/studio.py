"""Where cousins are made: a job draws other blocks and fillings round what is kept of the chosen square."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from constraints import rulebook
from constraints.design import Design
from constraints.encoding import sorts_of
from constraints.lattice import BoolArray, IntArray
from constraints.symmetry import matrices
from constraints.variables import Model
from explore.editing.varying import worked
from explore.editing.varying.patterns import ALL, draw_pattern
from explore.editing.varying.redrawing import redraw
from explore.editing.varying.refill import Refiller, fresh_values
from explore.editing.varying.repair import mended
from explore.editing.varying.setting import VaryingContext
from explore.search.compose.adding import Ornament
from explore.search.compose.canvas import Canvas
from explore.search.compose.liking import draw_liking
from explore.search.compose.parts import Random
from explore.search.workshops import WORKSHOPS

# Compositions that a job tries, and how many that hold are enough to choose from.
_TRIES, _CHOICE = 12, 4
# Below 1: goals lie rather near the greatest change, where there are more cousins.
_FURTHER = 0.7
# After so many tries in vain a job goes on in the manner of the next one.
_PATIENCE = 4
# So many jobs keep the order that the blocks have.
_ORDERLY = 24
# So often units stand in a pattern in the large fields.
_PATTERNED = 0.5
# Ways of filling one composition that are tried until its share is right.
_FILLINGS = 4


class Redrawn(NamedTuple):
    """A composition: the truth of every variable, the share that differs, and how well it is filled."""

    values: BoolArray
    share: float
    worth: float


@dataclass(eq=False)
class Studio(VaryingContext):
    """What the cousins of one square share. change: the share of pinholes that may differ, least and most."""

    change: tuple[float, float]

    @cached_property
    def _ordered(self) -> Model:
        """The block rules under the fullest symmetry that the blocks have: ornament keeps its order then."""
        form, way = self.design.form, self.design.worked
        own = {each.tobytes() for each in self.context.piece.images}
        for symmetry in sorted(form.symmetries_allowed(way), key=lambda name: -len(matrices(name))):
            piece = form.once(way, symmetry)
            same = all((each[piece.images] == each).all() for each in (self.old.stitch, self.old.fixed))
            if same and {each.tobytes() for each in piece.images} >= own:
                return rulebook.build(piece, self.context.blocks.rules, rulebook.BLOCK_RULES)
        return self.context.blocks

    @cached_property
    def _ornament(self) -> Ornament:
        return WORKSHOPS[self.brief.piece.form].ornament(self.brief, self.design.form)

    def run(self, job: int) -> tuple[list[Design], str]:
        """Some cousins to choose from, the best first, checked; or why there are none."""
        rng = np.random.default_rng([self.brief.run.seed, job, 7])
        low, high = self.change
        found: list[Redrawn] = []
        last: Redrawn | None = None
        for tried in range(_TRIES):
            goal = low + (high - low) * float(rng.uniform(0.1, 1.0)) ** _FURTHER
            last = self._drawn(job + tried // _PATIENCE, goal, rng)
            if low <= last.share <= high and not self.context.model.formula.broken(last.values):
                found.append(last)
                if len(found) == _CHOICE:
                    break
        assert last is not None
        if not found:
            values = mended(self, self.change, last.values)
            found = [] if values is None else [last._replace(values=values)]
        what = f"cousin {job} with seed {self.brief.run.seed}"
        every = [self._square(each.values, what) for each in sorted(found, key=lambda each: -each.worth)]
        designs = [design for design in every if design is not None]
        return designs, "" if designs else "nothing that keeps the rest fits there"

    def _drawn(self, turn: int, goal: float, rng: Random) -> Redrawn:
        """One composition whose share comes as near to the goal as its fillings allow."""
        # Where a looser symmetry is asked, or much has been tried, half of the squares lose the order of the blocks.
        loosened = self.brief.piece.symmetry != self.design.symmetry or turn >= _ORDERLY
        orderly = not loosened or bool(rng.random() < 0.5)
        blocks = self._ordered if orderly else self.context.blocks
        stitch = redraw(blocks, self._ornament, self.old, turn, goal, self.change[1], not orderly, rng)
        best: Redrawn | None = None
        share = float(rng.choice((0.0, 0.3, 1.0)))
        crowded = self._crowded(stitch)
        for again in (share, 0.0, 0.5, 1.0)[:_FILLINGS]:
            values = self._filled(stitch, again, rng)
            differs = worked.share(sorts_of(self.context.model, values), self.sorts)
            drawn = Redrawn(values, differs, crowded - 4 * abs(differs - goal))
            if best is None or abs(differs - goal) < abs(best.share - goal):
                best = drawn
            if self.change[0] <= differs <= self.change[1]:
                return drawn
        assert best is not None
        return best

    def _crowded(self, stitch: IntArray) -> float:
        """Less for blocks that leave a wider empty place than the chosen square does."""
        nothing = np.zeros(len(stitch), dtype=np.bool_)
        room = [
            int(Canvas(self.context.blocks, block, nothing).clearance().max())
            for block in (stitch >= 0, self.old.block)
        ]
        return -0.2 * max(0, room[0] - room[1])

    def _filled(self, stitch: IntArray, again: float, rng: Random) -> BoolArray:
        """Values for these blocks. again: how likely a field that has not changed is filled afresh all the same."""
        model = self.context.model
        values = fresh_values(model, stitch, self.old.names)
        filler = Refiller(model, stitch >= 0, self.clear(stitch), values, self.fillings, self.kept_fillings)
        # The least numbers of the brief hold anyway; half of the squares let other fillings come first.
        taste = draw_liking(rng, self.context.rules if rng.random() < 0.5 else replace(self.context.rules, least={}))
        pattern = draw_pattern(rng, self.design.form, 2) if rng.random() < _PATTERNED else ALL
        alike = rng.random() < 0.6
        # Fields that a fuller symmetry would make one are filled alike where the square has less.
        chosen: dict[tuple[int, int], bool] = {}
        for inside, new, name in filler.orbits():
            fresh = chosen.setdefault(name, bool(rng.random() < (0.5 if new and alike else again)))
            if not new and not fresh:
                filler.keep(inside)
            elif (fresh and pattern is ALL) or not filler.go_on(inside, pattern if fresh else ALL):
                filler.afresh(inside, taste, rng, pattern)
        return model.formula.complete(values)

    def _square(self, values: BoolArray, what: str) -> Design | None:
        """The square of these values; None if the print, what is kept or the change is not as asked."""
        design = self.made(values, what)
        if design is None:
            return None
        low, high = self.change
        return design if low <= worked.share(worked.sorts_in(design), self.sorts) <= high else None
