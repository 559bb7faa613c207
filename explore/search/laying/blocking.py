"""The stamp alone on open ground: the blocks that show it best at one place.

They are those worth most to the eye (see `noticed`), a sum over pinholes. A first answer is laid out block by block
(see `hulls`), mended by the solver, then bettered with the linear relaxation, which is so close that it mostly leads to
the best there is, and says how far from it an answer may be. Where there are too many pinholes for that, it is bettered
window by window (see `windows`), and where it is still far from the best, with splits that have a price (see `bought`).
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from constraints.formula import FALSE, TRUE, Formula, Linear, linear, variable_of
from constraints.lattice import BoolArray, IntArray
from constraints.restricting import restrict
from constraints.rules import match, one_worker
from constraints.solver import Answer, Solver, Status
from constraints.targets import Target
from constraints.variables import Model
from explore.search.laying.bought import bought
from explore.search.laying.hulls import hulls
from explore.search.laying.noticed import FULL
from explore.search.laying.windows import bettered


@dataclass(frozen=True, eq=False)
class Blocking:
    """block: (n,) places of the blocks. match: reached. worth: to the eye, the sum over the blocks' pinholes in
    hundredths of a cell. most: the worth that no blocks exceed, as is proven."""

    block: BoolArray
    match: float
    worth: int = 0
    most: int = 0


ELSEWHERE = -2
# A reverse print may use places so many steps beyond the near ones.
BAND = 5
# An answer proven to be within this share of the best is taken: no eye tells them apart.
_WITHIN = 0.01
# Deterministic time in which an answer is mended before the relaxation, and the share of the effort it is at most.
_MENDING, _MENDING_SHARE = 0.04, 0.4
# The relaxation of so many variables for each unit of deterministic time leads somewhere (measured on 44 blockings).
_PACE = 10_000
# An answer of more variables than this (a print of some 20 pitches) that is further than this from the best there may
# be is sought with splits that are bought: that takes some seconds (of 21 prints of 12 and 16 pitches it changed none).
_LARGE, _SHORT = 3_000, 0.03
# A match that lacks more than this is not sought.
_LACKING = 0.1


def best_blocking(
    model: Model, target: Target, worth: IntArray, effort: float, mirror: IntArray | None = None, least: float = 0.0
) -> Blocking | None:
    """The last of `blockings`: with as many splits as the rules allow; None if nothing is found in the effort."""
    return next(reversed(blockings(model, target, worth, effort, mirror, least)), None)


def blockings(
    model: Model, target: Target, worth: IntArray, effort: float, mirror: IntArray | None = None, least: float = 0.0
) -> list[Blocking]:
    """The blocks near the stamp that are worth most to the eye, everything else left open: without a split, then with
    as many splits as the rules allow, beginning with those before, so that they are not worth less.

    `model` holds the block rules only. worth: (n,) of a block at each pinhole. effort: deterministic time. mirror: (n,)
    the image of each pinhole in the print's own axis, -1 outside the piece, ELSEWHERE where it does not matter; the
    blocks are then their own mirror image. least: the match that the last reaches, if it can, where the best for the
    eye falls a little short of it.
    """
    window = _Near(model, target, worth, mirror)
    stages = window.stages()
    found = _blockings(window, stages, effort)
    if found and found[-1].match < least <= found[-1].match + _LACKING:
        best, stage = found[-1], stages[-1]
        further = [window.matching(stage, least)]
        values = stage.solver.maximise(*stage.terms, stage.values(best.block), effort, further=further).values
        if values is not None:
            found[-1] = window.blocking(stage, values, best.most)
    return found


def _blockings(window: _Near, stages: list[_Stage], effort: float) -> list[Blocking]:
    found: list[Blocking] = []
    block = window.hint()
    for number, stage in enumerate(stages):
        best, most = found[-1] if found else None, sys.maxsize
        for answer in stage.answers(block, effort, split=number > 0):
            if answer.values is None:
                continue
            most = min(most, answer.most)
            here = window.blocking(stage, answer.values, most)
            best = here if best is None or here.worth > best.worth else replace(best, most=most)
            block = best.block
        if best is not None:
            found.append(best)
    return found


@dataclass(frozen=True, eq=False)
class _Stage:
    """A number of splits. window: what is free. formula: what keeps blocks to the rules, in the solver too. kept: the
    variables of the window's formula that it has. terms: variables, and what a block in each is worth. places: (k, 2)
    where these lie, lattice units."""

    window: _Near
    formula: Formula
    solver: Solver
    kept: IntArray
    terms: tuple[IntArray, IntArray]
    places: IntArray

    @classmethod
    def of(cls, window: _Near, formula: Formula, kept: IntArray) -> _Stage:
        """The stage of this formula."""
        numbers, back = np.unique(np.searchsorted(kept, window.variables), return_inverse=True)
        worth = np.bincount(back, weights=window.worth[window.free]).astype(np.int64)
        return cls(window, formula, Solver(formula), kept, (numbers, worth), window.places(back))

    def answers(self, block: BoolArray, effort: float, split: bool) -> Iterator[Answer]:
        """Better and better blocks, from a hint; the last tells best what none exceed. split: whether they may split,
        and the hint is an answer of fewer splits."""
        hint = self.values(block)
        if not split:
            mended = self.solver.maximise(*self.terms, hint, min(_MENDING, _MENDING_SHARE * effort))
            yield mended
            if mended.status is Status.BEST:
                return
            hint = hint if mended.values is None else mended.values
        if len(self.kept) <= _PACE * effort:
            led = self.solver.maximise(*self.terms, hint, effort, within=_WITHIN)
            yield led
            if led.values is None or not self._short(led.values, led.most, split):
                return
            hint = led.values
        elif self.formula.broken(hint):
            return
        here = self.terms, self.places, hint, FULL, effort
        better = bettered(self.formula, *here)
        yield Answer(Status.FOUND, better, effort, sys.maxsize)
        if self._short(better, int(self.terms[1].clip(min=0).sum()), split):
            yield Answer(Status.FOUND, bought(self.formula, one_worker.NAME, *here), effort, sys.maxsize)

    def _short(self, values: BoolArray, most: int, split: bool) -> bool:
        """Whether a large print is far from the most it can be worth, and may split."""
        return split and len(self.kept) > _LARGE and self.worth(values) < (1 - _SHORT) * most

    def worth(self, values: BoolArray) -> int:
        """What the blocks of these values are worth to the eye."""
        return int(self.terms[1] @ values[self.terms[0]])

    def values(self, block: BoolArray) -> BoolArray:
        """The values for blocks, (n,)."""
        values: BoolArray = as_values(self.window.model, block)[self.window.kept[self.kept]]
        return values


class _Near:
    """The formula of the pinholes about a stamp, all others open, and what its variables are worth."""

    def __init__(self, model: Model, target: Target, worth: IntArray, mirror: IntArray | None) -> None:
        self.model, self.target, self.worth, self.mirror = model, target, worth, mirror
        self.inside = target.touched(len(model.piece))
        if target.reverse:
            self.inside = model.piece.widened(self.inside, BAND)
        self._start = np.zeros(len(model.piece), dtype=bool)
        free = np.zeros(model.formula.size, dtype=bool)
        literal = model.block[self.inside]
        free[literal[literal > 0]] = True
        formula, self.kept = restrict(model.formula, as_values(model, self._start), free)
        if mirror is not None:
            here = np.flatnonzero(self.inside & (mirror != ELSEWHERE))
            there = mirror[here]
            image = np.where((there >= 0) & self.inside[there], model.block[there], FALSE)
            _equal(formula, self.kept, model.block[here], image)
        self._formula = formula
        self._new = np.full(model.formula.size, -1)
        self._new[self.kept] = np.arange(len(self.kept))
        # (n,) the pinholes that may lie in blocks, and the variables of these.
        self.free = (model.block > 0) & self.inside
        self.free[self.free] = self._new[model.block[self.free]] >= 0
        self.variables = self._new[model.block[self.free]]

    def places(self, back: IntArray) -> IntArray:
        """(k, 2) where variables lie: of all pinholes of one, and of its mirror image, that nearest to one spot. back:
        which of them each free pinhole has."""
        pinholes = self.model.piece.pinholes[self.free]
        away = np.square(pinholes - pinholes[self.worth[self.free].argmax()]).sum(axis=1)
        order = np.lexsort((away, back))
        first = order[np.unique(back[order], return_index=True)[1]]
        if self.mirror is not None:
            number = np.full(len(self.free), -1)
            number[self.free] = np.arange(len(back))
            image = self.mirror[self.free]
            image = np.where(image >= 0, number[image], -1)[first]
            other = np.where(image >= 0, first[back[image]], first)
            first = np.where(away[other] < away[first], other, first)
        places: IntArray = pinholes[first]
        return places

    def hint(self) -> BoolArray:
        """(n,) what is worth most by itself, for the solver to mend."""
        if self.target.reverse:
            wanted: BoolArray = self.inside & (self.worth > 0)
            return wanted
        block = hulls(self.model.piece, self.worth, self.free, FULL)
        return block if self.mirror is None else _mirrored(block, self.mirror, self.worth)

    def stages(self) -> list[_Stage]:
        """One for no splits, then one for all that are allowed: steps between them bring little (measured on five
        prints)."""
        every = np.arange(self._formula.size)
        splits = [each.variables for each in self._formula.linears if each.rule == one_worker.NAME]
        last = _Stage.of(self, self._formula, every)
        if not any(len(each) for each in splits):
            return [last]
        # Without any split there are no variables for them, as if the rules allowed none.
        whole = np.ones(len(every), dtype=np.bool_)
        whole[np.concatenate(splits)] = False
        return [_Stage.of(self, *restrict(self._formula, every == TRUE, whole)), last]

    def matching(self, stage: _Stage, least: float) -> Linear:
        """A match of at least this."""
        literals, weights, bound = match.match_terms(self.model, self.target, least)
        new = self._new[variable_of(literals)]
        new[new >= 0] = np.searchsorted(stage.kept, new[new >= 0])
        # What is not free is open: it counts where open ground does.
        fixed = (new < 0) | (variable_of(literals) == 0)
        bound -= int(weights[fixed & (literals < 0) & (literals != FALSE)].sum())
        renamed = np.where(literals < 0, ~new, new)[~fixed]
        return linear(match.NAME, renamed, weights[~fixed], bound, int(np.abs(weights).sum()))

    def blocking(self, stage: _Stage, values: BoolArray, most: int) -> Blocking:
        """What values of a stage's formula say."""
        assert not stage.formula.broken(values)
        block = self._start.copy()
        block[self.free] = values[np.searchsorted(stage.kept, self.variables)]
        return Blocking(block, self.target.match(block), int(self.worth[block].sum()), most)


def _mirrored(block: BoolArray, mirror: IntArray, worth: IntArray) -> BoolArray:
    """Blocks, (n,), made their own mirror image after the half of them that is worth more."""
    pinholes = np.arange(len(block))
    paired = np.flatnonzero((mirror >= 0) & (mirror[mirror] == pinholes))
    halves = []
    for half in (paired[paired <= mirror[paired]], paired[paired >= mirror[paired]]):
        whole = block.copy()
        whole[mirror[half]] = block[half]
        halves.append(whole)
    return max(halves, key=lambda whole: int(worth[whole].sum()))


def _equal(small: Formula, kept: IntArray, first: IntArray, second: IntArray) -> None:
    """Make block literals of the whole formula equal in the small one; those fixed there are open."""
    new = np.full(int(kept.max()) + 2, FALSE)  # the last entry answers for FALSE itself
    new[kept] = np.arange(len(kept))

    def renamed(literals: IntArray) -> IntArray:
        known = (literals > 0) & (literals <= int(kept.max()))
        return np.where(known, new[np.where(known, literals, 0)], FALSE)

    a, b = renamed(first), renamed(second)
    small.clause("mirror", ~a, b)
    small.clause("mirror", a, ~b)


def as_values(model: Model, block: BoolArray) -> BoolArray:
    """The formula's values for these block places, all in the first stitch; fields without a filling."""
    values = np.zeros(model.formula.size, dtype=bool)
    literal = next(iter(model.stitch.values()))
    real = literal > 0
    values[literal[real]] = block[real]
    return model.formula.complete(values)
