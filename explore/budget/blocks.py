"""The largest block that a square of one half-size can hold: one that is found, and what is proven to be the most.

A block is a set of block places joined by neighbour steps; its size is counted in pinholes. The square keeps all
of the brief, the stamp apart.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from constraints.formula import FALSE, Linear, linear, truth
from constraints.lattice import BoolArray
from constraints.layout import components
from constraints.piece import ACROSS, Piece
from constraints.solver import Solver, Status
from explore.bench import Bench
from explore.budget.frontier import Largest
from explore.laying.blocking import as_values

# Worked across without splits, blocks are plain diamonds and bars under these symmetries (no notch is allowed).
_BARS_ONLY = ("full", "quarter-turn", "diagonal-mirrors", "diagonal-mirror")
# And a bar in the middle is a diamond under these.
_SQUARE = ("full", "quarter-turn")

# Deterministic time for a square round a block, and so many blocks are tried in vain.
_EFFORT, _TRIES = 0.2, 4
# Up to this half-size the solver says how much blocks can take together.
_SOLVED = 14


def largest(bench: Bench) -> Largest:
    """The largest of the plain shapes that a square holds, and no more than which any block has.

    Worked round the shapes are bands along the sides and whole squares, worked across upright bars with pointed
    ends; both ways diamonds and bars along the diagonals.
    """
    at_most = _at_most(bench)
    if bench.size.half_size <= _SOLVED:
        at_most = min(at_most, _together(bench))
    shapes = {shape.tobytes(): shape for shape in _shapes(bench) if 0 < shape.sum() <= at_most}
    ranked = sorted(shapes.values(), key=lambda shape: -int(shape.sum()))
    tries = 0
    for shape in ranked:
        if not _keeps_block_rules(bench, shape):
            continue
        found = _in_a_square(bench, shape)
        if found:
            return Largest(found, at_most)
        tries += 1
        if tries == _TRIES:
            break
    return Largest(0, at_most)


def _at_most(bench: Bench) -> int:
    """A bound by counting: the share of solid, the margin, and that the images of a block are blocks as large."""
    piece, brief = bench.piece, bench.brief
    allowed = piece.depth >= brief.margin
    if not allowed.any():
        return 0
    together = min(int(allowed.sum()), math.floor(brief.solid[1] * len(piece) + 1e-9))
    step = int(np.gcd.reduce(piece.orbit_sizes[piece.orbit[allowed]]))
    own_image = together - together % step
    if brief.worked == ACROSS and brief.splits == 0 and brief.symmetry in _BARS_ONLY:
        # No wider than the brief allows, and its two sides together no longer than the square is wide.
        reach = bench.size.half_size - brief.margin
        side = min(brief.widest, reach + 1)
        long = 2 * reach + 2 - side
        if brief.symmetry in _SQUARE:
            # What turns about the centre covers it, so all of its images meet there and must be one diamond; the
            # centre is a hole, so its side is even.
            return max(min(own_image, (side - side % 2) ** 2), min(together // 4, side * long))
        return min(together, side * long)
    # A block that is not its own image under all of the symmetry has a like one beside it: half is left for each.
    return max(own_image, together // 2 if len(piece.images) > 1 else 0)


def _together(bench: Bench) -> int:
    """The most pinholes that all blocks of a square can take, if the solver proves it; else all there are."""
    literals = bench.lace.block[bench.lace.block != FALSE]
    if not len(literals):
        return 0
    distinct, weights = np.unique(literals, return_counts=True)
    answer = Solver(bench.lace.formula).maximise(distinct, weights, None, _EFFORT * bench.brief.effort)
    if answer.status is Status.IMPOSSIBLE:
        return 0
    if answer.status is not Status.BEST or answer.values is None:
        return len(bench.piece)
    return int(weights @ truth(answer.values, distinct))


def _shapes(bench: Bench) -> Iterator[BoolArray]:
    piece = bench.piece
    reach = bench.size.half_size - bench.brief.margin
    yield from _bars(piece, reach) if bench.brief.worked == ACROSS else _bands(piece, reach)
    yield from _diamonds(piece, reach, bench.brief.widest)


def _bands(piece: Piece, reach: int) -> Iterator[BoolArray]:
    out = np.abs(piece.pinholes).max(axis=1)
    for outer in range(1, reach + 1):
        for inner in range(outer):
            yield (out <= outer) & ((out > inner) | (inner == 0))


def _bars(piece: Piece, reach: int) -> Iterator[BoolArray]:
    x, y = np.abs(piece.pinholes).T
    for half in range(1, reach + 1):
        for tip in range(half, reach + 1):
            yield (x <= half) & (x + y <= tip)


def _diamonds(piece: Piece, reach: int, widest: int) -> Iterator[BoolArray]:
    """Diamonds and diagonal bars in the middle of the square, or as near to it as the grid lets them lie."""
    u, v = piece.pinholes.sum(axis=1), piece.pinholes[:, 1] - piece.pinholes[:, 0]
    for first in range(1, 2 * reach + 2):
        for second in {first, min(first, widest)}:
            for du in (0, 1):
                for dv in (0, 1):
                    shape = (np.abs(u - du) < first) & (np.abs(v - dv) < second)
                    if shape.sum() == first * second and (np.abs(piece.pinholes[shape]).max() <= reach):
                        yield shape


def _keeps_block_rules(bench: Bench, shape: BoolArray) -> bool:
    values = as_values(bench.blocks, shape)
    symmetric = bool((shape[bench.piece.images] == shape).all())
    return symmetric and not bench.blocks.formula.broken(values)


def _in_a_square(bench: Bench, shape: BoolArray) -> int:
    """Pinholes of the block that holds the shape in a square that keeps all of the brief; 0 if none is found."""
    lace = bench.lace
    values = np.zeros(lace.formula.size, dtype=bool)
    literal = next(iter(lace.stitch.values()))
    values[literal[shape]] = True
    values = lace.formula.complete(values)
    if lace.formula.broken(values):
        answer = bench.solver.solve(values, _EFFORT * bench.brief.effort, _all_of(bench, shape))
        if answer.values is None:
            return 0
        values = answer.values
    block = truth(values, lace.block)
    label = components(bench.piece.neighbours, np.where(block, 0, -1))
    return int(np.bincount(label[block]).max())


def _all_of(bench: Bench, shape: BoolArray) -> Linear:
    """That all of the shape lies in blocks, as a constraint."""
    literals = bench.lace.block[shape]
    return linear("largest block", literals, np.ones(len(literals), dtype=np.int64), len(literals), len(literals))
