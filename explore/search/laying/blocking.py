"""The stamp alone on open ground: the blocks that show it best at one place.

The match is a ratio, so it is raised by Dinkelbach's method: maximise hits - share x (hits possible + stray
places), take the ratio reached as the next share, until it rises no more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.formula import FALSE, Formula
from constraints.lattice import BoolArray, IntArray
from constraints.restricting import restrict
from constraints.solver import Solver
from constraints.targets import Target
from constraints.variables import Model

_SCALE = 1000


@dataclass(frozen=True, eq=False)
class Blocking:
    """block: (n,) places of the blocks. match: reached."""

    block: BoolArray
    match: float


ELSEWHERE = -2
# A reverse print may use places so many steps beyond the near ones, each at this share of a whole place.
BAND, _BAND_WEIGHT = 5, 0.05

# A match is usually near this; a second round with the ratio reached is enough (measured on 48 stamps).
_FIRST_SHARE, _ROUNDS = 0.8, 2


def best_blocking(
    model: Model,
    target: Target,
    effort: float,
    mirror: IntArray | None = None,
    rounds: int = _ROUNDS,
) -> Blocking | None:
    """The blocks near the stamp that match it best, everything else left open.

    `model` holds the block rules only. mirror: (n,) the image of each pinhole in the print's own axis, -1
    outside the piece, ELSEWHERE where it does not matter; the blocks are then their own mirror image. None if
    nothing is found in the effort (deterministic time).
    """
    start = np.zeros(len(model.piece), dtype=bool)
    window = target.touched(len(model.piece))
    if target.reverse:
        window = model.piece.widened(window, BAND)
    values = as_values(model, start)
    free = np.zeros(model.formula.size, dtype=bool)
    literal = model.block[window]
    free[literal[literal > 0]] = True
    small, kept = restrict(model.formula, values, free)
    if mirror is not None:
        here = np.flatnonzero(window & (mirror != ELSEWHERE))
        there = mirror[here]
        image = np.where(there < 0, FALSE, model.block[there])
        _equal(small, kept, model.block[here], np.where(window[there] & (there >= 0), image, FALSE))
    solver = Solver(small)
    place = np.full(model.formula.size, -1)
    place[kept] = np.arange(len(kept))
    wanted = start.copy()
    wanted[target.near if target.reverse else target.inside] = True
    hint: BoolArray = as_values(model, wanted)[kept]
    share = _FIRST_SHARE
    best: Blocking | None = None
    for _ in range(rounds):
        literals, weights = _terms(model, target, place, share)
        answer = solver.maximise(literals, weights, hint, effort)
        if answer.values is None:
            break
        block = start.copy()
        chosen = window & (place[model.block] >= 0)
        block[chosen] = answer.values[place[model.block[chosen]]]
        match = target.match(block)
        if best is not None and match <= best.match + 1e-9:
            break
        best = Blocking(block, match)
        share, hint = match, answer.values
    return best


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


def _terms(model: Model, target: Target, place: IntArray, share: float) -> tuple[IntArray, IntArray]:
    worth = np.zeros(len(model.piece))
    if target.reverse:
        worth -= _SCALE * _BAND_WEIGHT
    worth[target.inside] = -_SCALE if target.reverse else _SCALE
    worth[target.near] = round(share * _SCALE) * (1 if target.reverse else -1)
    real = (model.block > 0) & (place[np.maximum(model.block, 0)] >= 0)
    numbers, back = np.unique(place[model.block[real]], return_inverse=True)
    return numbers, np.bincount(back, weights=worth[real]).astype(np.int64)
