"""From the values of a formula to a Square."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from constraints import forms
from constraints.forms import Form
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray, Point
from constraints.layout import components
from constraints.piece import Piece
from constraints.rules.one_worker import notches
from constraints.scallops import with_own
from constraints.square import Block, FieldFilling, Print, Design
from constraints.stitches import DOUBLE, FILLINGS, UNITS
from constraints.variables import Model


def finish(
    lace: Model,
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
    piece = lace.piece
    block = truth(values, lace.block)
    return Design(
        number=0,
        form=form or forms.Square(int(piece.pinholes.max())),
        pitch_mm=pitch_mm,
        worked=piece.worked,
        symmetry=piece.symmetry,
        passives=lace.brief.passives,
        pairs=pairs,
        splits=splits(piece, block, lace.brief.corners),
        blocks=_blocks(lace, values, block),
        fillings=with_own(tuple(_fillings(lace, values)), piece),
        stamp=stamp,
        seed=lace.brief.seed,
        brief=brief,
        composition=composition,
    )


def splits(piece: Piece, block: BoolArray, corners: str) -> int:
    """How often a block splits or merges over the whole piece. corners: as in the brief."""
    inside, missing = notches(piece, corners)
    return int((block[inside].all(axis=1) & ~block[missing]).sum())


def _points(points: IntArray) -> tuple[Point, ...]:
    return tuple(sorted(((int(x), int(y)) for x, y in points), key=lambda p: (p[1], p[0])))


def _blocks(lace: Model, values: BoolArray, block: BoolArray) -> tuple[Block, ...]:
    blocks = []
    for places in block_list(lace.piece, block):
        first = lace.piece.index[places[0]]
        if lace.piece.headside is not None and lace.piece.fan[first]:
            blocks.append(Block(lace.piece.headside.stitch, places))
            continue
        stitch = next(name for name, literal in lace.stitch.items() if truth(values, literal[[first]])[0])
        blocks.append(Block(stitch, places))
    return tuple(blocks)


def block_list(piece: Piece, block: BoolArray) -> list[tuple[Point, ...]]:
    """The places of every connected block, (n,) places of all blocks given."""
    component = components(piece.neighbours, np.where(block, 0, -1))
    places = np.flatnonzero(block)
    places = places[np.argsort(component[places], kind="stable")]
    starts = np.flatnonzero(np.diff(component[places])) + 1
    return [_points(piece.pinholes[each]) for each in np.split(places, starts) if len(each)]


def _fillings(lace: Model, values: BoolArray) -> list[FieldFilling]:
    found = []
    in_unit = np.zeros(len(lace.piece), dtype=bool)
    for name, sites in lace.sites.items():
        chosen = truth(values, sites.chosen) if len(sites.chosen) else np.zeros(0, dtype=bool)
        if not chosen.any():
            continue
        in_unit[sites.pinholes[chosen].reshape(-1)] = True
        unit = UNITS[name]
        found.append(FieldFilling(FILLINGS[unit.kind].words, _points(sites.centres[chosen]), unit.legs))
    if DOUBLE in lace.labels.codes:
        holes = np.flatnonzero(lace.field_hole)
        double = truth(values, lace.labels.literals(DOUBLE, holes)).all(axis=1)
        pinholes = np.setdiff1d(lace.piece.holes[holes[double]].reshape(-1), np.flatnonzero(in_unit))
        if len(pinholes):
            found.append(FieldFilling(FILLINGS[DOUBLE].words, _points(lace.piece.pinholes[pinholes])))
    return found
