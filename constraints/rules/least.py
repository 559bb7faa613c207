"""Least: a stitch or figure the brief asks for occurs at least so often.

Stitches and grounds are counted in pinholes, figures one by one.
"""

from __future__ import annotations

import numpy as np

from constraints.fillings import FILLINGS, GROUNDS
from constraints.lattice import IntArray
from constraints.rules.grounds import ground_pinholes
from constraints.variables import Model

NAME = "minimum"


def least(model: Model) -> None:
    """Every minimum of the brief, over the whole piece."""
    for name, count in model.rules.least.items():
        literals = counted(model, name)
        weights = np.ones(len(literals), dtype=np.int64)
        model.formula.linear(NAME, literals, weights, count, max(count, len(literals)))


def counted(model: Model, name: str) -> IntArray:
    """The literals that count towards a stitch (pinholes) or a figure (units), over the whole piece."""
    if name in model.stitch:
        return model.stitch[name]
    if name in GROUNDS:
        return ground_pinholes(model, name)
    return np.concatenate([model.sites[unit.name].chosen for unit in FILLINGS[name].units])
