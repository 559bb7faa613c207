"""The grid beneath a cloud of marks: its pitch, its tilt, how it is stretched, and which marks stand on it.

Neighbouring pinholes lie along two directions at right angles. The step between them is voted for by the marks
that stand nearest to each other; marks linked by such steps grow into one net, and the net is fitted to them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import FloatArray, IntArray

# Neighbours looked at, steps tried, and how far off a step may be, as a share of it.
NEAREST, STEPS_TRIED, SLACK = 8, 6, 0.2
# Marks needed before a grid is believed, and before it may be bent a little, as by a camera's lens.
FEWEST, BEND_FROM = 6, 60
# A mark this far from its place at the most (lattice units) helps to fit the grid.
NEAR = 0.3
# The two directions stay at right angles and alike within this, else the fit keeps them so.
MOST_STRETCH = 1.12
_SIZES, _TURNS = 48, 45


@dataclass(frozen=True, eq=False)
class Net:
    """A grid laid on a picture.

    across: (6, 2) factors that give lattice units from pixels; back: (6, 2) pixels from lattice units, of the terms
    1, x, y, xx, xy, yy. Pinholes are at column + row even. pitch: pixels, the mean of both directions. tilt: degrees
    clockwise on the page. stretch: pitch down the rows over pitch along them. held: marks on it.
    """

    across: FloatArray
    back: FloatArray
    middle: FloatArray
    pitch: float
    tilt: float
    stretch: float
    held: int

    def places(self, at: FloatArray) -> FloatArray:
        """Pixels (n, 2) to lattice units, (column, row), not yet whole."""
        return _terms((at - self.middle) / self.pitch) @ self.across

    def pixels(self, places: FloatArray) -> FloatArray:
        """Lattice units (n, 2) to pixels."""
        return _terms(places / 32.0) @ self.back


def _terms(points: FloatArray) -> FloatArray:
    x, y = points.T
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)


def nearest_even(places: FloatArray) -> IntArray:
    """The nearest points with column + row even."""
    half = np.rint(np.stack([places[:, 0] + places[:, 1], places[:, 1] - places[:, 0]], axis=1) / 2)
    found: IntArray = np.stack([half[:, 0] - half[:, 1], half[:, 0] + half[:, 1]], axis=1).astype(np.int64)
    return found


def find_net(at: FloatArray) -> Net | None:
    """The grid on which most of the points (n, 2) stand; None if they stand on none."""
    if len(at) < FEWEST:
        return None
    beside, ways = _neighbours(at)
    best: tuple[IntArray, IntArray] | None = None
    for step in _likely_steps(ways):
        chosen, places = _grown(beside, ways, step)
        if best is None or len(chosen) > len(best[0]):
            best = chosen, places
    if best is None or len(best[0]) < FEWEST:
        return None
    return _fitted(at, *best)


def _neighbours(at: FloatArray) -> tuple[IntArray, FloatArray]:
    """The nearest points of each, (n, k), and the way to them, (n, k, 2)."""
    count = min(NEAREST, len(at) - 1)
    x, y = at.T
    rows = []
    for start in range(0, len(at), 512):
        squared = (x[start : start + 512, None] - x) ** 2
        squared += (y[start : start + 512, None] - y) ** 2
        squared[np.arange(len(squared)), start + np.arange(len(squared))] = np.inf
        close = np.argpartition(squared, count - 1, axis=1)[:, :count]
        order = np.argsort(np.take_along_axis(squared, close, axis=1), axis=1, kind="stable")
        rows.append(np.take_along_axis(close, order, axis=1))
    beside = np.concatenate(rows)
    return beside, at[beside] - at[:, None, :]


def _likely_steps(ways: FloatArray) -> list[FloatArray]:
    """The steps that most marks take to a near one, turned to point down-right: (2,) each, likeliest first."""
    flat = ways.reshape(-1, 2)
    length = np.hypot(flat[:, 0], flat[:, 1])
    angle = np.degrees(np.arctan2(flat[:, 1], flat[:, 0])) % 90.0
    low, high = np.log(np.quantile(length, 0.01) + 1e-9), np.log(np.quantile(length, 0.9) + 1e-9)
    span = max(high - low, 0.1)
    size = (np.log(length + 1e-9) - low) / span * (_SIZES - 1)
    counts = _votes(size, angle / 90 * _TURNS)
    steps = []
    for _ in range(STEPS_TRIED):
        i, j = np.unravel_index(int(np.argmax(counts)), counts.shape)
        if counts[i, j] < FEWEST / 2:
            break
        turned = (angle / 90 * _TURNS - j + _TURNS / 2) % _TURNS - _TURNS / 2
        near = (np.abs(size - i) < 2) & (np.abs(turned) < 2)
        bearing = np.radians((j + float(np.median(turned[near]))) * 90 / _TURNS)
        steps.append(float(np.median(length[near])) * np.array([np.cos(bearing), np.sin(bearing)]))
        counts[max(0, i - 2) : i + 3, [(j + k) % _TURNS for k in range(-2, 3)]] = 0
    return steps


def _votes(size: FloatArray, turn: FloatArray) -> FloatArray:
    """How many steps are about as long and as turned as each cell says: (sizes, turns); turns go round."""
    counts = np.zeros((_SIZES, _TURNS))
    row, column = np.rint(size).astype(int), np.rint(turn).astype(int) % _TURNS
    inside = (row >= 0) & (row < _SIZES)
    np.add.at(counts, (row[inside], column[inside]), 1.0)
    counts = counts + np.roll(counts, 1, axis=1) + np.roll(counts, -1, axis=1)
    padded = np.pad(counts, [(1, 1), (0, 0)])
    votes: FloatArray = padded[:-2] + padded[1:-1] + padded[2:]
    return votes


def _grown(beside: IntArray, ways: FloatArray, step: FloatArray) -> tuple[IntArray, IntArray]:
    """The largest net of points linked by the step and its turns: their indices and places, column + row even."""
    down_right, down_left = step, np.array([-step[1], step[0]])
    links = []
    for way in (down_right, down_left, -down_right, -down_left):
        off = np.linalg.norm(ways - way, axis=-1)
        best = np.argmin(off, axis=1)
        near = off[np.arange(len(off)), best] < SLACK * np.linalg.norm(step)
        links.append(np.where(near, beside[np.arange(len(off)), best], -1))
    table = np.stack(links, axis=1).tolist()
    place: list[tuple[int, int] | None] = [None] * len(table)
    largest: list[int] = []
    for seed in range(len(table)):
        if place[seed] is None:
            members = _component(seed, table, place)
            largest = members if len(members) > len(largest) else largest
    chosen = np.array(largest, dtype=np.int64)
    return chosen, np.array([place[i] for i in largest], dtype=np.int64).reshape(-1, 2)


def _component(seed: int, table: list[list[int]], place: list[tuple[int, int] | None]) -> list[int]:
    place[seed] = (0, 0)
    members = [seed]
    for each in members:
        x, y = place[each] or (0, 0)
        for other, (dx, dy) in zip(table[each], ((1, 1), (-1, 1), (-1, -1), (1, -1)), strict=True):
            if other >= 0 and place[other] is None:
                place[other] = (x + dx, y + dy)
                members.append(other)
    return members


def fitted_to(at: FloatArray, places: IntArray) -> Net | None:
    """The grid that takes these points (n, 2) to these places, column + row even; None if they do not spread."""
    return _through(at, places.astype(np.float64), len(at) >= BEND_FROM)


def _fitted(at: FloatArray, chosen: IntArray, places: IntArray) -> Net | None:
    """The grid through the net, then through all marks that stand on it, a little bent where there are many."""
    for turn in range(6):
        bent = turn > 2 and len(chosen) >= BEND_FROM
        net = _through(at[chosen], places.astype(np.float64), bent)
        if net is None:
            return None
        found = net.places(at)
        whole = nearest_even(found)
        chosen = np.flatnonzero(np.linalg.norm(found - whole, axis=1) < NEAR)
        places = whole[chosen]
        if len(chosen) < FEWEST:
            return None
    return net


def _through(at: FloatArray, places: FloatArray, bent: bool) -> Net | None:
    """The grid that takes these points to these places, by least squares."""
    if min(np.linalg.matrix_rank(points - points.mean(axis=0), tol=1e-6) for points in (at, places)) < 2:
        return None
    middle = at.mean(axis=0)
    pitch, tilt, stretch = measured(at, places)
    if not 1 / MOST_STRETCH < stretch < MOST_STRETCH:
        return None
    count = 6 if bent else 3
    there, here = _terms((at - middle) / pitch)[:, :count], _terms(places / 32.0)[:, :count]
    across, back = np.zeros((6, 2)), np.zeros((6, 2))
    across[:count] = np.linalg.lstsq(there, places, rcond=None)[0]
    back[:count] = np.linalg.lstsq(here, at, rcond=None)[0]
    return Net(across, back, middle, pitch, tilt, stretch, len(at))


def measured(at: FloatArray, places: FloatArray) -> tuple[float, float, float]:
    """Pitch in pixels, tilt in degrees and stretch of a grid that takes places to points.

    Pitch and tilt are those of the evenly scaled grid that fits best, so that a narrow strip is measured along
    its length; the stretch is that of the grid that fits best at all.
    """
    there, here = at - at.mean(axis=0), places - places.mean(axis=0)
    size = float((here**2).sum())
    turn = complex((here * there).sum() / size, (here[:, 0] * there[:, 1] - here[:, 1] * there[:, 0]).sum() / size)
    along, down = np.linalg.norm(np.linalg.lstsq(here, there, rcond=None)[0], axis=1)
    return 2 * abs(turn), float(np.degrees(np.angle(turn))), float(down / along)
