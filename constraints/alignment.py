"""How figures stand in line: in a field they take every second hole along both diagonals.

Which holes these are is told from hole to hole, as one walks through the field: a mirror, a turn or the next repeat may
move a hole by an odd number along a diagonal, so numbers counted from the middle of a piece would not do.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import STEPS, BoolArray, IntArray, diagonals
from constraints.layout import components
from constraints.piece import Piece


def turned(piece: Piece, here: IntArray, step: int) -> BoolArray:
    """(k, 2) whether u and v come out of a step from a hole to the next one even where they should be odd, or odd where
    they should be even: so it is where a repeat begins anew after rows whose half is odd."""
    numbers = diagonals(piece.hole_centres)
    there = piece.hole_neighbours[here, step]
    found: BoolArray = (numbers[there] - numbers[here] - diagonals(STEPS[[step]])) % 2 == 1
    return found


def stands(piece: Piece, field: IntArray) -> IntArray:
    """(m,) a number from 0 to 3 for each hole: holes of one field are in line if theirs are the same.

    field: (m,) the number of the field of each hole, -1 for none. -1 comes out where a hole lies in no field, or in one
    that comes back to itself round a repeat out of line, so that none can stand in it.
    """
    u, v = diagonals(piece.hole_centres).T
    found = np.where(field >= 0, u % 2 + 2 * (v % 2), -1)
    if piece.setting.wrap.rows // 2 % 2 == 0:
        return found
    # Every hole twice, in line with the first of its field and out of it: a step over the seam goes from the one to
    # the other, and changes both diagonals.
    beside, count = piece.hole_neighbours, len(field)
    twice = np.concatenate([beside, np.where(beside >= 0, beside + count, -1)])
    for step in range(len(STEPS)):
        over = np.flatnonzero(beside[:, step] >= 0)
        over = over[turned(piece, over, step)[:, 0]]
        twice[over, step], twice[over + count, step] = twice[over + count, step], twice[over, step]
    in_line, out = components(twice, np.tile(field, 2)).reshape(2, count)
    first = components(beside, field)
    return np.where(in_line == out, -1, np.where(in_line == first, found, found ^ 3))
