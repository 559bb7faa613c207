"""Grounds: where a field is worked in a ground of its own, all its pinholes outside figures are.

At a pinhole where two such fields meet, the first of their grounds is worked, as the fillings are ordered. Common
practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.fillings import GROUNDS, NUMBERS, OF_KIND
from constraints.formula import FALSE
from constraints.lattice import IntArray
from constraints.variables import Model


def ground_pinholes(model: Model, name: str) -> IntArray:
    """(n,) literals: the pinhole is worked in this ground, or in a figure of a field beside it."""
    if name not in model.labels.codes:
        return np.full(len(model.piece), FALSE)
    own = _corners(model, name)
    before = [each for each in GROUNDS if each in model.labels.codes and NUMBERS[each] < NUMBERS[name]]
    if not before:
        return own
    others = [~_corners(model, each) for each in before]
    return model.formula.all_of(OF_KIND[name].one, np.stack([own, *others], axis=1))


def _corners(model: Model, name: str) -> IntArray:
    """(n,) literals: the pinhole is a corner of a hole of such a field."""
    rule = OF_KIND[name].one
    holes = np.flatnonzero(model.field_hole)
    label = model.formula.all_of(rule, model.labels.literals(name, holes))
    return model.formula.any_of(rule, model.covering(model.piece.holes[holes], label))
