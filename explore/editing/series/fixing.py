"""A shared part in a formula: fixed by clauses, and laid into the values that the solver starts from."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from constraints.alignment import stands
from constraints.encoding import align, label
from constraints.fillings import GROUNDS
from constraints.formula import FALSE, TRUE
from constraints.lattice import BoolArray, IntArray
from constraints.layout import fields_of
from constraints.rules.grounds import ground_pinholes
from constraints.variables import Model, Sites
from explore.editing.series.family import Family
from explore.editing.series.places import NO_BLOCK, in_block

NAME = "shared part"


def keep(model: Model, found: Family) -> None:
    """Write clauses that fix every pinhole of the part as the family works it."""
    formula, names = model.formula, _by_index(model, found)
    grounds = {name: ground_pinholes(model, name) for name in GROUNDS if name in {*model.labels.codes, *names.values()}}
    for pinhole, name in names.items():
        if not in_block(name):
            formula.clause(NAME, ~model.block[[pinhole]])
            if name != NO_BLOCK:
                for ground, literals in grounds.items():
                    formula.clause(NAME, literals[[pinhole]] if ground == name else ~literals[[pinhole]])
            continue
        for stitch, literals in model.stitch.items():
            formula.clause(NAME, literals[[pinhole]] if stitch == name else ~literals[[pinhole]])
        if name not in model.stitch:
            formula.clause(NAME, np.array([FALSE]))
    for sites, touched, wanted in _units(model, names):
        formula.clause(NAME, sites.chosen[wanted])
        formula.clause(NAME, ~sites.chosen[touched & ~wanted])
    figures = {name.split(" at ")[0] for name in names.values() if " at " in name}
    if figures - set(model.sites):
        formula.clause(NAME, np.array([FALSE]))


def hint(model: Model, found: Family, base: Mapping[int, str], values: BoolArray) -> None:
    """Lay the part into composed values, in place. base: pinhole to stitch for its blocks and what goes on there."""
    names = _by_index(model, found)
    block = np.zeros(len(model.piece), dtype=np.bool_)
    for literals in model.stitch.values():
        block[(literals > TRUE) & values[np.maximum(literals, 0)]] = True
    for pinhole, name in base.items():
        for stitch, literals in model.stitch.items():
            _set(values, literals[[pinhole]], stitch == name)
    field = fields_of(model.piece, block)
    units = list(_units(model, names))
    for sites, _, wanted in units:
        for number in np.unique(field[sites.holes[wanted]]).tolist():
            _refill(model, sites, wanted, field == number, values)
    for sites, touched, wanted in units:
        _set(values, sites.chosen[touched & ~wanted], False)
        _set(values, sites.chosen[wanted], True)


def _by_index(model: Model, found: Family) -> dict[int, str]:
    return {model.piece.index[point]: name for point, name in found.part.items()}


def _units(model: Model, names: Mapping[int, str]) -> list[tuple[Sites, BoolArray, BoolArray]]:
    """Of every kind of unit: its sites, which of them touch the part, and which of these it holds."""
    closed = np.zeros(len(model.piece), dtype=np.bool_)
    closed[[pinhole for pinhole, name in names.items() if name != NO_BLOCK]] = True
    held = set(names.values())
    found = []
    for kind, sites in model.sites.items():
        touched: BoolArray = np.any(closed[sites.pinholes], axis=1)
        wanted = np.array([f"{kind} at {x},{y}" in held for x, y in sites.centres.tolist()], dtype=np.bool_)
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


def _set(values: BoolArray, literals: IntArray, truth: bool) -> None:
    values[literals[literals > TRUE]] = truth
