"""How pinholes are worked, and the share that has changed from one square to another.

Pinholes are worked alike as for the `constraints.difference` of two squares, but each is held against the one at its
own place.
"""

from __future__ import annotations

import numpy as np

from constraints import difference
from constraints.design import Design
from constraints.difference import BLOCK, DOUBLED, OF_KIND, kinds
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray
from constraints.layout import lay
from constraints.places import PLAIN, worked
from constraints.stitches import DOUBLE, STITCHES
from constraints.variables import Model


def ways(design: Design) -> IntArray:
    """(n,) how each pinhole of a square is worked, as a number."""
    return kinds(lay(design))


def ways_of(model: Model, values: BoolArray) -> IntArray:
    """(n,) the same for the square that the values of a formula describe."""
    found = np.where(truth(values, model.block), BLOCK, difference.PLAIN)
    if DOUBLE in model.labels.codes:
        holes = np.flatnonzero(model.field_hole)
        double = truth(values, model.labels.literals(DOUBLE, holes)).all(axis=1)
        found[model.piece.holes[holes[double]]] = DOUBLED
    for sites in model.sites.values():
        if len(sites.chosen):
            found[sites.pinholes[values[sites.chosen]]] = OF_KIND[sites.unit.kind]
    return found


def share(first: IntArray, second: IntArray) -> float:
    """The share of pinholes that are not worked alike, each compared with the one at its own place."""
    return float((first != second).mean())


def exact(design: Design) -> IntArray:
    """(n, 3) everything about each pinhole, as `constraints.places.worked`: what must stay where it is kept."""
    return worked(lay(design))


def blocks_alone(found: IntArray) -> IntArray:
    """(n,) of everything about each pinhole the stitch of its block, PLAIN where it lies in none."""
    return np.where(found[:, 0] < len(STITCHES), found[:, 0], PLAIN)


def filled(found: IntArray) -> BoolArray:
    """(n,) of everything about each pinhole whether it lies in a figure or in double ground."""
    lies: BoolArray = found[:, 0] >= len(STITCHES)
    return lies


def fillings_alone(found: IntArray) -> IntArray:
    """(n, 3) everything about each pinhole, with all blocks as plain ground."""
    return np.where(filled(found)[:, None], found, [PLAIN, 0, 0])
