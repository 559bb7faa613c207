"""From the values of a formula to a Square."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from constraints import forms
from constraints.design import Block, Design, FieldFilling, Print
from constraints.forms import Form
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray, Point
from constraints.layout import components
from constraints.piece import Piece
from constraints.rules.one_worker import notches
from constraints.scallops import with_own
from constraints.stitches import DOUBLE, FILLINGS, UNITS
from constraints.variables import Model


def finish(
    model: Model,
    values: BoolArray,
    *,
    pitch_mm: float,
    pairs: int,
    stamp: Print | None,
    brief: Mapping[str, Any],
    composition: str,
    form: Form | None = None,
) -> Design:
    """The square that these values describe, not yet numbered. form: None for a plain square; of a strip the values
    describe one repeat."""
    piece = model.piece
    block = truth(values, model.block)
    return Design(
        number=0,
        form=form or forms.Square(int(piece.pinholes.max())),
        pitch_mm=pitch_mm,
        worked=piece.worked,
        symmetry=piece.symmetry,
        passives=model.brief.passives,
        pairs=pairs,
        splits=splits(piece, block, model.brief.corners),
        blocks=_blocks(model, values, block),
        fillings=with_own(tuple(_fillings(model, values)), piece),
        stamp=stamp,
        seed=model.brief.seed,
        brief=brief,
        composition=composition,
    )


def splits(piece: Piece, block: BoolArray, corners: str) -> int:
    """How often a block splits or merges over the whole piece. corners: as in the brief."""
    inside, missing = notches(piece, corners)
    return int((block[inside].all(axis=1) & ~block[missing]).sum())


def _points(points: IntArray) -> tuple[Point, ...]:
    return tuple(sorted(((int(x), int(y)) for x, y in points), key=lambda p: (p[1], p[0])))


def _blocks(model: Model, values: BoolArray, block: BoolArray) -> tuple[Block, ...]:
    blocks = []
    for places in block_list(model.piece, block):
        first = model.piece.index[places[0]]
        if model.piece.headside is not None and model.piece.fan[first]:
            blocks.append(Block(model.piece.headside.stitch, places))
            continue
        stitch = next(name for name, literal in model.stitch.items() if truth(values, literal[[first]])[0])
        blocks.append(Block(stitch, places))
    return tuple(blocks)


def block_list(piece: Piece, block: BoolArray) -> list[tuple[Point, ...]]:
    """The places of every connected block, (n,) places of all blocks given."""
    component = components(piece.neighbours, np.where(block, 0, -1))
    places = np.flatnonzero(block)
    places = places[np.argsort(component[places], kind="stable")]
    starts = np.flatnonzero(np.diff(component[places])) + 1
    return [_points(piece.pinholes[each]) for each in np.split(places, starts) if len(each)]


def _fillings(model: Model, values: BoolArray) -> list[FieldFilling]:
    found = []
    in_unit = np.zeros(len(model.piece), dtype=bool)
    for name, sites in model.sites.items():
        chosen = truth(values, sites.chosen) if len(sites.chosen) else np.zeros(0, dtype=bool)
        if not chosen.any():
            continue
        in_unit[sites.pinholes[chosen].reshape(-1)] = True
        unit = UNITS[name]
        found.append(FieldFilling(FILLINGS[unit.kind].words, _points(sites.centres[chosen]), unit.legs))
    if DOUBLE in model.labels.codes:
        holes = np.flatnonzero(model.field_hole)
        double = truth(values, model.labels.literals(DOUBLE, holes)).all(axis=1)
        pinholes = np.setdiff1d(model.piece.holes[holes[double]].reshape(-1), np.flatnonzero(in_unit))
        if len(pinholes):
            found.append(FieldFilling(FILLINGS[DOUBLE].words, _points(model.piece.pinholes[pinholes])))
    return found
