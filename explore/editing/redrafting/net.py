"""The grid beneath a cloud of marks: its pitch, its tilt, how it is stretched or seen aslant, and which marks stand on
it.

Neighbouring pinholes lie along two directions, at right angles if they are seen from straight above. The step between
them is voted for by the marks that stand nearest to each other; marks linked by such steps grow into one net, the map
of the camera is fitted to it, and the net grows on over the marks that stand where this map has pinholes.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import FloatArray, IntArray
from explore.editing.redrafting.homography import affine, applied, divisors, homography
from explore.editing.redrafting.steps import FEWEST, grown, likely_steps, neighbours

# Marks needed before a grid may be bent a little, as by a camera's lens.
BEND_FROM = 60
# A mark this far from its place at the most (lattice units) helps to fit the grid.
NEAR = 0.3
# The two directions are alike within this, a little less so if the card is seen aslant; and at most so much of it.
MOST_STRETCH, STRETCH_ASLANT, MOST_ASLANT = 1.12, 1.6, 0.6
# Marks needed before the map may be that of a camera held aslant, and bent still more; what is less is no slant.
ASLANT_FROM, BEND_MORE_FROM, LEAST_ASLANT = 16, 200, 0.02
# In one turn a net grows so many units beyond its marks; and it grows in so many turns at the most.
GROWS, TURNS = 8, 40


@dataclass(frozen=True, eq=False)
class Net:
    """A grid laid on a picture.

    camera: (3, 3) homography that gives lattice units from pixels. Pinholes are at column + row even. bend, back:
    (k, 2) factors of the terms of places by which these are off, from pixels and to pixels. box: (2, 2) the least and
    the most column and row; beyond them nothing bends more. pitch: pixels, the mean of both directions. tilt: degrees
    clockwise on the page. stretch: pitch down the rows over pitch along them. aslant: how much smaller the far end of
    the card is seen than the near one, a share. held: marks on it.
    """

    camera: FloatArray
    bend: FloatArray
    back: FloatArray
    box: FloatArray
    pitch: float
    tilt: float
    stretch: float
    aslant: float
    held: int

    def places(self, at: FloatArray) -> FloatArray:
        """Pixels (n, 2) to lattice units, (column, row), not yet whole."""
        flat = applied(self.camera, at)
        found: FloatArray = flat + _terms(flat, self.box, len(self.bend)) @ self.bend
        return found

    def pixels(self, places: FloatArray) -> FloatArray:
        """Lattice units (n, 2) to pixels."""
        flat = places + _terms(places, self.box, len(self.back)) @ self.back
        return applied(np.asarray(np.linalg.inv(self.camera), dtype=np.float64), flat)


def _terms(points: FloatArray, box: FloatArray, count: int) -> FloatArray:
    """The first terms of a polynomial of the points, (n, count), these scaled to -1 to 1 in the box and kept there."""
    x, y = np.clip((2 * points - box[0] - box[1]) / np.maximum(np.ptp(box, axis=0), 1.0), -1.0, 1.0).T
    powers = ((0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2), (3, 0), (2, 1), (1, 2), (0, 3))
    found: FloatArray = np.zeros((len(points), count))
    for number, (i, j) in enumerate(powers[:count]):
        found[:, number] = x**i * y**j
    return found


def _bending(terms: FloatArray, off: FloatArray) -> FloatArray:
    """The factors, (k, 2), with which the terms (n, k) explain best how much points are off, (n, 2)."""
    return np.asarray(np.linalg.lstsq(terms, off, rcond=None)[0], dtype=np.float64)


def nearest_even(places: FloatArray) -> IntArray:
    """The nearest points with column + row even."""
    half = np.rint(np.stack([places[:, 0] + places[:, 1], places[:, 1] - places[:, 0]], axis=1) / 2)
    found: IntArray = np.stack([half[:, 0] - half[:, 1], half[:, 0] + half[:, 1]], axis=1).astype(np.int64)
    return found


def find_nets(at: FloatArray) -> list[Net]:
    """The grids on which many of the points (n, 2) may stand: those of steps that link at least half as many of them as
    another step does."""
    if len(at) < FEWEST:
        return []
    beside, offsets = neighbours(at)
    linked = [grown(beside, offsets, step) for step in likely_steps(offsets)]
    least = max(FEWEST, max((len(chosen) for chosen, _ in linked), default=0) / 2)
    fitted = [_fitted(at, chosen, places) for chosen, places in linked if len(chosen) >= least]
    return [net for net in fitted if net is not None]


def fitted_to(at: FloatArray, places: IntArray) -> Net | None:
    """The grid that takes these points (n, 2) to these places, column + row even; None if they do not spread."""
    return _through(at, places.astype(np.float64), bent=len(at) >= BEND_FROM)


def _fitted(at: FloatArray, chosen: IntArray, places: IntArray) -> Net | None:
    """The grid through the net, then through the marks that stand on it around, turn by turn, and a little bent where
    there are many."""
    held, bent = -1, False
    for _ in range(TURNS):
        net = _through(at[chosen], places.astype(np.float64), bent=bent and len(chosen) >= BEND_FROM)
        if net is None:
            return None
        if bent and len(chosen) <= held:
            break
        bent, held = bent or len(chosen) <= held, max(held, len(chosen))
        found = net.places(at)
        whole = nearest_even(found)
        reached = _around(whole, places)
        chosen = np.flatnonzero(reached & (np.linalg.norm(found - whole, axis=1) < NEAR))
        places = whole[chosen]
        if len(chosen) < FEWEST:
            return None
    return net


def _around(whole: IntArray, held: IntArray) -> np.ndarray:
    """(n,) whether places lie within reach of some that are held."""
    low = held.min(axis=0) - GROWS
    cells = np.zeros((held - low).max(axis=0) // GROWS + 2, dtype=np.bool_)
    cells[tuple(((held - low) // GROWS).T)] = True
    wide = np.pad(cells, 1)
    near = np.any([wide[i : i + cells.shape[0], j : j + cells.shape[1]] for i in range(3) for j in range(3)], axis=0)
    cell = (whole - low) // GROWS
    inside = ((cell >= 0) & (cell < cells.shape)).all(axis=1)
    found: np.ndarray = inside & near[tuple(np.where(inside[:, None], cell, 0).T)]
    return found


def _through(at: FloatArray, places: FloatArray, *, bent: bool) -> Net | None:
    """The grid that takes these points to these places, by least squares."""
    if min(np.linalg.matrix_rank(points - points.mean(axis=0), tol=1e-6) for points in (at, places)) < 2:
        return None
    pitch, tilt, stretch = measured(at, places)
    camera = (homography if len(at) >= ASLANT_FROM else affine)(at, places)
    near = divisors(camera, at)
    aslant = float(1 - near.min() / near.max())
    most = STRETCH_ASLANT if aslant > LEAST_ASLANT else MOST_STRETCH
    if not 1 / most < stretch < most or not 0 <= aslant < MOST_ASLANT:
        return None
    flat = applied(camera, at)
    box = np.array([places.min(axis=0), places.max(axis=0)])
    count = (10 if len(at) >= BEND_MORE_FROM else 6) if bent else 0
    bend = _bending(_terms(flat, box, count), places - flat)
    back = _bending(_terms(places, box, count), flat - places)
    return Net(camera, bend, back, box, pitch, tilt, stretch, aslant, len(at))


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
