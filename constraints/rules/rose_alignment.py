"""Rose alignment: the units of a rose field stand on every second hole along both diagonals.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.variables import Lace

NAME = "rose alignment"


def rose_alignment(lace: Lace) -> None:
    """A unit at hole (u, v) asks its field for the alignment u mod 2, v mod 2."""
    for sites in lace.sites.values():
        if not sites.unit.aligned or not len(sites.pinholes):
            continue
        x, y = sites.centres.T
        hole = np.array([lace.piece.hole_index[px, py] for px, py in sites.centres.tolist()])
        for coordinate, even in (((x + y) // 2, lace.labels.even_u), ((y - x) // 2, lace.labels.even_v)):
            wanted = np.where(coordinate % 2 == 0, even[hole], ~even[hole])
            lace.formula.implies(NAME, sites.chosen, wanted)
