"""The rectangle: worked across, its rows from left to right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Self

from constraints.edgings import Headside
from constraints.edgings.headside import along_side
from constraints.forms.form import AS_MAT, HALF, LARGEST_HALF_SIZE, WHOLE, Form, decode_headside
from constraints.forms.grids import dressed_beside, in_rows
from constraints.forms.oblong import Oblong
from constraints.piece import ACROSS, LEFT_EDGE, RIGHT_EDGE, Piece

if TYPE_CHECKING:
    from constraints.reader import Reader

# How many times as high as wide it is unless she says otherwise.
_HIGH = 1.5


@dataclass(frozen=True)
class Rectangle(Oblong):
    """A rectangle of half-sides A and B, worked across: its rows run from left to right.

    headside: along its left side and its right one; B is then one more than a multiple of its depth.
    """

    headside: Headside | None = None

    name: ClassVar[str] = "rectangle"
    ways: ClassVar[tuple[str, ...]] = (ACROSS,)
    edged: ClassVar[tuple[str, ...]] = (ACROSS,)
    # Worked across it has no corner lines to cut along.
    cut: ClassVar[tuple[str, ...]] = (WHOLE, HALF)
    serves: ClassVar[tuple[str, ...]] = (AS_MAT,)
    keys: ClassVar[tuple[str, ...]] = ("half_size", "half_height", "width", "height", "place")
    composed: ClassVar[str] = "rectangle"

    def lines(self, worked: str) -> int:
        """One from each column to the next."""
        return 2 * self.half_width

    def edges(self, worked: str) -> int:
        return 2

    @property
    def headside_edges(self) -> tuple[int, ...]:
        return () if self.headside is None else (LEFT_EDGE, RIGHT_EDGE)

    def piece(self, worked: str, symmetry: str = "none") -> Piece:
        return dressed_beside(in_rows(self.half_width, self.half_height, symmetry), self.headside)

    @classmethod
    def sized(
        cls, half_width: int, half_height: int | None, band: int | None, headside: Headside | None
    ) -> Self | None:
        high = half_height or max(1, round(_HIGH * half_width))
        if headside is None:
            return cls(half_width, high)
        if half_height is None:
            # As high as usual, but for whole fans.
            high = 1 + headside.depth * max(1, round((high - 1) / headside.depth))
        fitting = along_side(high, headside)
        return None if fitting is None else cls(half_width, high, fitting)

    def grown(self, units: int, headside: Headside | None) -> Form | None:
        return Rectangle.sized(self.half_width + units, self.half_height + units, None, headside)

    @classmethod
    def decode(cls, read: Reader) -> Self:
        width, height = (read.whole(key, 1, LARGEST_HALF_SIZE) for key in ("half_width", "half_height"))
        return cls(width, height, decode_headside(read))
