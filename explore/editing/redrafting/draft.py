"""What redrafting knows of a pricking: where its pins stand on the grid, and what is doubtful about them.

Lattice units throughout: column 0 is the footside, rows run down, a pinhole has column + row odd.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from constraints.edgings import Headside
from constraints.lattice import Point
from explore.editing.redrafting.grid import by_row

Place = tuple[float, float]

# Why a dot is doubtful that is paler than the others, or less like a dot.
FAINT = "faint"


@dataclass(frozen=True)
class Doubt:
    """A dot that she has to settle.

    at: where it stands, (column, row). place: the pinhole or centre that it would be. why: in a few words.
    taken: whether it counts as a pinhole until she says otherwise.
    """

    number: int
    at: Place
    place: Point
    why: str
    taken: bool


@dataclass(frozen=True)
class Draft:
    """The pins of a pricking on the grid.

    pinholes: sure ones, (column, row), sorted by row, then column. centres: pins in the middle of a hole
    (column + row even), as some figures have. headside: pins outside the grid, beyond the headside.
    doubts: what she settles. doubled: how many pinholes are pricked twice. edging: the headside that its pins show,
    first the row of a valley of the right edge, None if they show none; both: along both edges. rival: another kind
    that they show nearly as well. lost: how many of its pins off the grid the card lacks. settled: places that
    she has settled herself.
    """

    pinholes: tuple[Point, ...]
    centres: tuple[Point, ...] = ()
    headside: tuple[Place, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    doubled: int = 0
    edging: Headside | None = None
    both: bool = False
    rival: str | None = None
    lost: int = 0
    settled: tuple[Point, ...] = ()

    @cached_property
    def taken(self) -> tuple[Point, ...]:
        """All pinholes that count: the sure ones and the doubtful ones that are taken."""
        more = {doubt.place for doubt in self.doubts if doubt.taken and sum(doubt.place) % 2}
        return by_row({*self.pinholes, *more})

    @cached_property
    def taken_centres(self) -> tuple[Point, ...]:
        """All pins in the middle of a hole that count."""
        more = {doubt.place for doubt in self.doubts if doubt.taken and sum(doubt.place) % 2 == 0}
        return by_row({*self.centres, *more})

    @cached_property
    def columns(self) -> int:
        """How many columns the grid has, from the footside to the outermost pinhole."""
        return max(column for column, _ in self.taken) + 1

    @cached_property
    def rows(self) -> tuple[int, int]:
        """The first and the last row."""
        rows = [row for _, row in self.taken]
        return min(rows), max(rows)
