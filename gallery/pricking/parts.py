"""What of a square is pricked on its own and joined: all of it, halves, or quarters.

Quarters are cut along the corner lines, where no pinhole lies and the pillow is turned anyhow; each is turned so that
it is worked towards her. Halves are cut along the middle, with the pins of that line on both, so that they fall on
each other. Parts that a turn takes into each other are drawn once, to be pricked several times.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from shapely import MultiPoint, get_coordinates

from constraints.design import Design
from constraints.flow import START_LINES
from constraints.forms import HALF, QUARTER, WHOLE
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.symmetry import matrices

NAMES = (WHOLE, HALF, QUARTER)
# Crosses along a join stand about every so many units.
_CROSSES = 10
# The corners of each quarter's outer side, in the order of the zones: left, bottom, right, top.
SIDES = (((-1, -1), (-1, 1)), ((-1, 1), (1, 1)), ((1, 1), (1, -1)), ((1, -1), (-1, -1)))
_OUTWARDS = ((-1, 0), (0, 1), (1, 0), (0, -1))
_TURN = np.array([[0.0, 1.0], [-1.0, 0.0]])  # rows of coordinates, from the bottom quarter to the left one and so on


@dataclass(frozen=True)
class PiecePart:
    """A part of a piece, lattice units.

    shape: (c, 2) its corners. turn: (2, 2) how it is turned on paper. joins: (j, 2, 2) where it is cut. join_marks:
    (m, 2) crosses on those lines. copies: how often it is needed. outwards: (s, 2) steps to its outer sides.
    """

    name: str
    shape: FloatArray
    outwards: FloatArray
    turn: FloatArray = field(default_factory=lambda: np.eye(2))
    joins: FloatArray = field(default_factory=lambda: np.empty((0, 2, 2)))
    join_marks: FloatArray = field(default_factory=lambda: np.empty((0, 2)))
    copies: int = 1

    @property
    def by_corner_lines(self) -> bool:
        return self.name.startswith(QUARTER)

    def rim(self, width: float) -> FloatArray:
        """(c, 2) the shape with a rim of that width along its outer sides."""
        reach = np.concatenate([self.shape, *(self._beside(step, width) for step in self.outwards)])
        corners: FloatArray = get_coordinates(MultiPoint(reach).convex_hull)[:-1]
        return corners

    def _beside(self, step: FloatArray, width: float) -> FloatArray:
        """The corners of an outer side, moved outwards."""
        along = self.shape @ step
        beside: FloatArray = self.shape[along == along.max()] + width * step
        return beside


def parts_of(design: Design, name: str) -> list[PiecePart]:
    """The parts of a piece that are drawn. KeyError if the name is not one of NAMES, or one that the form lacks."""
    if name not in design.form.cut:
        raise KeyError(name)
    return {WHOLE: _whole, HALF: _halves, QUARTER: _quarters}[name](design)


def box(design: Design) -> FloatArray:
    """(4, 2) the corners of a piece, its fans and scallops in their full width."""
    left, top, right, bottom = design.form.bounds
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom)])


def _whole(design: Design) -> list[PiecePart]:
    return [PiecePart(WHOLE, box(design), np.array(_OUTWARDS, dtype=np.float64))]


def _halves(design: Design) -> list[PiecePart]:
    w, h = box(design).max(axis=0).tolist()
    marks = _marks(np.array([1.0, 0.0]), int(w))
    joins, marks = np.array([[[-w, 0.0], [w, 0.0]]]), np.concatenate([marks, -marks])
    alike = _has_turn(design, 2)
    found = []
    for number, side in enumerate((-1, 1)[: 1 if alike else 2], 1):
        shape = np.array([[-w, 0.0], [w, 0.0], [w, side * h], [-w, side * h]])
        outwards = np.array([(-1.0, 0.0), (1.0, 0.0), (0.0, side)])
        found.append(
            PiecePart(f"{HALF} {number}", shape, outwards, joins=joins, join_marks=marks, copies=2 if alike else 1)
        )
    return found


def _quarters(design: Design) -> list[PiecePart]:
    far, found = box(design).max(axis=0), []
    # A frame's quarters end at its opening, a square's in the middle.
    deep = float(design.form.deep)
    edge = np.abs(np.array(design.form.box[2:], dtype=np.float64))
    kinds = 1 if _has_turn(design, 4) else 2 if _has_turn(design, 2) else 4
    first = _first_quarter(design)
    for number in range(kinds):
        zone = (first + number) % 4
        signs = np.array(SIDES[zone], dtype=np.float64)
        ends, tips = far * signs, (edge - deep) * signs
        marks = np.concatenate([_marks(sign, int(deep)) + tip for sign, tip in zip(signs, tips, strict=True)])
        # Worked round, the work runs towards her in every quarter; worked across there is one way for all.
        turn = np.linalg.matrix_power(_TURN, zone) if design.worked == ROUND else np.eye(2)
        found.append(
            PiecePart(
                f"{QUARTER} {number + 1}",
                np.concatenate([tips[::-1] if tips.any() else tips[:1], ends]),
                np.array([_OUTWARDS[zone]], dtype=np.float64),
                turn,
                np.stack([tips, ends], axis=1),
                marks,
                4 // kinds,
            )
        )
    return found


def _first_quarter(design: Design) -> int:
    """The quarter that follows the start line."""
    return START_LINES[design.start][1] if design.worked == ROUND else 0


def _marks(along: FloatArray, size: int) -> FloatArray:
    """Even points of a line from the centre, about every ten units: holes, clear of the pins of the grid."""
    count = max(1, size // _CROSSES)
    far = [2 * round(size * (k + 0.5) / count / 2) for k in range(count)]
    return np.outer(sorted({max(2, each) for each in far}), along)


def _has_turn(design: Design, fold: int) -> bool:
    """Whether a half turn (2) or a quarter turn (4) leaves the square the same."""
    wanted = {2: [[-1, 0], [0, -1]], 4: [[0, -1], [1, 0]]}[fold]
    left, top, right, bottom = design.form.box
    if fold == 4 and right - left != bottom - top:
        return False
    return any(each.tolist() == wanted for each in matrices(design.symmetry))
