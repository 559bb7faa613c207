"""One stitch per block: places that share a neighbour step are worked alike.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, IntArray
from constraints.piece import Piece
from constraints.variables import Model

NAME = "one stitch per block"


def steps(piece: Piece) -> IntArray:
    """Every neighbour step once, as pairs of pinholes: shape (steps, 2)."""
    ends = piece.neighbours[:, [DOWN_RIGHT, DOWN_LEFT]]
    start = np.repeat(np.arange(len(piece)), 2)
    pairs = np.stack([start, ends.reshape(-1)], axis=1)
    return pairs[pairs[:, 1] >= 0]


def one_stitch(model: Model) -> None:
    """A place has at most one stitch, and its neighbour in a block has the same."""
    if len(model.stitch) < 2:
        return
    model.formula.at_most_one(NAME, np.stack(list(model.stitch.values()), axis=1))
    first, second = steps(model.piece).T
    for stitch in model.stitch.values():
        model.formula.clause(NAME, ~stitch[first], ~model.block[second], stitch[second])
        model.formula.clause(NAME, ~stitch[second], ~model.block[first], stitch[first])
