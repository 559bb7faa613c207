"""A shared part in a formula: fixed by clauses, and laid into the values that the solver starts from."""

from __future__ import annotations

import numpy as np

from constraints.alignment import stands
from constraints.encoding import align, label
from constraints.fillings import GROUNDS
from constraints.formula import FALSE, TRUE
from constraints.lattice import BoolArray, Grid, IntArray
from constraints.layout import fields_of
from constraints.places import KIND_NUMBERS
from constraints.rules.grounds import ground_pinholes
from constraints.variables import Model, Sites
from explore.editing.series.part import NO_BLOCK, Part

NAME = "shared part"


def keep(model: Model, part: Part) -> None:
    """Write clauses that fix every pinhole of the part as it is worked."""
    formula = model.formula
    pinholes, numbers, inside = part.on(model.piece), part.numbers, part.in_block
    formula.clause(NAME, ~model.block[pinholes[~inside]])
    for stitch, literals in model.stitch.items():
        _fix(model, literals[pinholes[inside]], numbers[inside] == KIND_NUMBERS[stitch])
    told = ~inside & (numbers != NO_BLOCK)
    for ground in GROUNDS:
        if ground in model.labels.codes:
            _fix(model, ground_pinholes(model, ground)[pinholes[told]], numbers[told] == KIND_NUMBERS[ground])
    for sites, touched, wanted in _units(model, part):
        _fix(model, sites.chosen[touched], wanted[touched])
    if not part.kinds <= {*model.stitch, *model.labels.codes}:
        formula.clause(NAME, np.array([FALSE]))


def _fix(model: Model, literals: IntArray, truth: BoolArray) -> None:
    model.formula.clause(NAME, np.where(truth, literals, ~literals))


def hint(model: Model, part: Part, base: IntArray, values: BoolArray) -> None:
    """Lay the part into composed values, in place.

    base: (n,) the stitch of its blocks and of what goes on there, as `constraints.places`; PLAIN elsewhere.
    """
    block = np.zeros(len(model.piece), dtype=np.bool_)
    for literals in model.stitch.values():
        block[(literals > TRUE) & values[np.maximum(literals, 0)]] = True
    for stitch, literals in model.stitch.items():
        _set(values, literals[base >= 0], (base == KIND_NUMBERS[stitch])[base >= 0])
    field = fields_of(model.piece, block)
    units = _units(model, part)
    for sites, _, wanted in units:
        for number in np.unique(field[sites.holes[wanted]]).tolist():
            _refill(model, sites, wanted, field == number, values)
    for sites, touched, wanted in units:
        _set(values, sites.chosen[touched], wanted[touched])


def _units(model: Model, part: Part) -> list[tuple[Sites, BoolArray, BoolArray]]:
    """Of every kind of unit: its sites, which of them touch the part, and which of these it holds."""
    closed = np.zeros(len(model.piece), dtype=np.bool_)
    closed[part.on(model.piece)[part.numbers != NO_BLOCK]] = True
    found = []
    for kind, sites in model.sites.items():
        touched: BoolArray = np.any(closed[sites.pinholes], axis=1)
        wanted = Grid.of(part.centres(KIND_NUMBERS[kind])).at(sites.centres) >= 0
        found.append((sites, touched, wanted))
    return found


def _refill(model: Model, sites: Sites, wanted: BoolArray, inside: BoolArray, values: BoolArray) -> None:
    """Give a field the filling that the part has in it: other figures go, and those in line that stand otherwise."""
    for other in model.sites.values():
        here = inside[other.holes].any(axis=1)
        if other is not sites:
            _set(values, other.chosen[here], False)
    label(model, values, sites.unit.name, inside)
    if sites.unit.aligned:
        field = np.where(inside, 0, -1)
        stand = stands(model.piece, field)[sites.holes[:, 0]]
        own = np.flatnonzero(wanted & inside[sites.holes].any(axis=1))
        align(model, values, field, sites.holes[own, 0])
        stray = (stand != stand[own[0]]) & inside[sites.holes].any(axis=1)
        _set(values, sites.chosen[stray], False)


def _set(values: BoolArray, literals: IntArray, truth: BoolArray | bool) -> None:
    free = literals > TRUE
    values[literals[free]] = np.broadcast_to(truth, literals.shape)[free]
