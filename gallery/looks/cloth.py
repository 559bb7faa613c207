"""Threads inside the blocks: the passives and workers of cloth and whole stitch, the lattice of half stitch.

A hole whose four pinholes lie in one block is closed by the block's threads. It falls into four quarters,
small diamonds of half its size, one at each pinhole; a quarter is worked in the direction of its pinhole's
zone. So a block's threads are set quarter by quarter and joined where they run on.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.layout import Layout
from constraints.stitches import CLOTH, HALF, WHOLE
from gallery.looks.blocks import whole_holes
from gallery.looks.fans import beside_edge

_HALF = 0.5  # a quarter is the diamond |dx| + |dy| <= 1/2
# From its top pinhole a hole lies downwards, from its right one to the left, and so on.
_INWARD = np.array([(0, 1), (-1, 0), (0, -1), (1, 0)])


@dataclass(frozen=True, eq=False)
class Quarters:
    """Quarters of closed holes. centre: (q, 2); along, sideways: (q, 2) with and across the work."""

    centre: FloatArray
    along: IntArray
    sideways: IntArray


def quarters(layout: Layout, which: BoolArray) -> Quarters:
    """The quarters at the pinholes in the mask `which` (n,)."""
    around = whole_holes(layout)
    pinholes, side = around.ravel(), np.tile(np.arange(4), len(around))
    kept = which[pinholes]
    pinholes, side = pinholes[kept], side[kept]
    centre, zone = layout.piece.pinholes[pinholes] + _HALF * _INWARD[side], layout.piece.zone[pinholes]
    beside, beside_zone = beside_edge(layout.piece, which)
    along = layout.piece.directions[np.concatenate([zone, beside_zone])]
    sideways = np.stack([along[:, 1], -along[:, 0]], axis=1)
    return Quarters(np.concatenate([centre, beside]), along, sideways)


@dataclass(frozen=True)
class Spacing:
    """Parallel threads at every `period` units, the first at `phase`."""

    period: float
    phase: float


@dataclass(frozen=True, eq=False)
class Woven:
    """Straight threads (k, 2, 2): those laid first, those across, pieces of the first that lie on top."""

    under: FloatArray
    top: FloatArray
    over: FloatArray


def across(held: Quarters, spacing: Spacing) -> FloatArray:
    """Workers: lines across the work, joined from quarter to quarter: (k, 2, 2)."""
    return _lines(held.centre, held.sideways, held.along, spacing)


def lengthwise(held: Quarters, spacing: Spacing) -> FloatArray:
    """Passives: lines with the work, as `across`."""
    return _lines(held.centre, held.along, held.sideways, spacing)


def slanting(held: Quarters) -> FloatArray:
    """The single threads of half stitch, one along each diagonal through every quarter: (k, 2, 2)."""
    falling = np.broadcast_to(np.array([1, 1]), held.along.shape)
    rising = np.broadcast_to(np.array([1, -1]), held.along.shape)
    middle = Spacing(1.0, 0.5)  # measured in x + y, where a quarter is one wide
    both = [_lines(held.centre, falling, rising, middle), _lines(held.centre, rising, falling, middle)]
    return np.concatenate(both)


def over(held: Quarters, workers: Spacing, passives: Spacing, length: float) -> FloatArray:
    """Pieces of passives that lie on top of a worker, at every other crossing: (k, 2, 2)."""
    line, place = _measured(held.centre, held.along), _measured(held.centre, held.sideways)
    found = []
    for row in _within(line, workers):
        for column in _within(place, passives):
            count = np.round((row - workers.phase) / workers.period + (column - passives.phase) / passives.period)
            # Crossings outside the quarter belong to another one.
            kept = (np.abs(row - line) + np.abs(column - place) < _HALF) & (count % 2 == 0)
            middle = row[kept, None] * held.along[kept] + column[kept, None] * held.sideways[kept]
            reach = held.along[kept] * (length / 2)
            found.append(np.stack([middle - reach, middle + reach], axis=1))
    return np.concatenate(found)


# --- the three stitches ---------------------------------------------------------------------------------


def cloth_stitch(held: Quarters) -> Woven:
    """CTC: a plain weave. The worker crosses twice for every row of pins, two threads each time."""
    workers, passives = Spacing(0.25, 0.125), Spacing(1 / 3, 1 / 6)
    return Woven(lengthwise(held, passives), across(held, workers), over(held, workers, passives, 0.2))


def whole_stitch(held: Quarters) -> Woven:
    """CTCT: the twists keep the pairs together, so pairs are woven, with small square openings between."""
    sides = (-0.07, 0.07)
    pairs = [Spacing(2 / 3, 1 / 3 + side) for side in sides]
    passives = [lengthwise(held, each) for each in pairs]
    workers = [across(held, each) for each in pairs]
    on_top = [over(held, worker, passive, 0.16) for passive in pairs for worker in pairs]
    return Woven(np.concatenate(passives), np.concatenate(workers), np.concatenate(on_top))


def half_stitch(held: Quarters) -> Woven:
    """CT: the pairs part; single threads run slanting both ways, one thread of the worker straight across."""
    return Woven(slanting(held), across(held, Spacing(0.5, 0.25)), np.empty((0, 2, 2)))


Weave = Callable[[Quarters], Woven]
WEAVES: dict[str, Weave] = {CLOTH: cloth_stitch, WHOLE: whole_stitch, HALF: half_stitch}


# --- lines through quarters -----------------------------------------------------------------------------


def _measured(points: FloatArray, direction: IntArray) -> FloatArray:
    measured: FloatArray = (points * direction).sum(axis=1)
    return measured


def _within(middle: FloatArray, spacing: Spacing) -> list[FloatArray]:
    """Places of the threads that may cross quarters at `middle`: arrays (q,), enough to hold them all."""
    first = np.ceil((middle - _HALF - spacing.phase) / spacing.period) * spacing.period + spacing.phase
    return [first + i * spacing.period for i in range(int(np.ceil(1 / spacing.period)))]


def _lines(centre: FloatArray, direction: IntArray, aside: IntArray, spacing: Spacing) -> FloatArray:
    """Lines along `direction` through diamonds of half-diagonal 1/2, joined where one ends as the next begins."""
    # 1 along the axes, 2 along the diagonals: there a diamond is a square, measured in x + y and x - y.
    size = (direction * direction).sum(axis=1)
    middle, place = _measured(centre, aside), _measured(centre, direction)
    parts = []
    for line in _within(middle, spacing):
        reach = np.where(size == 1, _HALF - np.abs(line - middle), _HALF)
        kept = np.flatnonzero((reach > 0) & (np.abs(line - middle) < _HALF))
        parts.append((kept, line[kept], (place - reach)[kept], (place + reach)[kept]))
    source, lines, low, high = (np.concatenate(each) for each in zip(*parts, strict=True))
    group = direction[source, 0] * 3 + direction[source, 1]
    order = np.lexsort((low, lines, group))
    source, lines, low, high, group = (each[order] for each in (source, lines, low, high, group))
    begins = np.ones(len(order), dtype=np.bool_)
    begins[1:] = (group[:-1] != group[1:]) | (lines[:-1] != lines[1:]) | (np.abs(high[:-1] - low[1:]) > 1e-6)
    ends = np.append(begins[1:], True) if len(begins) else begins
    scale = size[source[begins]][:, None]
    along, sideways = direction[source[begins]] / scale, aside[source[begins]] / scale
    base = lines[begins][:, None] * sideways
    return np.stack([base + low[begins][:, None] * along, base + high[ends][:, None] * along], axis=1)
