"""The frame: a band round cloth, worked round."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Self

import numpy as np

from constraints.edgings import Headside
from constraints.edgings.headside import corner, fits_corner
from constraints.forms.form import (
    AS_EDGING,
    AS_FRAME,
    CENTRE,
    CORNER,
    EDGE,
    HALF,
    LARGEST_HALF_SIZE,
    QUARTER,
    WHOLE,
    decode_headside,
)
from constraints.forms.grids import dressed_outside, in_quarters
from constraints.forms.oblong import Oblong
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.piece import ROUND, Piece

if TYPE_CHECKING:
    from constraints.reader import Reader


@dataclass(frozen=True)
class Frame(Oblong):
    """A frame of half-sides A and B round cloth, its band so many units wide, worked round."""

    band: int
    headside: Headside | None = None

    name: ClassVar[str] = "frame"
    ways: ClassVar[tuple[str, ...]] = (ROUND,)
    edged: ClassVar[tuple[str, ...]] = (ROUND,)
    cut: ClassVar[tuple[str, ...]] = (WHOLE, HALF, QUARTER)
    serves: ClassVar[tuple[str, ...]] = (AS_FRAME, AS_EDGING)
    keys: ClassVar[tuple[str, ...]] = ("half_size", "half_height", "band", "width", "height", "place")
    composed: ClassVar[str] = "frame"
    has_opening: ClassVar[bool] = True

    @property
    def opening(self) -> tuple[int, int]:
        return (self.half_width - self.band, self.half_height - self.band)

    @property
    def deep(self) -> int:
        return self.band

    @property
    def to_middle(self) -> float:
        return self.band / 2

    def inwards(self, points: IntArray) -> FloatArray:
        from_outside = super().inwards(points)
        return np.minimum(from_outside, self.band - from_outside)

    def parts(self, piece: Piece) -> dict[str, BoolArray]:
        """Its centre is the middle of its band, all round; its corners lie beyond the opening both ways."""
        x, y = np.abs(piece.pinholes).T
        wide, high = self.opening
        return {CENTRE: self._middle(piece), CORNER: (x >= wide) & (y >= high), EDGE: self._edge(piece)}

    @property
    def measures(self) -> dict[str, int]:
        return {**super().measures, "band": self.band}

    def lines(self, worked: str) -> int:
        """One from each column of the band to the next."""
        return self.band

    def edges(self, worked: str) -> int:
        """The outer edge and the inner one."""
        return 2

    def piece(self, worked: str, symmetry: str = "none") -> Piece:
        return dressed_outside(in_quarters(self.half_width, self.half_height, self.band, symmetry), self.headside)

    @classmethod
    def sized(
        cls, half_width: int, half_height: int | None, band: int | None, headside: Headside | None
    ) -> Self | None:
        high = half_height or half_width
        shorter = min(half_width, high)
        fitting = None if headside is None else corner(half_width, headside)
        if headside is not None and (fitting is None or not fits_corner(high, fitting)):
            return None
        return cls(half_width, high, band or shorter - shorter // 2, fitting)

    def grown(self, units: int, headside: Headside | None) -> Frame | None:
        return Frame.sized(self.half_width + units, self.half_height + units, self.band + units, headside)

    def asked(self) -> dict[str, Any]:
        return {**super().asked(), "band": self.band}

    @classmethod
    def decode(cls, read: Reader) -> Self:
        width, height = (read.whole(key, 1, LARGEST_HALF_SIZE) for key in ("half_width", "half_height"))
        return cls(width, height, read.whole("band", 1, max(1, min(width, height) - 1)), decode_headside(read))
