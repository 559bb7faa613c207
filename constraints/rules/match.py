"""Match: how much of the stamp the blocks show.

target: pinholes whose diamond cell |dx| + |dy| <= 1 the stamp covers at least half. near: other pinholes
within 2 units of it. match = |target and block| / |target or (block and near)|.
"""

from __future__ import annotations

import math

import numpy as np

from constraints.formula import Linear, linear
from constraints.lattice import IntArray
from constraints.targets import Target
from constraints.variables import Model

NAME = "match"

# Weights are whole numbers; a share finer than this is not told apart.
_SCALE = 10_000


def match(model: Model, target: Target, least: float) -> Linear:
    """The linear form of match >= least: |target and block| >= least x (|target| + |block and near|)."""
    literals, weights, constant = match_terms(model, target, least)
    return linear(NAME, literals, weights, constant, int(np.abs(weights).sum()) + abs(constant))


def match_terms(model: Model, target: Target, least: float) -> tuple[IntArray, IntArray, int]:
    """Literals, weights and bound: match >= least exactly when the weighted sum reaches the bound."""
    shown = ~model.block if target.reverse else model.block
    share = math.ceil(least * _SCALE - 1e-9)
    literals = np.concatenate([shown[target.inside], shown[target.near]])
    weights = np.concatenate(
        [np.full(len(target.inside), _SCALE, dtype=np.int64), np.full(len(target.near), -share, dtype=np.int64)]
    )
    return literals, weights, share * len(target.inside)
