"""The model of a design: its variables and the rules it obeys. Nothing else decides what is allowed."""

from __future__ import annotations

from constraints import fillings
from constraints.fillings import Rule
from constraints.piece import Piece
from constraints.rules import corners, narrowest, narrowest_ground, one_worker, widest
from constraints.rules.least import least
from constraints.rules.one_filling import one_filling
from constraints.rules.one_stitch import one_stitch
from constraints.rules.solid import solid
from constraints.rules.units import units
from constraints.ruleset import Rules
from constraints.variables import Model

# Those that speak of blocks alone, by what explanations call them.
_BLOCK: dict[str, Rule] = {
    one_worker.NAME: one_worker.one_worker,
    corners.NAME: corners.corners,
    narrowest.NAME: narrowest.narrowest,
    widest.NAME: widest.widest,
    narrowest_ground.NAME: narrowest_ground.narrowest_ground,
}
BLOCK_NAMES, BLOCK_RULES = tuple(_BLOCK), tuple(_BLOCK.values())
RULES: tuple[Rule, ...] = (*BLOCK_RULES, one_stitch, one_filling, units, *fillings.RULES, solid, least)


def build(piece: Piece, rules: Rules, written: tuple[Rule, ...] = RULES) -> Model:
    """The variables of a design on the piece with rules written down, all unless told (a stamp's match apart)."""
    result = Model(piece, rules)
    for rule in written:
        rule(result)
    return result
