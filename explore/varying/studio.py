"""Where cousins are made: a job draws other blocks and fillings round what is kept of the chosen square."""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from constraints import model
from constraints.brief import Brief, Size, limits
from constraints.formula import FALSE, TRUE, Linear, linear, restrict, truth
from constraints.lattice import BoolArray, IntArray
from constraints.layout import lay
from constraints.solver import Solver
from constraints.square import Print, Square
from constraints.stamp import Stamp
from constraints.stitches import DOUBLE
from constraints.symmetry import SYMMETRIES
from constraints.targets import Target
from constraints.variables import Lace
from explore.bench import Bench
from explore.compose.canvas import Canvas
from explore.compose.fillings import draw_taste
from explore.compose.parts import Random
from explore.finish import finish
from explore.refused import Refused
from explore.varying import worked
from explore.varying.families import with_images
from explore.varying.inverse import values_of
from explore.varying.kept import Kept
from explore.varying.patterns import ALL, draw_pattern
from explore.varying.printed import loosened, print_places, target_of
from explore.varying.redrawing import Old, redraw
from explore.varying.refill import Filled, Refiller, filled, fresh_values
from explore.varying.worked import BLOCK, PLAIN, exact, ways_of

# Deterministic time of a repair, compositions tried by a job, and how many that hold it chooses the best of.
_REPAIR_EFFORT = 0.25
_TRIES, _CHOICE = 12, 4
# Below 1: goals lie rather near the greatest change, where there are more cousins.
_FURTHER = 0.7
# After so many tries in vain a job goes on in the manner of the next one.
_PATIENCE = 4
# So often units stand in a pattern in the large fields.
_PATTERNED = 0.5
# Ways of filling one composition that are tried until its share is right.
_FILLINGS = 4


class Drawn(NamedTuple):
    """A composition: the truth of every variable, the share that differs, and how well it is filled."""

    values: BoolArray
    share: float
    worth: float


@dataclass(eq=False)
class Studio:
    """What the cousins of one square share. change: the share of pinholes that may differ, least and most."""

    square: Square
    brief: Brief
    stamp: Stamp | None
    kept: Kept
    change: tuple[float, float]

    @cached_property
    def bench(self) -> Bench:
        """The models of the square's own size."""
        size = Size(self.square.half_size, self.square.pitch_mm, self.square.pairs)
        return Bench(self.brief, self.stamp, size)

    @cached_property
    def values(self) -> BoolArray:
        """The chosen square as values. Refused if it does not keep the brief or its symmetry."""
        loose = self.bench.piece.images
        where = worked.exact(self.square).block
        if (where[loose] != where).any():
            raise Refused(f"square {self.square.number:02d} has not the symmetry {self.brief.symmetry}")
        return values_of(self.bench.lace, self.square)

    @cached_property
    def printed(self) -> Print | None:
        """The print, with outlines for the symmetry asked."""
        stamp = self.square.stamp
        return None if stamp is None else loosened(stamp, self.square.symmetry, self.brief.symmetry)

    @cached_property
    def target(self) -> Target | None:
        """The pinholes the print asks for."""
        return None if self.printed is None else target_of(self.printed, self.bench.piece)

    @cached_property
    def held(self) -> Kept:
        """What is kept, with the print of the stamp and all images."""
        piece, block = self.bench.piece, self.kept.block
        if self.target is not None:
            block = block | print_places(self.target, piece, lay(self.square).inside)
        return Kept(with_images(piece, block), with_images(piece, self.kept.filling))

    @cached_property
    def old(self) -> Old:
        """The blocks of the chosen square. An open pinhole whose filling is kept stays open."""
        names = tuple(self.bench.lace.stitch)
        stitch = np.full(len(self.bench.piece), -1)
        for number, name in enumerate(names):
            stitch[truth(self.values, self.bench.lace.stitch[name])] = number
        fixed = self.held.block | (self.held.filling & (stitch < 0) & self._worked_up)
        return Old(names, stitch, fixed)

    @property
    def _worked_up(self) -> BoolArray:
        """(n,) the pinholes that lie in a unit or in double ground."""
        return np.not_equal(self._exact.filling, 0)

    @cached_property
    def _ordered(self) -> Lace:
        """The block rules under the fullest symmetry that the blocks have: ornament keeps its order then."""
        for symmetry in sorted(SYMMETRIES, key=lambda name: -len(SYMMETRIES[name])):
            images = self.bench.piece.images_under(symmetry)
            same = all((each[images] == each).all() for each in (self.old.stitch, self.old.fixed))
            if same and set(SYMMETRIES[symmetry]) >= set(SYMMETRIES[self.brief.symmetry]):
                piece = self.square.piece(symmetry)
                return model.lace(piece, replace(self.bench.blocks.brief, symmetry=symmetry), model.BLOCK_RULES)
        return self.bench.blocks

    @cached_property
    def ways(self) -> IntArray:
        """(n,) how each pinhole of the chosen square is worked."""
        return ways_of(self.bench.lace, self.values)

    @cached_property
    def most(self) -> float:
        """The greatest share of pinholes that may differ at all, by what is kept."""
        return 1.0 - float((self.old.fixed & (self.held.filling | (self.old.stitch >= 0))).mean())

    def run(self, job: int) -> tuple[list[Square], str]:
        """Some cousins to choose from, the best first, not yet checked; or why there are none."""
        rng = np.random.default_rng([self.brief.seed, job, 7])
        low, high = self.change
        found: list[Drawn] = []
        last: Drawn | None = None
        for attempt in range(_TRIES):
            goal = low + (high - low) * float(rng.uniform(0.1, 1.0)) ** _FURTHER
            last = self._drawn(job + attempt // _PATIENCE, goal, rng)
            if low <= last.share <= high and not self.bench.lace.formula.broken(last.values):
                found.append(last)
                if len(found) == _CHOICE:
                    break
        assert last is not None
        if not found:
            mended = self._mended(last.values)
            found = [] if mended is None else [last._replace(values=mended)]
        squares = [self._square(each.values) for each in sorted(found, key=lambda each: -each.worth)]
        sound = [square for square in squares if square is not None]
        return sound, "" if sound else "nothing that keeps the rest fits there"

    def _drawn(self, turn: int, goal: float, rng: Random) -> Drawn:
        """One composition whose share comes as near to the goal as its fillings allow."""
        loosened = self.brief.symmetry != self.square.symmetry
        orderly = not loosened or bool(rng.random() < 0.5)
        blocks = self._ordered if orderly else self.bench.blocks
        stitch = redraw(blocks, self.old, turn, goal, self.change[1], not orderly, rng)
        best: Drawn | None = None
        share = float(rng.choice((0.0, 0.3, 1.0)))
        crowded = self._crowded(stitch)
        for again in (share, 0.0, 0.5, 1.0)[:_FILLINGS]:
            values = self._filled(stitch, again, rng)
            differs = worked.share(ways_of(self.bench.lace, values), self.ways)
            drawn = Drawn(values, differs, crowded - 4 * abs(differs - goal))
            if best is None or abs(differs - goal) < abs(best.share - goal):
                best = drawn
            if self.change[0] <= differs <= self.change[1]:
                return drawn
        assert best is not None
        return best

    def _crowded(self, stitch: IntArray) -> float:
        """Less for blocks that leave a wider empty place than the chosen square does."""
        nothing = np.zeros(len(stitch), dtype=np.bool_)
        room = [int(Canvas(self.bench.blocks, block, nothing).room().max()) for block in (stitch >= 0, self.old.block)]
        return -0.2 * max(0, room[0] - room[1])

    def _filled(self, stitch: IntArray, again: float, rng: Random) -> BoolArray:
        """Values for these blocks. again: how likely a field that has not changed is filled afresh all the same."""
        lace = self.bench.lace
        values = fresh_values(lace, stitch, self.old.names)
        filler = Refiller(lace, stitch >= 0, self._clear(stitch), values, self._fillings, self._kept_fillings)
        # The least numbers of the brief hold anyway; half of the squares let other fillings come first.
        taste = draw_taste(rng, self.brief if rng.random() < 0.5 else replace(self.brief, least={}))
        pattern = draw_pattern(rng, self.square.half_size, 2) if rng.random() < _PATTERNED else ALL
        alike = rng.random() < 0.6
        # Fields that a fuller symmetry would make one are filled alike where the square has less.
        chosen: dict[tuple[int, int], bool] = {}
        for inside, new, name in filler.orbits():
            fresh = chosen.setdefault(name, bool(rng.random() < (0.5 if new and alike else again)))
            if not new and not fresh:
                filler.keep(inside)
            elif (fresh and pattern is ALL) or not filler.go_on(inside, pattern if fresh else ALL):
                filler.afresh(inside, taste, rng, pattern)
        return lace.formula.complete(values)

    @cached_property
    def _fillings(self) -> Filled:
        return filled(self.bench.lace, self.values)

    @property
    def _kept_fillings(self) -> BoolArray:
        return self.held.filling & (self.old.stitch < 0)

    def _clear(self, stitch: IntArray) -> BoolArray:
        """(n,) the pinholes round the stamp that take no unit, so that it stands on open ground."""
        piece = self.bench.piece
        clear = np.zeros(len(piece), dtype=np.bool_)
        if self.target is None:
            return clear
        aim, beside = clear.copy(), piece.neighbours
        aim[self.target.inside] = aim[self.target.near] = True
        shown = aim & (stitch >= 0)
        near = shown | (shown[beside] & (beside >= 0)).any(axis=1)
        return aim & near

    # --- mending --------------------------------------------------------------------------------

    def _mended(self, hint: BoolArray) -> BoolArray | None:
        """The solver's square near a composition: what is kept fixed, the change in its range. None if not found."""
        lace = self.bench.lace
        formula = copy.copy(lace.formula)
        formula.linears = [*formula.linears, self._change_asked()]
        free = self._free()
        small, kept = restrict(formula, self.values, free)
        answer = Solver(small).solve(hint[kept], _REPAIR_EFFORT * self.brief.effort)
        if answer.values is None:
            return None
        values = self.values.copy()
        values[kept] = answer.values
        return lace.formula.complete(values)

    def _free(self) -> BoolArray:
        """(size,) the variables that nothing kept depends on."""
        lace = self.bench.lace
        free = np.ones(lace.formula.size, dtype=np.bool_)
        for literals in lace.stitch.values():
            _fix(free, literals[self.old.fixed])
        for sites in lace.sites.values():
            _fix(free, sites.chosen[self._kept_fillings[sites.pinholes].any(axis=1)])
        touched = self._kept_fillings[lace.piece.holes].any(axis=1)
        if DOUBLE in lace.labels.codes:
            for bits in lace.labels.bits:
                _fix(free, bits[touched])
        return free

    def _change_asked(self) -> Linear:
        """The share that differs, as a sum of literals. Double ground counts as it does in the chosen square."""
        lace, n = self.bench.lace, len(self.bench.piece)
        literals, weights = [lace.block], [np.where(self.ways == BLOCK, -1, np.where(self.ways == PLAIN, 1, 0))]
        constant = int((self.ways != PLAIN).sum())
        for sites in lace.sites.values():
            if not len(sites.chosen):
                continue
            own = worked.OF_KIND[sites.unit.kind]
            each = np.where(self.ways == own, -1, np.where(self.ways == PLAIN, 1, 0))
            literals.append(sites.chosen)
            weights.append(each[sites.pinholes].sum(axis=1))
        low, high = int(np.ceil(self.change[0] * n)) - constant, int(self.change[1] * n) - constant
        return linear("change", np.concatenate(literals), np.concatenate(weights), low, high)

    # --- finishing ------------------------------------------------------------------------------

    def _square(self, values: BoolArray) -> Square | None:
        """The square of these values; None if the print, what is kept or the change is not as asked."""
        bench, printed = self.bench, self.printed
        if printed is not None and self.target is not None:
            printed = replace(printed, match=round(self.target.match(truth(values, bench.lace.block)), 4))
            if printed.match < self.brief.least_match - 1e-9:
                return None
        square = finish(
            bench.lace,
            values,
            pitch_mm=bench.size.pitch_mm,
            pairs=bench.size.pairs,
            stamp=printed,
            brief=limits(self.brief),
            composition="varied",
        )
        differs = worked.share(worked.ways(square), self.ways)
        return square if self._keeps(square) and self.change[0] <= differs <= self.change[1] else None

    def _keeps(self, square: Square) -> bool:
        """Whether everything kept is as it was."""
        new, old = exact(square), self._exact
        return bool(
            (new.block == old.block)[self.held.block].all() and (new.filling == old.filling)[self.kept.filling].all()
        )

    @cached_property
    def _exact(self) -> worked.Exact:
        return exact(self.square)


def _fix(free: BoolArray, literals: IntArray) -> None:
    real = literals[(literals != TRUE) & (literals != FALSE)]
    free[np.where(real < 0, ~real, real)] = False
