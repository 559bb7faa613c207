"""Solid: the share of all pinholes that lie in blocks."""

from __future__ import annotations

import math

import numpy as np

from constraints.variables import Model

NAME = "solid share"


def solid(model: Model) -> None:
    """Between the least and the greatest share of the brief, counted over the whole piece, its headside aside."""
    least, most = model.rules.solid
    own = ~model.piece.fan
    total = int(own.sum())
    model.formula.linear(
        NAME,
        model.block[own],
        np.ones(total, dtype=np.int64),
        math.ceil(least * total - 1e-9),
        math.floor(most * total + 1e-9),
    )
