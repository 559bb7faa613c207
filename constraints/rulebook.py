"""The model of a design: its variables and the rules it obeys. Nothing else decides what is allowed."""

from __future__ import annotations

import sys
from collections.abc import Callable

from constraints import fillings
from constraints.piece import Piece
from constraints.rules.corners import corners
from constraints.rules.least import least
from constraints.rules.narrowest import narrowest
from constraints.rules.narrowest_ground import narrowest_ground
from constraints.rules.one_filling import one_filling
from constraints.rules.one_stitch import one_stitch
from constraints.rules.one_worker import one_worker
from constraints.rules.solid import solid
from constraints.rules.units import units
from constraints.rules.widest import widest
from constraints.ruleset import Rules
from constraints.variables import Model

Rule = Callable[[Model], None]

BLOCK_RULES: tuple[Rule, ...] = (one_worker, corners, narrowest, widest, narrowest_ground)
# What explanations call them.
BLOCK_NAMES: tuple[str, ...] = tuple(sys.modules[rule.__module__].NAME for rule in BLOCK_RULES)
RULES: tuple[Rule, ...] = (*BLOCK_RULES, one_stitch, one_filling, units, *fillings.RULES, solid, least)


def build(piece: Piece, limits: Rules, rules: tuple[Rule, ...] = RULES) -> Model:
    """The variables of a square on the piece with every rule written down (the stamp's match apart)."""
    result = Model(piece, limits)
    for rule in rules:
        rule(result)
    return result
