"""Corners: how blocks cross the corner lines of what is worked round.

In halves, each half is a block of its own: the rules on its shape and its width hold on either side of the line. Where
only trails shall cross, a few pairs side by side swing over the line, and nothing turns about the middle.
"""

from __future__ import annotations

import numpy as np

from constraints.corners import CLEAR, SWINGING, SWUNG
from constraints.lattice import STEPS, IntArray
from constraints.piece import Piece
from constraints.variables import Lace

NAME = "corners"


def corners(lace: Lace) -> None:
    """No more links side by side over a corner line than the brief's way of crossing allows."""
    links = over_lines(lace.piece)
    if lace.brief.corners == CLEAR:
        lace.formula.clause(NAME, ~lace.block[links])
    elif lace.brief.corners == SWUNG:
        lace.formula.clause(NAME, ~lace.block[side_by_side(lace.piece, links, SWINGING + 1)])
        lace.formula.clause(NAME, ~lace.block[round_the_middle(lace.piece)])


def over_lines(piece: Piece) -> IntArray:
    """(k, 2) the neighbour steps over corner lines, headsides aside: pinholes before and after a line."""
    tail, step = np.nonzero(piece.runs_out & (piece.neighbours >= 0))
    head = piece.neighbours[tail, step]
    over = (piece.zone[tail] != piece.zone[head]) & ~piece.fan[tail] & ~piece.fan[head]
    return np.stack([tail[over], head[over]], axis=1)


def side_by_side(piece: Piece, links: IntArray, count: int) -> IntArray:
    """(k, 2 count) the pinholes of every so many links side by side along one corner line."""
    after = np.full(len(piece) + 1, -1)
    after[links[:, 0]] = links[:, 1]
    found = [links]
    outward = _outward(piece, links)
    here = links
    for _ in range(count - 1):
        here = np.stack([_walk(piece, here[:, side], outward) for side in (0, 1)], axis=1)
        found.append(here)
    runs: IntArray = np.stack(found, axis=1)
    joined = (runs >= 0).all(axis=(1, 2)) & (after[runs[:, :, 0]] == runs[:, :, 1]).all(axis=1)
    chosen: IntArray = runs[joined].reshape(-1, 2 * count)
    return chosen


def round_the_middle(piece: Piece) -> IntArray:
    """(k, 3) every three of the four pinholes round the point where all quarters meet."""
    met = np.array([len(np.unique(piece.zone[each])) for each in piece.holes], dtype=np.int64)
    middle = piece.holes[met == 4]
    return np.concatenate([np.delete(middle, corner, axis=1) for corner in range(4)])


def _outward(piece: Piece, links: IntArray) -> IntArray:
    """(k,) the step along the corner line of each link away from the middle: worked round, the outer edge is on her
    left."""
    direction = piece.directions[piece.zone[links[:, 0]]]
    outward = direction - np.stack([direction[:, 1], -direction[:, 0]], axis=1)
    found: IntArray = (outward[:, None, :] == STEPS).all(axis=2).argmax(axis=1)
    return found


def _walk(piece: Piece, here: IntArray, step: IntArray) -> IntArray:
    there: IntArray = np.where(here >= 0, piece.neighbours[here, step], -1)
    return there
