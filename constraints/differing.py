"""Two designs pinhole for pinhole: where they differ and how, the second turned or reflected to lie closest.

What differs is what counts for their `constraints.difference`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum

import numpy as np

from constraints.design import Block, Design
from constraints.flow import START_LINES, corner_signs
from constraints.lattice import BoolArray, IntArray, Matrix, Point, in_order
from constraints.layout import lay, locate
from constraints.piece import ROUND
from constraints.places import BLOCK, map_places, sort_places
from constraints.symmetry import SYMMETRIES

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


class PinholeChange(IntEnum):
    """What becomes of a pinhole from the first design to the second."""

    SAME = 0
    GAINED = 1  # in a block of the second design alone
    LOST = 2  # in a block of the first design alone
    ALIKE = 3  # worked alike, but in another stitch, with other legs or with an eye in one alone: no difference
    FILLING = 4  # open in both, filled differently


@dataclass(frozen=True, eq=False)
class Differences:
    """first, second: the designs, the second turned as `turn` says. change: (n,) for the pinholes of `smaller`.

    smaller: of the two, the first if they are equally large; only its pinholes are in both.
    """

    first: Design
    second: Design
    turn: str
    change: IntArray

    @property
    def smaller(self) -> Design:
        return self.second if self.second.half_size < self.first.half_size else self.first

    def count(self, change: PinholeChange) -> int:
        """How many pinholes change like that."""
        return int((self.change == change).sum())

    @property
    def solid(self) -> BoolArray:
        """(n,) the pinholes that lie in blocks of both, worked in the same stitch."""
        kept: BoolArray = (self.change == PinholeChange.SAME) & lay(self.smaller).inside
        return kept

    @property
    def eyes_differ(self) -> bool:
        """Whether one has an eye where the other, in a block of the same stitch, has none."""
        laid, places = (lay(self.first), lay(self.second)), self.smaller.piece().pinholes
        first, second = (layout.eyes[locate(layout.piece, places)] for layout in laid)
        return bool(((first != second) & (self.change == PinholeChange.ALIKE)).any())

    @property
    def share(self) -> float:
        """Share of the pinholes in both designs that are not worked alike: of all but strips their difference."""
        return self.differing / len(self.change)

    @property
    def differing(self) -> int:
        """How many pinholes are not worked alike."""
        return len(self.change) - self.count(PinholeChange.SAME) - self.count(PinholeChange.ALIKE)


def differences(first: Design, second: Design) -> Differences:
    """Where two designs differ, centre on centre, the second turned or reflected so that least does.

    Only what keeps the way of working is tried: all eight if both are worked round. Of equally close ones
    the first of `TURNS` is taken.
    """
    tried = [matrix for matrix in TURNS if _allowed(first, second, matrix)]
    found = [Differences(first, turned(second, matrix), TURNS[matrix], np.empty(0, np.int64)) for matrix in tried]
    found = [replace(each, change=_change(each)) for each in found]
    return min(found, key=lambda each: (each.differing, each.count(PinholeChange.ALIKE)))


def _allowed(first: Design, second: Design, matrix: Matrix) -> bool:
    """Whether the second may be turned so: it keeps its outline and its way of working. A strip stays as it lies."""
    left, top, right, bottom = second.form.box
    if second.form.repeating:
        return TURNS[matrix] == TURNS[SYMMETRIES["none"][0]]
    both_round = first.worked == second.worked == ROUND
    return matrix[0][1] == 0 or (both_round and right - left == bottom - top)


def turned(design: Design, matrix: Matrix) -> Design:
    """The design turned or reflected, to look at. Its symmetry is told as none, since it may have no name; the outlines
    of its prints stay, so that of these nothing can be told by it."""
    if TURNS[matrix] == TURNS[SYMMETRIES["none"][0]]:
        return design
    starts = {corner_signs(start): start for start in START_LINES}
    return replace(
        design,
        symmetry="none",
        start=starts[_moved((corner_signs(design.start),), matrix)[0]],
        blocks=tuple(Block(block.stitch, _moved(block.pinholes, matrix)) for block in design.blocks),
        fillings=tuple(replace(each, places=_moved(each.places, matrix)) for each in design.fillings),
        eyes=_moved(design.eyes, matrix),
    )


def _moved(points: tuple[Point, ...], matrix: Matrix) -> tuple[Point, ...]:
    (a, b), (c, d) = matrix
    return in_order((a * x + b * y, c * x + d * y) for x, y in points)


def _change(found: Differences) -> IntArray:
    """(n,) the PinholeChange at each pinhole of the smaller design."""
    places = found.smaller.piece().pinholes
    laid = [lay(design) for design in (found.first, found.second)]
    here = [locate(layout.piece, places) for layout in laid]
    detail, detail_then = (map_places(layout)[at] for layout, at in zip(laid, here, strict=True))
    first, second = sort_places(detail), sort_places(detail_then)
    eye, eye_then = (layout.eyes[at] for layout, at in zip(laid, here, strict=True))
    same = (detail[:, 0] == detail_then[:, 0]) & (eye == eye_then)
    change = np.where(same, PinholeChange.SAME, PinholeChange.ALIKE)
    change[first != second] = PinholeChange.FILLING
    change[(first != BLOCK) & (second == BLOCK)] = PinholeChange.GAINED
    change[(first == BLOCK) & (second != BLOCK)] = PinholeChange.LOST
    return change.astype(np.int64)
