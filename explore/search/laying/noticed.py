"""What an eye notices of a print: how much each pinhole counts, for being in a block or for being open.

A cell that the print half covers says nothing either way; one that it covers, or leaves, counts in full; and where a
print stands out from what is round it, at its limbs, corners and gaps, up to half as much again, since there an eye
looks first (judged on prints of 8 to 20 pitches).
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import FloatArray, IntArray
from constraints.piece import Piece
from constraints.targets import Target, target
from explore.search.laying.simplified import Simplified

# What a cell counts that the print covers wholly or not at all, on smooth ground of its own kind.
FULL = 100
# How much what stands out counts beside that.
_STANDING_OUT = 0.5
# Steps of spreading to the four neighbours, a half of each cell at a time: together a blur of one pitch.
_STEPS = 8
# Beyond what a print touches, a block that leaves it open costs this share of a cell.
_BAND = 0.05


def noticed(piece: Piece, aim: Target, plain: Simplified) -> IntArray:
    """(n,) what a block at each pinhole is worth to the eye, in hundredths of a cell; below 0 where it is to be open.

    aim: the target of the print. plain: what of it is asked for.
    """
    share = aim.shares
    if plain.closed or share is None:
        share = target(piece, plain.kept).shares
        assert share is not None
    worth = 2 * share - 1 + _STANDING_OUT * (share - _blurred(piece, share))
    touched = aim.touched(len(piece))
    worth[~touched] = -_BAND if aim.reverse else 0.0
    if aim.reverse:
        worth[touched] *= -1
    rounded: IntArray = np.round(FULL * worth).astype(np.int64)
    return rounded


def _blurred(piece: Piece, share: FloatArray) -> FloatArray:
    """(n,) the share covered round about each pinhole; off the piece nothing is."""
    spread = share
    for _ in range(_STEPS):
        spread = spread / 2 + np.append(spread, 0.0)[piece.neighbours].sum(axis=1) / 8
    return spread
