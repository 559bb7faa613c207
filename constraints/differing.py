"""Two squares pinhole for pinhole: where they differ and how, the second turned or reflected to lie closest."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np

from constraints import forms
from constraints.lattice import BoolArray, IntArray, Point
from constraints.layout import Layout, lay, locate
from constraints.piece import ROUND
from constraints.square import Block, FieldFilling, Square
from constraints.stitches import STITCHES
from constraints.symmetry import SYMMETRIES

Matrix = tuple[tuple[int, int], tuple[int, int]]

# What a turn or reflection does, seen on the page.
TURNS: dict[Matrix, str] = dict(
    zip(
        SYMMETRIES["full"],
        (
            "as it lies",
            "turned a quarter to the right",
            "turned upside down",
            "turned a quarter to the left",
            "mirrored left to right",
            "mirrored top to bottom",
            "mirrored across the corner line from top left",
            "mirrored across the corner line from top right",
        ),
        strict=True,
    )
)
_CORNERS = {"top-left": (-1, -1), "top-right": (1, -1), "bottom-left": (-1, 1), "bottom-right": (1, 1)}


class Change(IntEnum):
    """What becomes of a pinhole from the first square to the second."""

    SAME = 0
    GAINED = 1  # in a block of the second square alone
    LOST = 2  # in a block of the first square alone
    STITCH = 3  # in a block of both, worked in other stitches
    FILLING = 4  # open in both, filled differently


@dataclass(frozen=True, eq=False)
class Differences:
    """first, second: the squares, the second turned as `turn` says. change: (n,) for the pinholes of `ground`.

    ground: the smaller of the two, the first if they are equally large; only its pinholes are in both.
    """

    first: Square
    second: Square
    turn: str
    change: IntArray

    @property
    def ground(self) -> Square:
        return self.second if self.second.half_size < self.first.half_size else self.first

    def count(self, change: Change) -> int:
        """How many pinholes change like that."""
        return int((self.change == change).sum())

    @property
    def solid(self) -> BoolArray:
        """(n,) the pinholes that lie in blocks of both, worked in the same stitch."""
        kept: BoolArray = (self.change == Change.SAME) & lay(self.ground).inside
        return kept

    @property
    def share(self) -> float:
        """Share of the pinholes in both squares that differ in any way."""
        return float((self.change != Change.SAME).mean())


def differences(first: Square, second: Square) -> Differences:
    """Where two squares differ, centre on centre, the second turned or reflected so that least does.

    Only what keeps the way of working is tried: all eight if both are worked round. Of equally close ones
    the first of `TURNS` is taken.
    """
    tried = [matrix for matrix in TURNS if _allowed(first, second, matrix)]
    found = [Differences(first, turned(second, matrix), TURNS[matrix], np.empty(0, np.int64)) for matrix in tried]
    found = [replace(each, change=_change(each)) for each in found]
    return min(found, key=lambda each: int((each.change != Change.SAME).sum()))


def comparable(first: Square, second: Square) -> bool:
    """Whether two pieces can lie on each other: squares of any sizes, strips of one repeat and edges, others of one
    outline."""
    one, other = first.form, second.form
    if isinstance(one, forms.Square) and isinstance(other, forms.Square):
        return True
    if isinstance(one, forms.Strip) and isinstance(other, forms.Strip):
        return replace(one, repeats=other.repeats) == other
    return type(one) is type(other) and one.box == other.box and _opening(one) == _opening(other)


def _opening(form: forms.Form) -> Point:
    return form.opening if isinstance(form, forms.Frame) else (0, 0)


def _allowed(first: Square, second: Square, matrix: Matrix) -> bool:
    """Whether the second may be turned so: it keeps its outline and its way of working. A strip stays as it lies."""
    left, top, right, bottom = second.form.box
    if isinstance(second.form, forms.Strip):
        return TURNS[matrix] == TURNS[SYMMETRIES["none"][0]]
    both_round = first.worked == second.worked == ROUND
    return matrix[0][1] == 0 or (both_round and right - left == bottom - top)


def turned(square: Square, matrix: Matrix) -> Square:
    """The square turned or reflected, to look at. Its symmetry is told as none, since it may have no name."""
    if TURNS[matrix] == TURNS[SYMMETRIES["none"][0]]:
        return square
    corner = {place: name for name, place in _CORNERS.items()}
    return replace(
        square,
        symmetry="none",
        start=corner[_moved((_CORNERS[square.start],), matrix)[0]],
        blocks=tuple(Block(block.stitch, _moved(block.pinholes, matrix)) for block in square.blocks),
        fillings=tuple(FieldFilling(f.filling, _moved(f.places, matrix), f.legs) for f in square.fillings),
    )


def _moved(points: tuple[Point, ...], matrix: Matrix) -> tuple[Point, ...]:
    (a, b), (c, d) = matrix
    return tuple(sorted(((a * x + b * y, c * x + d * y) for x, y in points), key=lambda point: (point[1], point[0])))


def _change(found: Differences) -> IntArray:
    """(n,) the Change at each pinhole of the smaller square."""
    places = found.ground.piece().pinholes
    first, second = (_worked(lay(square), places) for square in (found.first, found.second))
    solid, solid_then = first < len(STITCHES), second < len(STITCHES)
    change = np.where(first == second, Change.SAME, np.where(solid, Change.STITCH, Change.FILLING))
    change[~solid & solid_then] = Change.GAINED
    change[solid & ~solid_then] = Change.LOST
    return change.astype(np.int64)


def _worked(layout: Layout, places: IntArray) -> IntArray:
    """(n,) a number for how the pinhole at each place is worked; blocks have the numbers of STITCHES."""
    stitches = list(STITCHES)
    of_block = np.array([stitches.index(block.stitch) for block in layout.square.blocks] + [len(stitches)])
    worked = of_block[layout.block]
    worked[layout.double & ~layout.inside] = len(stitches) + 1
    for placed in layout.units:
        worked[placed.places] = len(stitches) + 2 + placed.unit.size * 2 + bool(placed.unit.legs)
    chosen: IntArray = worked[locate(layout.piece, places)]
    return chosen
