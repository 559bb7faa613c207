"""Where real pins stand in a piece, and how many it takes.

An open pinhole takes one pin. A block is pinned only along its border: a place all of whose four neighbours
lie in the same block is worked without one, but for the cleft of a block that splits or merges, where two workers part
or meet (from a lacemaker's memory, no source). Where a block is worked in halves, pins on the corner line stand in
place of those beside it. Figures have pins where their filling says.
So a diamond with n pinholes a side takes 4(n - 1). Corner pins off the grid are optional and not counted.
"""

from __future__ import annotations

import numpy as np

from constraints.design import Design
from constraints.edgings.outer_side import outer_pins, worked_over
from constraints.lattice import FloatArray, IntArray
from constraints.layout import Layout, lay
from constraints.rules.one_worker import notches
from constraints.seams import seams_of


def pins(design: Design) -> int:
    """How many pins a design takes."""
    return len(pin_places(lay(design)))


def pin_places(layout: Layout, open_: bool = False) -> FloatArray:
    """(pins, 2) where they stand, lattice units: pinned pinholes in their order, then pins of figures, then those on
    corner lines. open_: whether seams are open."""
    piece = layout.piece
    beside = np.append(layout.block, -1)[piece.neighbours]
    border = (beside != layout.block[:, None]).any(axis=1)
    pinned = ~layout.inside | (border & ~worked_over(piece))
    pinned[clefts(layout)] = True
    seams = seams_of(layout, open_)
    pinned[seams.beside(kept=False)], pinned[seams.beside(kept=True)] = False, True
    centres = [np.empty((0, 2))]
    for placed in layout.units:
        if placed.unit.pins:
            pinned[placed.places] = False
            own = placed.centres[:, None] + np.array(placed.unit.pins)
            centres.append(own.reshape(-1, 2).astype(np.float64))
    return np.concatenate([piece.pinholes[pinned].astype(np.float64), *centres, seams.pins, outer_pins(piece)])


def clefts(layout: Layout) -> IntArray:
    """(k,) the pinholes amid a block at which it splits or merges: where two workers part or meet."""
    piece = layout.piece
    inside, missing = notches(piece, layout.design.corners)
    own = layout.block[inside[:, 0]]
    parted = (own >= 0) & (layout.block[inside] == own[:, None]).all(axis=1) & (layout.block[missing] != own)
    middle, own = inside[parted, 0], own[parted]
    # At the tip of a block a worker turns round its pin as round any other.
    around = np.append(layout.block, -1)[piece.neighbours[middle]]
    amid: IntArray = middle[(around == own[:, None]).all(axis=1)]
    return amid
