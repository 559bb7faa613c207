"""How pinholes are worked, and the share that has changed from one square to another.

Pinholes are worked alike as for the `constraints.difference` of two squares, but each is held against the one at its
own place.
"""

from __future__ import annotations

import numpy as np

from constraints.design import Design
from constraints.lattice import IntArray
from constraints.places import PLAIN, lie_in_blocks, lie_in_fillings, map_without_headside, sort_places
from constraints.repeats import laid_once


def sorts_in(design: Design) -> IntArray:
    """(n,) how each pinhole of what is composed is worked, as a number."""
    return sort_places(exact(design))


def share(first: IntArray, second: IntArray) -> float:
    """The share of pinholes that are not worked alike, each compared with the one at its own place."""
    return float((first != second).mean())


def exact(design: Design) -> IntArray:
    """(n, 3) everything about each pinhole of what is composed, a headside's own figures aside, as
    `constraints.places.map_places`: what must stay where it is kept."""
    return map_without_headside(laid_once(design))


def blocks_alone(found: IntArray) -> IntArray:
    """(n,) of everything about each pinhole the stitch of its block, PLAIN where it lies in none."""
    return np.where(lie_in_blocks(found), found[:, 0], PLAIN)


def fillings_alone(found: IntArray) -> IntArray:
    """(n, 3) everything about each pinhole, with all blocks as plain ground."""
    return np.where(lie_in_fillings(found)[:, None], found, [PLAIN, 0, 0])
