"""From a finished square back to the values of a formula: the inverse of `explore.finish`."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from constraints.design import Design
from constraints.formula import TRUE
from constraints.lattice import BoolArray, IntArray
from constraints.layout import lay
from constraints.scallops import without_own
from constraints.stitches import DOUBLE
from constraints.variables import Model
from explore.bad_input import BadInput
from explore.compose.fillings import fields


def values_of(model: Model, design: Design) -> BoolArray:
    """The values, (size,), of the formula that describe the square; all defined variables are worked out.

    The lace lies on the same piece under the square's symmetry or a looser one. Refused, with the rule, if the
    square does not keep the brief of the lace.
    """
    values = np.zeros(model.formula.size, dtype=np.bool_)
    layout = lay(replace(design, fillings=without_own(design.fillings, model.piece)))
    if len(layout.piece) != len(model.piece) or layout.strays:
        raise BadInput(f"square {design.number:02d} does not lie on this piece")
    for number, block in enumerate(design.blocks):
        if layout.piece.fan[layout.block == number].any():
            continue  # a fan, which the lace has by itself
        if block.stitch not in model.stitch:
            raise BadInput(f"square {design.number:02d} holds {block.stitch} stitch, which its brief does not allow")
        places = [model.piece.index[point] for point in block.pinholes]
        _set(values, model.stitch[block.stitch][places])
    field = fields(model, layout.inside)
    in_unit = np.zeros(len(model.piece), dtype=np.bool_)
    for placed in layout.units:
        sites = model.sites.get(placed.unit.name)
        wanted = np.zeros(0, dtype=np.int64) if sites is None else _sites_at(sites.centres, placed.centres)
        if sites is None or len(wanted) < len(placed.centres):
            raise BadInput(f"square {design.number:02d} holds a {placed.unit.name} where its brief allows none")
        _set(values, sites.chosen[wanted])
        in_unit[placed.places] = True
        inside = np.isin(field, np.setdiff1d(field[sites.holes[wanted]], [-1]))
        label(model, values, placed.unit.name, inside)
        if placed.unit.aligned:
            model.align(values, field, sites.holes[wanted, 0])
    _double(model, values, field, layout.double, in_unit)
    values = model.formula.complete(values)
    broken = model.formula.broken(values)
    if broken:
        raise BadInput(f"square {design.number:02d} does not keep its brief: {', '.join(broken)}")
    return values


def label(model: Model, values: BoolArray, kind: str, inside: BoolArray) -> None:
    """Write the kind of a field on its holes, (m,), in place; "" for plain ground."""
    for bit, literals in enumerate(model.labels.bits[:, inside]):
        real = literals[literals > TRUE]
        values[real] = bool(kind) and bool(model.labels.codes[kind] >> bit & 1)


def _set(values: BoolArray, literals: IntArray) -> None:
    values[literals[literals > TRUE]] = True


def _sites_at(centres: IntArray, wanted: IntArray) -> IntArray:
    """The numbers of the sites at these centres; those that are not there are left out."""
    index = {(x, y): number for number, (x, y) in enumerate(centres.tolist())}
    return np.array([index[x, y] for x, y in wanted.tolist() if (x, y) in index], dtype=np.int64)


def _double(model: Model, values: BoolArray, field: IntArray, double: BoolArray, in_unit: BoolArray) -> None:
    """Fields all whose pinholes are worked in double ground, but for those of units beside them."""
    if DOUBLE not in model.labels.codes:
        return
    for number in np.unique(field[double[model.piece.holes].any(axis=1) & (field >= 0)]).tolist():
        corners = model.piece.holes[field == number]
        if (double | in_unit)[corners].all():
            label(model, values, DOUBLE, field == number)
