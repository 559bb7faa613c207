"""Double ground: where a field is worked in double Torchon ground, all its pinholes outside units are.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.formula import FALSE
from constraints.lattice import IntArray
from constraints.rules.narrowest import covering
from constraints.stitches import DOUBLE
from constraints.variables import Model

NAME = "double ground"


def double_pinholes(lace: Model) -> IntArray:
    """(n,) literals: the pinhole is a corner of a hole of a double-ground field."""
    if DOUBLE not in lace.labels.codes:
        return np.full(len(lace.piece), FALSE)
    holes = np.flatnonzero(lace.field_hole)
    label = lace.formula.all_of(NAME, lace.labels.literals(DOUBLE, holes))
    table = covering(lace.piece.holes[holes], label, len(lace.piece))
    return lace.formula.any_of(NAME, table)
