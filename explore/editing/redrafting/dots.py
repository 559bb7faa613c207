"""Which marks of a picture are dots of its pricking: those of the size and kind that stand on a grid."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import FloatArray, IntArray
from explore.bad_input import BadInput
from explore.editing.redrafting.marks import RoundMarks, View, sized
from explore.editing.redrafting.net import NEAR, Net, find_nets, fitted_to, nearest_even
from explore.editing.redrafting.steps import FEWEST

# Marks this share as strong as the strong ones help to find the grid.
STRONG = 0.35
# As many of the strong ones would stand on a grid by chance: the area around the places where that counts.
CHANCE = np.pi * NEAR**2 / 2
# What is compared with a dot: this many radii around, and from how many of them the usual dot is learned.
AROUND, LEARNED = 2.2, 200
# How like the usual dot (correlation) the dots of a grid must be on the whole.
LIKE = 0.5
# The share of the usual dot that is alike all round.
ROUND = 0.8
# The largest radius of a dot, in pitches: larger ones would nearly touch.
LARGEST = 0.2
# A sure dot has at least this share of the contrast of the usual one and is so much like it.
CONTRAST, LIKENESS = 0.5, 0.6


@dataclass(frozen=True, eq=False)
class FoundDots:
    """Marks of the size of the dots, where they stand on the grid, and how like a dot each of them is.

    places: (n, 2) lattice units, (column, row), column + row even at pinholes. contrast: (n,) strength over that of
    the usual dot. likeness: (n,) correlation with the usual dot, 1 is alike.
    """

    marks: RoundMarks
    net: Net
    places: FloatArray
    contrast: FloatArray
    likeness: FloatArray


def find_dots(seen: View) -> FoundDots:
    """The dots of a picture. Refused if there are too few, or no grid beneath them."""
    weighed = [(_weight(marks.strength[_strong(marks)]), marks) for marks in sized(seen)]
    weighed.sort(key=lambda pair: -pair[0])
    count = int(_strong(weighed[0][1]).sum()) if weighed else 0
    if count < FEWEST:
        raise BadInput(f"shows {count or 'no'} dots; a pricking has at least {FEWEST} on its grid")
    best: tuple[float, RoundMarks, Net] | None = None
    for weight, marks in weighed:
        if best is not None and weight <= best[0]:
            break  # even if all of them stood on a grid they would not count for more
        strong = _strong(marks)
        for net in find_nets(marks.at[strong]):
            score = _score(marks, strong, net)
            if best is None or score > best[0]:
                best = score, marks, net
    if best is None or best[0] <= 0:
        raise BadInput(
            "shows no dots on a grid: the pinholes of a pricking stand in rows at 45 degrees;"
            " if the card lay aslant, hold the camera straight above it"
        )
    _, marks, net = best
    held = np.flatnonzero(_on(net.places(marks.at)) & _strong(marks))
    likeness, round_ = _likeness(seen, marks, held)
    if np.median(likeness[held]) < LIKE or round_ < ROUND or marks.radius > LARGEST * net.pitch:
        raise BadInput("shows marks on a grid that are no dots: pinholes are round and alike")
    contrast = marks.strength / np.median(marks.strength[held])
    sure = held[(contrast[held] > CONTRAST) & (likeness[held] > LIKENESS)]
    if len(sure) >= FEWEST:
        net = fitted_to(marks.at[sure], nearest_even(net.places(marks.at[sure]))) or net
    return FoundDots(marks, net, net.places(marks.at), contrast, likeness)


def _strong(marks: RoundMarks) -> np.ndarray:
    """Marks as strong as most dots, judged by the strongest but for a few that may be blots."""
    level = marks.strength[min(len(marks) // 20, 20)]
    strong: np.ndarray = marks.strength > STRONG * level
    return strong


def _on(places: FloatArray) -> np.ndarray:
    on: np.ndarray = np.linalg.norm(places - nearest_even(places), axis=1) < NEAR
    return on


def _score(marks: RoundMarks, strong: np.ndarray, net: Net) -> float:
    """How much of the strong marks stands on the grid, beyond chance; the size that answers most counts for most."""
    strength = marks.strength[strong]
    on = _weight(strength[_on(net.places(marks.at[strong]))])
    return on * (on / _weight(strength) - 2 * CHANCE)


def _weight(strength: FloatArray) -> float:
    return float((strength**3).sum())


def _likeness(seen: View, marks: RoundMarks, held: np.ndarray) -> tuple[FloatArray, float]:
    """The correlation of each mark with the usual dot, and how round that is."""
    reach = int(np.ceil(AROUND * marks.radius))
    dx, dy = _round(reach)
    patches = _patches(seen.shade, marks.at, dx, dy)
    usual = np.median(patches[held[:LEARNED]], axis=0)
    usual = usual - usual.mean()
    centred = patches - patches.mean(axis=1, keepdims=True)
    lengths = np.linalg.norm(centred, axis=1) * np.linalg.norm(usual)
    likeness: FloatArray = centred @ usual / np.maximum(lengths, 1e-9)
    ring = np.rint(np.hypot(dx, dy)).astype(np.int64)
    uneven = usual - (np.bincount(ring, usual) / np.maximum(np.bincount(ring), 1))[ring]
    return likeness, float(1 - (uneven @ uneven) / max(usual @ usual, 1e-9))


def _round(reach: int) -> tuple[IntArray, IntArray]:
    """The pixels of a round, (p,) x and (p,) y from its middle."""
    span = np.arange(-reach, reach + 1)
    dy, dx = (grid.ravel() for grid in np.meshgrid(span, span, indexing="ij"))
    inside = dx**2 + dy**2 <= reach**2
    return dx[inside], dy[inside]


def _patches(shade: FloatArray, at: FloatArray, dx: IntArray, dy: IntArray) -> FloatArray:
    """(n, p) the picture at so many pixels from each point, read between its pixels."""
    x = np.clip(at[:, :1] + dx, 0, shade.shape[1] - 1.001)
    y = np.clip(at[:, 1:] + dy, 0, shade.shape[0] - 1.001)
    left, top = x.astype(int), y.astype(int)
    fx, fy = x - left, y - top
    upper = shade[top, left] * (1 - fx) + shade[top, left + 1] * fx
    lower = shade[top + 1, left] * (1 - fx) + shade[top + 1, left + 1] * fx
    patches: FloatArray = upper * (1 - fy) + lower * fy
    return patches
