"""Eyes: small holes in a block of cloth stitch, made by its worker alone.

In the row of an eye the worker is twisted twice between two passives, on each of its ways through that row; the cloth
parts there. The block stays whole: no second worker, no split, as many pairs (from a lacemaker's memory, no source).
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from shapely.geometry import Polygon
from shapely.ops import unary_union

from constraints.design import Design, Ring
from constraints.lattice import (
    DOWN_LEFT,
    DOWN_RIGHT,
    STEPS,
    UP_LEFT,
    UP_RIGHT,
    BoolArray,
    FloatArray,
    IntArray,
    Point,
    in_order,
    walk,
)
from constraints.layout import Layout, as_points, lay, locate
from constraints.piece import Piece
from constraints.repeats import laid_once
from constraints.stitches import CLOTH, NUMBERS

TWISTS = 2  # of the worker, each time it passes an eye
# The area of a pinhole's cell, square lattice units; the hole of a print that one eye can show, in such cells.
CELL, LEAST, MOST = 2.0, 0.3, 3.0
# So far from the middle of a print's hole its eye may lie, lattice units: within the cells beside it.
_NEAR = 1.5


def places(layout: Layout) -> BoolArray:
    """(n,) where an eye can be: a pinhole of a block of cloth stitch with all eight round it in the block and in its
    quarter, in a row that meets no corner line, and not of a headside."""
    piece = layout.piece
    wanted = np.append(np.where(piece.fan | (layout.stitch != NUMBERS[CLOTH]), -1, layout.block), -1)
    zone = np.append(piece.zone, -1)
    block: IntArray = wanted[:-1]
    found: BoolArray = block >= 0
    for around in _around(piece):
        found = found & (wanted[around] == block) & (zone[around] == zone[:-1])
    allowed: BoolArray = found & ~_row_turns(piece, wanted, zone)
    return allowed


def holes_of(outlines: Iterable[Ring]) -> list[FloatArray]:
    """The middles (2,) of the small holes in a print, lattice units. outlines: rings, combined even-odd."""
    shape = Polygon()
    for ring in outlines:
        shape = shape.symmetric_difference(Polygon(ring).buffer(0))
    parts = getattr(unary_union(shape), "geoms", [shape])
    inner = [Polygon(hole) for part in parts for hole in getattr(part, "interiors", ())]
    kept = [hole for hole in inner if LEAST * CELL <= hole.area <= MOST * CELL]
    # A long slit has its middle where an eye shows little of it.
    round_ = [hole for hole in kept if _round(hole)]
    return [np.array(hole.centroid.coords[0]) for hole in round_]


def with_eyes(design: Design, outlines: Iterable[Ring]) -> Design:
    """A design with one more eye in every image of the small holes of its print that its blocks cover and that have
    none: at the place nearest to the middle of each. outlines: as in `Print`. Eyes change neither its pairs nor the
    way they run."""
    whole, once = _laid(design)
    free = places(once) & ~once.eyes & ~_beside(once.piece, np.flatnonzero(once.eyes))
    taken: list[int] = []
    for hole in holes_of(outlines):
        near = _near(once, hole)
        if not once.eyes[near].any() and free[near].any():
            taken += _taken(once, free, next(place for place in near if free[place]))
    return _opened(design, whole, once, taken)


def with_kept(design: Design, eyes: Iterable[Point]) -> Design:
    """A design with those of some eyes that can be in its blocks, each with all its images, and no others.

    eyes: of what it is made from, at their places on it; of a strip those of one repeat stand for all.
    """
    bare, wanted = design.opened(()), in_order(eyes)
    if not wanted:
        return bare
    whole, once = _laid(bare)
    free, taken = places(once), list[int]()
    for eye in locate(once.piece, as_points(wanted)).tolist():
        if eye >= 0 and free[eye]:
            taken += _taken(once, free, eye)
    return _opened(bare, whole, once, taken)


def _laid(design: Design) -> tuple[Layout, Layout]:
    """All of a design, and of a strip one repeat, on which eyes are chosen; of others the same."""
    whole = lay(design)
    return whole, laid_once(design)


def _taken(once: Layout, free: BoolArray, eye: int) -> list[int]:
    """A place and its images, if there is room for eyes in all of them; else none. free: (n,) where eyes can be,
    changed in place."""
    images = np.unique(once.piece.images[:, eye])
    if not free[images].all() or _beside(once.piece, images)[images].any():
        return []
    free[images] = False
    free[_beside(once.piece, images)] = False
    return [int(image) for image in images]


def _opened(design: Design, whole: Layout, once: Layout, taken: list[int]) -> Design:
    """With eyes of one repeat, by their indices on it, wherever they lie whole."""
    at = locate(once.piece, whole.piece.pinholes)
    more = whole.points(np.isin(at, taken) & places(whole))
    return design.opened(in_order({*design.eyes, *more}))


def _round(hole: Polygon) -> bool:
    """Whether a hole is about as wide as it is long."""
    return bool(hole.area >= 0.4 * hole.convex_hull.minimum_rotated_rectangle.area and _longest(hole) <= 4.0)


def _longest(hole: Polygon) -> float:
    left, top, right, bottom = hole.bounds
    return float(np.hypot(right - left, bottom - top))


def _near(layout: Layout, hole: FloatArray) -> list[int]:
    """The pinholes near the middle of a hole, the nearest first; of several as near the first of the piece."""
    cell = np.round(hole).astype(np.int64)
    steps = np.array([(x, y) for y in range(-2, 3) for x in range(-2, 3)])
    away = np.hypot(*(cell + steps - hole).T)
    at = locate(layout.piece, cell + steps)
    near = sorted((float(d), int(p)) for d, p in zip(away, at, strict=True) if p >= 0 and d <= _NEAR)
    return [place for _, place in near]


def _around(piece: Piece) -> list[IntArray]:
    """The eight pinholes round each, each (n,), -1 off the piece."""
    own = np.arange(len(piece))
    ring = []
    for step, onward in zip((DOWN_RIGHT, DOWN_LEFT, UP_LEFT, UP_RIGHT), (DOWN_LEFT, UP_LEFT, UP_RIGHT, DOWN_RIGHT),
                            strict=True):  # fmt: skip
        beside = walk(piece.neighbours, own, step)
        ring += [beside, walk(piece.neighbours, beside, onward)]
    return ring


def _beside(piece: Piece, eyes: IntArray) -> BoolArray:
    """(n,) the eight pinholes round each of some eyes."""
    found = np.zeros(len(piece) + 1, dtype=np.bool_)
    for around in _around(piece):
        found[around[eyes]] = True
    beside: BoolArray = found[:-1]
    return beside


def _row_turns(piece: Piece, block: IntArray, zone: IntArray) -> BoolArray:
    """(n,) whether the row of a pinhole's block meets a corner line. block, zone: (n + 1,), the last -1."""
    beside = piece.neighbours
    over = (beside >= 0) & (block[beside] == block[:-1, None]) & (zone[beside] != zone[:-1, None])
    meets: BoolArray = over.any(axis=1)
    along = piece.directions[piece.zone]
    line = np.where(along[:, 0] == 0, piece.pinholes[:, 1], piece.pinholes[:, 0])
    # From place to place along its row, as long as the block goes on.
    for sign in (1, -1):
        sideways = sign * np.stack([along[:, 1], -along[:, 0]], axis=1)
        onward = _two_steps(piece, sideways)
        same = (onward >= 0) & (block[onward] == block[:-1]) & (zone[onward] == zone[:-1])
        onward = np.where(same, onward, -1)
        for _ in range(int(np.ptp(line)) + 1):
            more = meets | ((onward >= 0) & meets[onward])
            if (more == meets).all():
                break
            meets = more
    return meets


def _two_steps(piece: Piece, towards: IntArray) -> IntArray:
    """(n,) the pinhole two units on, in the direction given at each."""
    found = np.full(len(piece), -1)
    for one in range(4):
        for other in range(4):
            which = (STEPS[one] + STEPS[other] == 2 * towards).all(axis=1)
            beside = walk(piece.neighbours, walk(piece.neighbours, np.arange(len(piece)), one), other)
            found = np.where(which, beside, found)
    return found
