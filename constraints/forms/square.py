"""The square: worked round in four quarters, or across from edge to edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Self

from constraints.edgings import Headside
from constraints.edgings.headside import corner
from constraints.forms.form import (
    AS_MAT,
    HALF,
    LARGEST_HALF_SIZE,
    QUARTER,
    WHOLE,
    Box,
    Form,
    decode_headside,
)
from constraints.forms.grids import dressed_outside, in_quarters, in_rows
from constraints.piece import ROUND, WORKED, Piece

if TYPE_CHECKING:
    from constraints.reader import Reader


@dataclass(frozen=True)
class Square(Form):
    """A square of half-size N, N pitches wide, 2N(N + 1) pinholes, worked round or across."""

    half_size: int
    headside: Headside | None = None

    name: ClassVar[str] = "square"
    ways: ClassVar[tuple[str, ...]] = WORKED
    edged: ClassVar[tuple[str, ...]] = (ROUND,)
    cut: ClassVar[tuple[str, ...]] = (WHOLE, HALF, QUARTER)
    serves: ClassVar[tuple[str, ...]] = (AS_MAT,)
    keys: ClassVar[tuple[str, ...]] = ("half_size", "width", "copies", "place")
    composed: ClassVar[str] = "square"
    one_side: ClassVar[bool] = True

    @property
    def parity(self) -> int:
        return 1

    @property
    def box(self) -> Box:
        return (-self.half_size, -self.half_size, self.half_size, self.half_size)

    @property
    def measures(self) -> dict[str, int]:
        return {"half_size": self.half_size}

    def lines(self, worked: str) -> int:
        return self.half_size if worked == ROUND else 2 * self.half_size

    def edges(self, worked: str) -> int:
        return 1 if worked == ROUND else 2

    def piece(self, worked: str, symmetry: str = "none") -> Piece:
        half = self.half_size
        plain = in_quarters(half, half, 2 * half, symmetry) if worked == ROUND else in_rows(half, half, symmetry)
        return dressed_outside(plain, self.headside)

    def comparable(self, other: Form) -> bool:
        """Squares of any sizes lie centre on centre."""
        return self.name == other.name

    @classmethod
    def sized(cls, half_size: int, headside: Headside | None) -> Self | None:
        """The square of a half-size with a headside; None if whole fans do not fit round it."""
        fitting = None if headside is None else corner(half_size, headside)
        return None if (fitting is None) != (headside is None) else cls(half_size, fitting)

    def grown(self, units: int, headside: Headside | None) -> Square | None:
        return Square.sized(self.half_size + units, headside)

    @property
    def told(self) -> str:
        return ""

    def asked(self) -> dict[str, Any]:
        return {**super().asked(), "half_size": (self.half_size, self.half_size)}

    @classmethod
    def decode(cls, read: Reader) -> Self:
        return cls(read.whole("half_size", 1, LARGEST_HALF_SIZE), decode_headside(read))
