"""The rectangle: worked across, its rows from left to right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Self

from constraints.edgings import Headside
from constraints.forms.form import AS_MAT, HALF, LARGEST_HALF_SIZE, WHOLE, Form
from constraints.forms.grids import in_rows
from constraints.forms.oblong import Oblong
from constraints.piece import ACROSS, Piece

if TYPE_CHECKING:
    from constraints.reader import Reader

# How many times as high as wide it is unless she says otherwise.
_HIGH = 1.5


@dataclass(frozen=True)
class Rectangle(Oblong):
    """A rectangle of half-sides A and B, worked across: its rows run from left to right."""

    name: ClassVar[str] = "rectangle"
    ways: ClassVar[tuple[str, ...]] = (ACROSS,)
    edged: ClassVar[tuple[str, ...]] = ()
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

    def piece(self, worked: str, symmetry: str = "none") -> Piece:
        return in_rows(self.half_width, self.half_height, symmetry)

    @classmethod
    def sized(
        cls, half_width: int, half_height: int | None, band: int | None, headside: Headside | None
    ) -> Self | None:
        return cls(half_width, half_height or max(1, round(_HIGH * half_width)))

    def grown(self, units: int, headside: Headside | None) -> Form | None:
        if headside is not None:
            raise ValueError("a rectangle keeps its edge")
        return Rectangle(self.half_width + units, self.half_height + units)

    @classmethod
    def decode(cls, read: Reader) -> Self:
        return cls(*(read.whole(key, 1, LARGEST_HALF_SIZE) for key in ("half_width", "half_height")))
