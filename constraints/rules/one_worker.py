"""One-worker shape: a block is worked by one worker, so its rows neither split nor merge.

At a hole with exactly three of its four pinholes in the block, the pinhole opposite the missing one
either has both pairs running out of it into the hole's sides (the block splits: a passive must become a
worker), or both running in (two arms merge), or one of each (an ordinary bend of a trail). Seen in the
working direction the missing pinhole is then the bottom, the top, or a side. At a hole on a corner line the
same reading of the pairs gives the shapes that cannot swing with the pillow; where blocks are worked in halves, each
half has its own worker, and such holes do not matter.

With no splits allowed, blocks are the parallelogram polyominoes counted by OEIS A000108 and A001263.

That one worker cannot work splits and merges is common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.corners import CLEAR, HALVES
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, UP_LEFT, UP_RIGHT, BoolArray, IntArray
from constraints.piece import Piece
from constraints.variables import Model

NAME = "one-worker shape"

# Steps from each corner of a hole (top, right, bottom, left) to the two corners beside it.
_ALONG = np.array([(DOWN_RIGHT, DOWN_LEFT), (DOWN_LEFT, UP_LEFT), (UP_LEFT, UP_RIGHT), (UP_RIGHT, DOWN_RIGHT)])


def notches(piece: Piece, corners: str) -> tuple[IntArray, IntArray]:
    """Every way a block can split or merge: the three pinholes in the block (k, 3), the one between the arms first, and
    the missing one (k,).

    corners: how blocks cross corner lines, as in the brief.
    """
    holes = piece.holes
    if corners in (HALVES, CLEAR):
        holes = holes[piece.one_zone(holes)]
    inside, missing = [], []
    for corner in range(4):
        runs = piece.runs_out[holes[:, corner]][:, _ALONG[corner]]
        pulled = runs[:, 0] == runs[:, 1]
        opposite = (corner + 2) % 4
        missing.append(holes[pulled, opposite])
        inside.append(holes[pulled][:, [corner, (corner + 1) % 4, (corner + 3) % 4]])
    return np.concatenate(inside), np.concatenate(missing)


def splits(piece: Piece, block: BoolArray, corners: str) -> int:
    """How often blocks, (n,), split or merge over the whole piece. corners: as in the brief."""
    inside, missing = notches(piece, corners)
    return int((block[inside].all(axis=1) & ~block[missing]).sum())


def one_worker(model: Model) -> None:
    """No more splits and merges over the whole piece than the brief allows."""
    inside, missing = notches(model.piece, model.rules.corners)
    three = ~model.block[inside]
    gap = model.block[missing]
    if model.rules.splits == 0:
        model.formula.clause(NAME, three, gap)
        return
    split = model.formula.all_of(NAME, np.concatenate([~three, ~gap[:, None]], axis=1))
    model.formula.linear(NAME, split, np.ones(len(split), dtype=np.int64), 0, model.rules.splits)
