"""The blocks of a square as parts of its design: what can be taken out or changed as one."""

from __future__ import annotations

import numpy as np

from constraints.lattice import BoolArray, IntArray
from constraints.layout import components
from constraints.piece import Piece


def parts(piece: Piece, block: BoolArray, stitch: IntArray, fixed: BoolArray, whole: bool) -> list[IntArray]:
    """The blocks that may be changed, gathered into parts: the indices of their pinholes, part by part.

    stitch: (n,) number of the stitch of each place. fixed: (n,) pinholes that must stay; a block that holds one of
    them is in no part. whole: all blocks of one shape and stitch are one part, however turned; else only images
    under the piece's own symmetry are.
    """
    numbers = components(piece.neighbours, np.where(block, 0, -1))
    held = np.unique(numbers[fixed & block])
    gathered: dict[object, list[IntArray]] = {}
    for number in np.setdiff1d(numbers[block], held).tolist():
        places = np.flatnonzero(numbers == number)
        # Under the own symmetry the least orbit number names all images of a block.
        own = int(piece.orbit[places].min())
        gathered.setdefault((_shape(piece, places), int(stitch[places[0]])) if whole else own, []).append(places)
    return [np.sort(np.concatenate(alike)) for alike in gathered.values()]


def _shape(piece: Piece, places: IntArray) -> bytes:
    """A name that blocks share if a turn, a reflection and a shift make them one."""
    x, y = piece.unfolded(places).T
    turned: list[bytes] = []
    for a, b in ((x, y), (y, x)):
        for sign_a in (1, -1):
            for sign_b in (1, -1):
                points = np.stack([sign_a * a, sign_b * b], axis=1)
                points = points - points.min(axis=0)
                turned.append(points[np.lexsort(points.T)].astype(np.int32).tobytes())
    return min(turned)


def with_images(piece: Piece, places: BoolArray) -> BoolArray:
    """(n,) the places with all their images under the piece's symmetry."""
    closed: BoolArray = np.any(places[piece.images], axis=0)
    return closed
