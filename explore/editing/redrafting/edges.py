"""Which headsides a card shows, told by where their pins really stand: curved off the grid, as they are pricked.

Every fan and scallop that can be pricked is laid along the edge in every way; the one that explains the marks there
best is what the card shows, if it leaves few of them, and few of its own pins, unexplained.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from constraints.edgings import EDGINGS, FOOTSIDE, Headside
from constraints.lattice import FloatArray, IntArray
from explore.editing.redrafting.edge_shapes import TOUCH, Shape, at_ends, left_valley, shape_of, shapes
from explore.editing.redrafting.net import nearest_even

# Marks looked at outside the grid, and how far inside its outermost pinhole an edge may lie (units).
OUTSIDE, INSIDE = 8.0, 9
# Of all pins and marks of an edge, the share that it may leave unexplained.
UNEXPLAINED = 0.2
# Of its pins off the grid, the share that is there; of a few one may be lost, of twice as many two.
BENT, FEW_BENT = 0.8, 3
# Another kind of headside that leaves only so much more unexplained is told.
NEARLY = 0.05


@dataclass(frozen=True)
class Edges:
    """What lies along a strip's edges: its headside, first the row of a valley of the right edge, on one side or both.
    left, right: the columns of its edges. unexplained: the share of pins and marks that neither explains. rival:
    another kind that explains them nearly as well, if there is one."""

    headside: Headside
    both: bool
    left: int
    right: int
    unexplained: float
    rival: str | None = None


def fitted(points: FloatArray, body: IntArray, straight: int | None, kind: str | None = None) -> Edges | None:
    """The headside along the right edge of a strip, and along its left one where that is not as straight.

    points: (n, 2) marks like dots in lattice units, column + row odd at pinholes. body: (m, 2) pinholes. straight: the
    column of a straight left edge, if there is one. kind: of the headside, or a footside, as she says; None for any.
    None if no headside explains them.
    """
    if kind == FOOTSIDE:
        return None
    rows = (int(body[:, 1].min()), int(body[:, 1].max()))
    near = points[(points[:, 1] > rows[0] + 0.5) & (points[:, 1] < rows[1] - 0.5)]
    outermost = int(body[:, 0].max())
    found = [_best_along(each, near, outermost, rows) for each in EDGINGS if kind in (None, each)]
    likely = [each for each in found if each is not None]
    least = min((share for share, *_ in likely), default=0.0)
    # Of kinds that are nearly as likely here, the other edge may tell.
    whole = [
        edges
        for share, _, headside, right in likely
        if share < least + NEARLY
        for edges in _whole(Edges(headside, False, straight or 0, right, share), straight, near, body, rows)
    ]
    whole.sort(key=lambda each: each.unexplained)
    rivals = [each.headside.kind for each in whole[1:]]
    return replace(whole[0], rival=rivals[0] if rivals else None) if whole else None


def _best_along(
    kind: str, points: FloatArray, outermost: int, rows: tuple[int, int]
) -> tuple[float, float, Headside, int] | None:
    """The headside of a kind that explains the right edge best, as `_along` tells it; None if none explains it."""
    own = (shape for shape in shapes() if shape.headside.kind == kind)
    every = (found for shape in own for found in _along(shape, points, outermost, rows))
    best = min(every, key=lambda found: found[0], default=None)
    return best if best is not None and best[0] <= UNEXPLAINED else None


def _whole(
    one: Edges, straight: int | None, near: FloatArray, body: IntArray, rows: tuple[int, int]
) -> Iterator[Edges]:
    """A headside along the right edge with what lies along the left one, the same or a straight one: the mean of the
    shares that either edge leaves unexplained; none if neither is there."""
    both = _both(one.headside, one.right, near, body, rows)
    left_over = np.inf if straight is None else _left_over(near, one, rows)
    if both is not None and both.unexplained < left_over:
        yield replace(both, unexplained=(one.unexplained + both.unexplained) / 2)
    elif straight is not None:
        yield replace(one, unexplained=(one.unexplained + left_over) / 2)


def _along(
    shape: Shape, points: FloatArray, outermost: int, rows: tuple[int, int]
) -> Iterator[tuple[float, float, Headside, int]]:
    """The shape in every way along the right edge: share unexplained, how far off its pins are, and what it is."""
    reach = shape.headside.depth + INSIDE
    near = points[(points[:, 0] > outermost - reach - 1) & (points[:, 0] < outermost + OUTSIDE)]
    for right in range(outermost - INSIDE, outermost + 1):
        for first in range((right + 1) % 2, shape.headside.period, 2):
            moved, own = near - np.array([right, first]), (rows[0] - first, rows[1] - first)
            if not _likely(shape, moved, own):
                continue
            share, off = unexplained(shape, moved, own)
            yield share, off, replace(shape.headside, first=first), right


def _likely(shape: Shape, points: FloatArray, rows: tuple[int, int]) -> bool:
    """Whether half of its outermost pins, or more, are there: looked at first, for it is seen quickly."""
    x, y = shape.pins[np.where(shape.off_grid, shape.pins[:, 0], -np.inf).argmax()].tolist()
    period, ends = shape.headside.period, at_ends(shape.headside)
    near = points[np.abs(points[:, 0] - x) < TOUCH, 1]
    near = near[(near > rows[0] + ends - 0.5) & (near < rows[1] - ends + 0.5)]
    there = int((np.abs((near - y + period / 2) % period - period / 2) < TOUCH).sum())
    return bool(2 * there >= (rows[1] - rows[0] - 2 * ends) // period)


def unexplained(shape: Shape, points: FloatArray, rows: tuple[int, int]) -> tuple[float, float]:
    """The share of marks and pins of an edge that do not agree, a little more for those that are off; the mean off.

    points: (n, 2) from the edge and the valley. rows: the first and last that count.
    """
    period, ends = shape.headside.period, at_ends(shape.headside)
    rows = rows[0] + ends, rows[1] - ends
    own = points[(points[:, 0] > -shape.inner(points[:, 1]) - 0.5)]
    own = own[(own[:, 1] > rows[0] - 0.5) & (own[:, 1] < rows[1] + 0.5)]
    if not len(own):
        return 1.0, 0.0
    folded = np.stack([own[:, 0], own[:, 1] % period], axis=1)
    away = np.hypot(
        folded[:, :1] - shape.pins[:, 0],
        (folded[:, 1:] - shape.pins[:, 1] + period / 2) % period - period / 2,
    )
    nearest, off = away.argmin(axis=1), away.min(axis=1)
    explained = off < TOUCH
    there = np.bincount(nearest[explained], minlength=len(shape.pins))
    begin = np.ceil((rows[0] - shape.pins[:, 1]) / period)
    shown = np.maximum(np.floor((rows[1] - shape.pins[:, 1]) / period) - begin + 1, 0)
    if shown.sum() < len(shape.pins):
        return 1.0, 0.0
    missing = float(np.maximum(shown - there, 0).sum())
    # Pins that the curve takes off the grid speak for a headside; others might be ground.
    bent = shape.off_grid
    expected = float(shown[bent].sum())
    least = min(BENT * expected, expected - min(expected // FEW_BENT, 2))
    if np.minimum(there, shown)[bent].sum() < least:
        return 1.0, 0.0
    mean = float(off[explained].mean()) if explained.any() else 1.0
    wrong = missing + float((~explained).sum())
    return wrong / (float(shown.sum()) + float((~explained).sum())) + 0.1 * mean, mean


def _both(headside: Headside, right: int, points: FloatArray, body: IntArray, rows: tuple[int, int]) -> Edges | None:
    """The same headside along the left edge, which its columns place; None if it is not there."""
    shape = shape_of(headside)
    least = int(body[:, 0].min())
    found = []
    for left in range(least, least + INSIDE + 1):
        first = left_valley(headside, right - left + 1)
        if (left + first) % 2 == 0:
            continue
        near = points[points[:, 0] < left + headside.depth + 1]
        turned = np.stack([left - near[:, 0], near[:, 1] - first], axis=1)
        turned = turned[turned[:, 0] < OUTSIDE]
        share, _ = unexplained(shape, turned, (rows[0] - first, rows[1] - first))
        found.append(Edges(headside, True, left, right, share))
    best = min(found, key=lambda each: each.unexplained, default=None)
    return best if best is not None and best.unexplained < UNEXPLAINED else None


def _left_over(points: FloatArray, edges: Edges, rows: tuple[int, int]) -> float:
    """The share of marks and pins along a straight left edge that do not agree."""
    x = points[:, 0]
    beyond = int(((x < edges.left - TOUCH) & (x > edges.left - OUTSIDE)).sum())
    along = points[np.abs(x - edges.left) <= TOUCH]
    off = np.linalg.norm(along - nearest_even(along), axis=1)
    on = int((off <= TOUCH).sum())
    # Outer pins of a shallow headside stand in a straight line too, but some of them between the pinholes.
    beyond += len(along) - on
    shown = max(1, (rows[1] - rows[0]) // 2)
    mean = float(off[off <= TOUCH].mean()) if on else 1.0
    return (beyond + max(0, shown - on)) / (shown + beyond) + 0.1 * mean
