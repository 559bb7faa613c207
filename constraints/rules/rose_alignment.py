"""Rose alignment: the units of a rose field stand on every second hole along both diagonals.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.alignment import diagonals
from constraints.variables import Model

NAME = "rose alignment"


def rose_alignment(model: Model) -> None:
    """A unit at hole (u, v) asks its field for the alignment u mod 2, v mod 2."""
    for sites in model.sites.values():
        if not sites.unit.aligned or not len(sites.pinholes):
            continue
        holes = sites.holes[:, 0]
        for numbers, even in zip(diagonals(sites.centres).T, (model.labels.even_u, model.labels.even_v), strict=True):
            wanted = np.where(numbers % 2 == 0, even[holes], ~even[holes])
            model.formula.implies(NAME, sites.chosen, wanted)
