"""Between a finished piece and the values of a model: decoded, its blocks and fillings; encoded, its values.

The one place that knows which literals say that a place lies in a block, a figure or a field of a kind.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from constraints import stitches
from constraints.alignment import stands
from constraints.design import Block, Design, FieldFilling
from constraints.edgings.own_figures import with_own, without_own
from constraints.fillings import GROUNDS
from constraints.formula import TRUE, truth, variable_of
from constraints.lattice import BoolArray, IntArray, diagonals, in_order
from constraints.layout import Layout, blocks_of, fields_of, lay_on
from constraints.places import BLOCK, OPEN, sort_of
from constraints.repeats import laid_once
from constraints.variables import Model, Sites


class Unfitting(ValueError):
    """A piece that a model cannot describe. The message says what of it, after "holds" or "does"."""


# --- decoding --------------------------------------------------------------------------------------------


def decode(model: Model, values: BoolArray) -> tuple[tuple[Block, ...], tuple[FieldFilling, ...]]:
    """The blocks and the fillings that the values of a model describe, figures of a headside among them."""
    return _blocks(model, values), with_own(tuple(_fillings(model, values)), model.piece)


def chosen(values: BoolArray, sites: Sites) -> BoolArray:
    """(s,) whether a figure stands on each of the sites."""
    return truth(values, sites.chosen) if len(sites.chosen) else np.zeros(0, dtype=np.bool_)


def in_fields(model: Model, values: BoolArray, kind: str) -> BoolArray:
    """(m,) whether each hole lies in a field of a kind: of a figure, or of a ground."""
    labelled = truth(values, model.labels.literals(kind, np.arange(len(model.field_hole))))
    found: BoolArray = labelled.all(axis=1) & model.field_hole
    return found


def sorts_of(model: Model, values: BoolArray) -> IntArray:
    """(n,) the sort of every place, as `places.sort_places` has it of the finished piece."""
    found = np.where(truth(values, model.block), BLOCK, OPEN)
    for name in reversed(GROUNDS):
        if name in model.labels.codes:
            found[model.piece.holes[in_fields(model, values, name)]] = sort_of(name)
    for sites in model.sites.values():
        found[sites.pinholes[chosen(values, sites)]] = sort_of(sites.unit.name)
    return found


def _blocks(model: Model, values: BoolArray) -> tuple[Block, ...]:
    piece = model.piece
    stitch = np.full(len(piece), -1)
    for name, literals in model.stitch.items():
        stitch[truth(values, literals)] = stitches.NUMBERS[name]
    if piece.headside is not None and piece.headside.solid:
        stitch[piece.fan] = stitches.NUMBERS[piece.headside.stitch]
    return blocks_of(piece, stitch)


def _fillings(model: Model, values: BoolArray) -> list[FieldFilling]:
    found = []
    taken = np.zeros(len(model.piece), dtype=np.bool_)
    for name, sites in model.sites.items():
        here = chosen(values, sites)
        if here.any():
            taken[sites.pinholes[here].reshape(-1)] = True
            found.append(FieldFilling(name, in_order(sites.centres[here])))
    for name in GROUNDS:
        if name in model.labels.codes:
            own = np.setdiff1d(model.piece.holes[in_fields(model, values, name)].reshape(-1), np.flatnonzero(taken))
            taken[own] = True
            if len(own):
                found.append(FieldFilling(name, in_order(model.piece.pinholes[own])))
    return found


# --- encoding --------------------------------------------------------------------------------------------


def encode(model: Model, design: Design) -> BoolArray:
    """The values, (size,), that describe a piece, but for the variables that are defined by others.

    The model lies on what is composed of the same form, under the design's symmetry or a looser one. Unfitting if the
    piece holds what the model does not allow.
    """
    values = np.zeros(model.formula.size, dtype=np.bool_)
    laid = laid_once(design)
    design = replace(laid.design, fillings=without_own(laid.design.fillings, model.piece))
    layout = lay_on(design, laid.piece)
    if len(layout.piece) != len(model.piece) or layout.strays:
        raise Unfitting("does not lie on this piece")
    for number, block in enumerate(design.blocks):
        if layout.piece.fan[layout.block == number].any():
            continue  # a fan, which the model has by itself
        if block.stitch not in model.stitch:
            raise Unfitting(f"holds {block.stitch} stitch, which its brief does not allow")
        set_true(values, model.stitch[block.stitch][[model.piece.index[point] for point in block.pinholes]])
    field = fields_of(model.piece, layout.inside)
    for placed in layout.units:
        sites = model.sites.get(placed.unit.name)
        wanted = np.zeros(0, dtype=np.int64) if sites is None else _sites_at(sites.centres, placed.centres)
        if sites is None or len(wanted) < len(placed.centres):
            raise Unfitting(f"holds a {placed.unit.name} where its brief allows none")
        stand(model, values, field, sites, wanted)
    for name in GROUNDS:
        _ground(model, values, field, layout, name)
    return values


def label(model: Model, values: BoolArray, kind: str, inside: BoolArray) -> None:
    """Write the kind of a field on its holes, (m,), in place; "" for plain ground."""
    for bit, literals in enumerate(model.labels.bits[:, inside]):
        real = literals[literals > TRUE]
        values[real] = bool(kind) and bool(model.labels.codes[kind] >> bit & 1)


def stand(model: Model, values: BoolArray, field: IntArray, sites: Sites, wanted: IntArray) -> None:
    """Write figures on these sites, by number, and their fields with them, in place. field: (m,) that of each hole."""
    set_true(values, sites.chosen[wanted])
    inside = np.isin(field, np.setdiff1d(field[sites.holes[wanted]], [-1]))
    if inside.any():
        label(model, values, sites.unit.name, inside)
    if sites.unit.aligned and len(wanted):
        align(model, values, field, sites.holes[wanted, 0])


def align(model: Model, values: BoolArray, field: IntArray, holes: IntArray) -> None:
    """Write, in place, that the figures of a field stand in line with one at the first of these holes.

    field: (m,) the number of the field of each hole, -1 for none. holes: (k,), of one field or of several.
    """
    in_line = stands(model.piece, field)
    numbers, firsts = np.unique(field[holes], return_index=True)
    for hole in holes[firsts[numbers >= 0]].tolist():
        inside = np.flatnonzero(field == field[hole])
        u, v = diagonals(model.piece.hole_centres[inside]).T
        # Where a hole in line with the figure has numbers of another kind, they begin anew between the two.
        beyond = in_line[inside] ^ in_line[hole]
        for literals, row in ((model.labels.even_u, u + (beyond & 1)), (model.labels.even_v, v + (beyond >> 1))):
            here = literals[inside]
            values[variable_of(here)] = (row % 2 == 0) == (here >= 0)


def set_true(values: BoolArray, literals: IntArray) -> None:
    """Make literals true, in place; those that are certain stay."""
    values[literals[literals > TRUE]] = True


def _sites_at(centres: IntArray, wanted: IntArray) -> IntArray:
    """The numbers of the sites at these centres; those that are not there are left out."""
    index = {(x, y): number for number, (x, y) in enumerate(centres.tolist())}
    return np.array([index[x, y] for x, y in wanted.tolist() if (x, y) in index], dtype=np.int64)


def _ground(model: Model, values: BoolArray, field: IntArray, layout: Layout, name: str) -> None:
    """Fields all whose pinholes are worked in a ground, but for those of figures and other grounds beside them."""
    if name not in model.labels.codes or name not in layout.grounds:
        return
    own, holes = layout.grounds[name], model.piece.holes
    taken = (layout.unit_of >= 0) | (layout.ground >= 0)
    for number in np.unique(field[own[holes].any(axis=1) & (field >= 0)]).tolist():
        if taken[holes[field == number]].all():
            label(model, values, name, field == number)
