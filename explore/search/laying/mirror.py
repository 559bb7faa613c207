"""The mirror axis of a print, where blocks can follow it."""

from __future__ import annotations

import numpy as np

from constraints.character import character
from constraints.lattice import IntArray
from constraints.piece import Piece
from constraints.stamp import Stamp
from explore.search.laying.blocking import ELSEWHERE
from explore.search.laying.sectors import Place


def own_mirror(piece: Piece, stamp: Stamp, place: Place) -> IntArray | None:
    """(n,) each pinhole's image in the print's own axis, if that is upright or level: see best_blocking.

    -1 outside the piece, ELSEWHERE off the print; None if the print has no such axis. Left and right of the
    working direction are alike to one worker; the two diagonals are not.
    """
    for axis in character(stamp).axes:
        lean = (axis + place.turn) % 90
        if min(lean, 90 - lean) < 2.6:
            upright = min((axis + place.turn) % 180, 180 - (axis + place.turn) % 180) < 45
            factor = np.array([-1, 1] if upright else [1, -1])
            centre = np.array(place.centre, dtype=np.int64)
            image = (piece.pinholes - centre) * factor + centre
            mirrored = np.array([piece.index.get((x, y), -1) for x, y in image.tolist()])
            off = np.abs(piece.pinholes - centre).max(axis=1) > place.size + 3
            return np.where(off, ELSEWHERE, mirrored)
    return None
