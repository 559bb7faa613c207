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


def double_pinholes(model: Model) -> IntArray:
    """(n,) literals: the pinhole is a corner of a hole of a double-ground field."""
    if DOUBLE not in model.labels.codes:
        return np.full(len(model.piece), FALSE)
    holes = np.flatnonzero(model.field_hole)
    label = model.formula.all_of(NAME, model.labels.literals(DOUBLE, holes))
    table = covering(model.piece.holes[holes], label, len(model.piece))
    return model.formula.any_of(NAME, table)
