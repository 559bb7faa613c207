"""The numbers of the pins in a working diagram, each where it covers no pin and the fewest lines."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from constraints.lattice import BoolArray, FloatArray, IntArray
from gallery.paper.faces import FIGURE
from gallery.paper.layers import Layer, Words
from gallery.paper.page import MM_PER_POINT, Type

# How far a number keeps off its pin, lattice units, if there is room and if there is none; off all else, mm.
_NEAR, _FAR, _CLEAR = 0.2, 0.48, 0.15
# What is solid is covered only if everything offered is; so many lines are rather crossed than that a number stands
# nearly as near to another pin as to its own: nearer than so many times its own distance and mm more.
_SOLID, _STRAYED = 1000.0, 30.0
_OTHERS, _MORE = 1.25, 0.4
# So far two numbers side by side stay apart, that they are not read as one, widths of a figure.
_BESIDE = 0.6


def numbered(
    pins: FloatArray,
    numbers: Sequence[int],
    unit: float,
    solid: Sequence[tuple[FloatArray, float]],
    crossed: Sequence[FloatArray],
) -> Layer:
    """The layer of numbers. pins: (n, 2) mm. unit: mm of a lattice unit. solid: centres (m, 2) and radius of what
    no number may cover. crossed: cubic curves (k, 4, 2) and straight lines (k, 2, 2) to keep off."""
    style = Type(min(6.5, max(4.0, 0.8 * unit)), colour="#31363e")
    told = [str(number) for number in numbers]
    # Figures are all of one width.
    wide = style.width("0") * np.array([len(text) for text in told])
    high = FIGURE * style.size * MM_PER_POINT
    offers = _offers(pins, wide, high, unit)
    lines = [shapely.linestrings(_sampled(each) if each.shape[1] == 4 else each) for each in crossed if len(each)]
    discs = [shapely.buffer(shapely.points(centres), radius) for centres, radius in solid]
    tree = shapely.STRtree(np.concatenate([*lines, *discs]))
    cost = np.stack([
        _covered(tree, left, top, wide, high) + _STRAYED * _strayed(pins, left, top, wide, high) for left, top in offers
    ])  # fmt: skip
    best = _apart(cost, offers, wide, high, _BESIDE * style.width("0"))
    return Layer("numbers", tuple(
        Words(float(offers[choice][0][i]), float(offers[choice][1][i] + high), told[i], style)
        for i, choice in enumerate(best.tolist())
    ))  # fmt: skip


def _offers(pins: FloatArray, wide: FloatArray, high: float, unit: float) -> list[tuple[FloatArray, FloatArray]]:
    """Left and top of the boxes in which each number may stand, the best ones first."""
    x, y = pins.T
    near, found = _NEAR * unit, []
    for off in (near, _FAR * unit):
        found += [(x + off, y - high / 2), (x - off - wide, y - high / 2)]
        found += [(x - wide / 2, y - off - high), (x - wide / 2, y + off)]
    for a, b in ((0.8, 0.8), (0.8, -0.8), (-0.8, 0.8), (-0.8, -0.8)):
        found.append((x + a * near - (a < 0) * wide, y + b * near - (b < 0) * high))
    return found


def _apart(
    cost: FloatArray, offers: Sequence[tuple[FloatArray, FloatArray]], wide: FloatArray, high: float, gap: float
) -> IntArray:
    """(n,) the offer that costs least for each number, where no two run together if that can be had.

    cost: (offers, n). gap: mm between two side by side. Of two that meet the later one takes its next
    best, a few times over.
    """
    left, top = (np.stack(each) for each in zip(*offers, strict=True))
    every = np.arange(cost.shape[1])
    best: IntArray = cost.argmin(axis=0)
    for _ in range(4 * len(offers)):
        x, y = left[best, every], top[best, every]
        boxes = shapely.box(x - gap / 2, y - _CLEAR, x + wide + gap / 2, y + high + _CLEAR)
        one, other = shapely.STRtree(boxes).query(boxes, predicate="intersects")
        later = np.unique(np.maximum(one, other)[one != other])
        if not len(later):
            break
        cost[best[later], later] += _SOLID / 10
        best = cost.argmin(axis=0)
    return best


def _strayed(pins: FloatArray, left: FloatArray, top: FloatArray, wide: FloatArray, high: float) -> BoolArray:
    """(n,) whether a number in each box might be taken for that of another pin."""
    boxes, places = shapely.box(left, top, left + wide, top + high), shapely.points(pins)
    own = shapely.distance(boxes, places)
    tree = shapely.STRtree(places)
    number, other = tree.query(boxes, predicate="dwithin", distance=_OTHERS * own + _MORE)
    found: BoolArray = np.bincount(number[number != other], minlength=len(pins)) > 0
    return found


def _sampled(curves: FloatArray) -> FloatArray:
    """(k, 5, 2) points of cubic curves."""
    share = np.linspace(0.0, 1.0, 5)
    weights = np.stack([(1 - share) ** 3, 3 * share * (1 - share) ** 2, 3 * share**2 * (1 - share), share**3])
    return np.asarray(np.einsum("ps,cpx->csx", weights, curves), dtype=np.float64)


def _covered(tree: shapely.STRtree, left: FloatArray, top: FloatArray, wide: FloatArray, high: float) -> FloatArray:
    """(n,) how many lines lie under each box; what is solid counts for more than all of them."""
    boxes = shapely.box(left - _CLEAR, top - _CLEAR, left + wide + _CLEAR, top + high + _CLEAR)
    found = tree.query(boxes, predicate="intersects")
    solid = shapely.get_dimensions(tree.geometries[found[1]]) == 2
    weights = np.where(solid, _SOLID, 1.0)
    return np.asarray(np.bincount(found[0], weights=weights, minlength=len(boxes)), dtype=np.float64)
