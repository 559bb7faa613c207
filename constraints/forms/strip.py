"""The strip: lace by the length, one repeat after another."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from math import lcm
from typing import TYPE_CHECKING, Any, ClassVar, Self

import numpy as np

from constraints.edgings import Headside
from constraints.edgings.dressing import dressed
from constraints.forms.form import (
    AS_EDGING,
    AS_FRAME,
    AS_STRIP,
    CENTRE,
    EDGE,
    LARGEST_HALF_SIZE,
    MOST_REPEATS,
    WHOLE,
    Box,
    Form,
    decode_headside,
)
from constraints.forms.grids import across, points
from constraints.forms.phrases import Phrases
from constraints.lattice import BoolArray, FloatArray, IntArray, Wrap
from constraints.piece import ACROSS, LEFT_EDGE, RIGHT_EDGE, Piece
from constraints.symmetry import CENTRED, OF_STRIPS, Setting

if TYPE_CHECKING:
    from constraints.reader import Reader

# How many times as long as wide it is made unless she says how many repeats.
_LONG = 4.0


@dataclass(frozen=True)
class Strip(Form):
    """A strip of c columns that repeats itself every P rows, P even, worked down.

    headside: along its right edge, and if `both` along the left one too.
    """

    columns: int
    rows: int
    repeats: int
    headside: Headside | None = None
    both: bool = False

    name: ClassVar[str] = "strip"
    ways: ClassVar[tuple[str, ...]] = (ACROSS,)
    edged: ClassVar[tuple[str, ...]] = (ACROSS,)
    symmetries: ClassVar[tuple[str, ...]] = OF_STRIPS
    cut: ClassVar[tuple[str, ...]] = (WHOLE,)
    serves: ClassVar[tuple[str, ...]] = (AS_STRIP, AS_FRAME, AS_EDGING)
    keys: ClassVar[tuple[str, ...]] = ("columns", "repeat", "repeats", "sides")
    composed: ClassVar[str] = "repeat"
    phrases: ClassVar[Phrases] = Phrases(
        way="down",
        first="the top row",
        top="the top row",
        above="pinhole of the first row",
        last="in the last row",
    )

    @property
    def length(self) -> int:
        """All its rows."""
        return self.rows * self.repeats

    @property
    def parity(self) -> int:
        return 1

    @property
    def box(self) -> Box:
        return (0, 0, self.columns - 1, self.length - 1)

    @property
    def to_middle(self) -> float:
        return self.width / 2

    def inwards(self, points: IntArray) -> FloatArray:
        """Its ends are no edges."""
        x = points[:, 0].astype(np.float64)
        return np.minimum(x, self.width - x)

    def parts(self, piece: Piece) -> dict[str, BoolArray]:
        """Its centre is the middle of its width, all along; it has no corners."""
        return {CENTRE: self._middle(piece), EDGE: self._edge(piece)}

    @property
    def area(self) -> int:
        return self.columns * self.length // 2

    @property
    def area_once(self) -> int:
        return self.columns * self.rows // 2

    @property
    def measures(self) -> dict[str, int]:
        return {"columns": self.columns, "rows": self.rows, "repeats": self.repeats}

    def lines(self, worked: str) -> int:
        """One from each column to the next."""
        return self.columns - 1

    def edges(self, worked: str) -> int:
        """The left edge and the right one."""
        return 2

    @property
    def headside_edges(self) -> tuple[int, ...]:
        if self.headside is None:
            return ()
        return (LEFT_EDGE, RIGHT_EDGE) if self.both else (RIGHT_EDGE,)

    def piece(self, worked: str, symmetry: str = "none") -> Piece:
        """All its repeats one below the other, the first row and the last one free; no symmetry ties them."""
        return _whole(self.columns, self.length, self.headside, self.headside_edges)

    def repeat(self, symmetry: str = "none") -> Piece:
        """One repeat that meets itself."""
        return _repeat(self.columns, self.rows, symmetry, self.headside, self.headside_edges)

    def once(self, worked: str, symmetry: str) -> Piece:
        return self.repeat(symmetry)

    @property
    def repeating(self) -> Strip:
        return self

    def comparable(self, other: Form) -> bool:
        """Strips of one repeat and of the same edges, however often it comes."""
        return other.repeating is not None and replace(self, repeats=other.repeating.repeats) == other

    def takes_edging(self, worked: str) -> bool:
        return not self.both

    @classmethod
    def sized(cls, columns: int, rows: int, repeats: int | None, headside: Headside | None, both: bool) -> Self:
        """A strip of such measures with a headside or none, so many repeats or, for None, as many as are usual."""
        usual = max(2, round(_LONG * columns / rows))
        along = _along(headside, columns)
        return cls(columns, rows, usual if repeats is None else repeats, along, both and headside is not None)

    def grown(self, units: int, headside: Headside | None) -> Strip:
        """So many columns wider. A repeat is as long as it takes for whole fans."""
        columns = self.columns + units
        rows = self.rows if headside is None else lcm(self.rows, headside.period)
        return Strip(columns, rows, max(2, round(self.length / rows)), _along(headside, columns))

    @property
    def told(self) -> str:
        return f"{self.repeats} repeats"

    def asked(self) -> dict[str, Any]:
        rows = (self.rows, self.rows)
        strip = {"columns": self.columns, "rows": rows, "repeats": self.repeats, "both_sides": self.both}
        return {**super().asked(), **strip}

    def encode(self) -> dict[str, Any]:
        return {**super().encode(), **({} if self.headside is None else {"both": self.both})}

    @classmethod
    def decode(cls, read: Reader) -> Self:
        columns = read.whole("columns", 2, 2 * LARGEST_HALF_SIZE)
        rows = read.whole("rows", 2, 2 * LARGEST_HALF_SIZE)
        if rows % 2:
            read.refuse(f'"rows" is {rows}; a repeat has an even number of rows')
        repeats = read.whole("repeats", 2, MOST_REPEATS)
        return cls(columns, rows, repeats, decode_headside(read), read.yes_no("both", default=False))


def _along(wanted: Headside | None, columns: int) -> Headside | None:
    """The headside as it lies on a strip. A valley lies as near to the middle of a period as the edge pins allow, so
    that the ends cut a fan in its middle rather than beside a valley."""
    return None if wanted is None else replace(wanted, first=wanted.depth + (wanted.depth + columns) % 2)


@lru_cache(maxsize=16)
def _whole(columns: int, rows: int, headside: Headside | None, edges: tuple[int, ...]) -> Piece:
    """A strip from row 0 to its last one; pairs are hung on and finished at both."""
    pinholes = points((0, columns - 1), (0, rows - 1), 1)
    x, y = pinholes.T
    depth = np.minimum(x, columns - 1 - x)
    # The first edge pin of an edge may stand in row 1, the last one in the last row but one.
    from_end = np.minimum(y, rows - 1 - y)
    plain = across(pinholes, depth, (from_end == 0) | ((from_end == 1) & (depth == 0)), "none", CENTRED)
    return dressed(plain, headside, edges)


@lru_cache(maxsize=16)
def _repeat(columns: int, rows: int, symmetry: str, headside: Headside | None, edges: tuple[int, ...]) -> Piece:
    """One repeat of a strip, its last row above its first one. ValueError if the rows are odd or the symmetry
    asks for other columns or rows."""
    if rows % 2:
        raise ValueError(f"a repeat of {rows} rows does not meet itself: their number is even")
    pinholes = points((0, columns - 1), (0, rows - 1), 1)
    # A half-turn of an even number of columns must turn about a point between two rows, a level mirror lies in a
    # valley of the headside.
    turn = int(symmetry == "half-turn" and columns % 2 == 0)
    middle = (columns - 1, turn if headside is None else 2 * headside.first + turn)
    depth = np.minimum(pinholes[:, 0], columns - 1 - pinholes[:, 0])
    nowhere = np.zeros(len(pinholes), dtype=np.bool_)
    plain = across(pinholes, depth, nowhere, symmetry, Setting(middle, Wrap(rows)))
    return dressed(plain, headside, edges)
