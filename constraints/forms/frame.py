"""The frame: a band round cloth, worked round."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any, ClassVar, Self

import numpy as np

from constraints import edging
from constraints.edging import Headside
from constraints.forms.form import (
    AS_EDGING,
    AS_FRAME,
    HALF,
    LARGEST_HALF_SIZE,
    QUARTER,
    WHOLE,
    decode_headside,
)
from constraints.forms.grids import points
from constraints.forms.oblong import Oblong
from constraints.headside import dressed
from constraints.lattice import STEPS, Grid, neighbour_table
from constraints.piece import LEFT_EDGE, NO_EDGE, RIGHT_EDGE, ROUND, ROUND_DIRECTIONS, Piece, quarters

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
    keys: ClassVar[tuple[str, ...]] = ("half_size", "half_height", "band", "width", "height")
    composed: ClassVar[str] = "frame"
    has_opening: ClassVar[bool] = True

    @property
    def opening(self) -> tuple[int, int]:
        return (self.half_width - self.band, self.half_height - self.band)

    @property
    def deep(self) -> int:
        return self.band

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
        return _grid(self.half_width, self.half_height, self.band, symmetry, self.headside)

    @classmethod
    def sized(cls, half_width: int, half_height: int | None, band: int | None, wanted: str) -> Self | None:
        high = half_height or half_width
        shorter = min(half_width, high)
        headside = edging.named(wanted)
        fitting = None if headside is None else edging.corner(half_width, headside)
        if headside is not None and (fitting is None or not edging.fits_corner(high, fitting)):
            return None
        return cls(half_width, high, band or shorter - shorter // 2, fitting)

    def grown(self, units: int, wanted: str) -> Frame | None:
        return Frame.sized(self.half_width + units, self.half_height + units, self.band + units, wanted)

    def asked(self) -> dict[str, Any]:
        return {**super().asked(), "band": self.band}

    @classmethod
    def decode(cls, read: Reader) -> Self:
        width, height = (read.whole(key, 1, LARGEST_HALF_SIZE) for key in ("half_width", "half_height"))
        return cls(width, height, read.whole("band", 1, max(1, min(width, height) - 1)), decode_headside(read))


@lru_cache(maxsize=16)
def _grid(
    half_width: int, half_height: int, band: int, symmetry: str = "none", headside: Headside | None = None
) -> Piece:
    """A frame of half-sides A and B worked round, its band so many units wide from edge pin to edge pin.

    x + y has the parity opposite to A + B, so that no pinhole lies on a corner line; only then do the corners
    balance. The corner lines run from the outer corners inwards. At an inner corner the edge pair takes one of
    the steps across the corner line.
    """
    parity = (half_width + half_height + 1) % 2
    pinholes = points((-half_width, half_width), (-half_height, half_height), parity)
    sides = np.array([half_width, half_height])
    from_outside = (sides - np.abs(pinholes)).min(axis=1)
    pinholes, from_outside = pinholes[from_outside <= band], from_outside[from_outside <= band]
    zone = quarters(pinholes, half_width, half_height)
    edge = np.where(from_outside == 0, LEFT_EDGE, np.where(from_outside == band, RIGHT_EDGE, NO_EDGE))
    neighbours, grid, forward = neighbour_table(pinholes), Grid.of(pinholes), ROUND_DIRECTIONS[zone]
    # An edge pin that lacks one of its two steps forward passes that pair on along the edge: two units on, or past an
    # outer corner one unit on and one in. The last pin before an inner corner has both steps.
    lacking = ((neighbours < 0) & (forward @ STEPS.T > 0)).any(axis=1)
    ahead = grid.at(pinholes + 2 * forward)
    inward = -np.sign(pinholes) * np.abs(forward[:, ::-1])
    ahead = np.where(ahead < 0, grid.at(pinholes + forward + inward), ahead)
    plain = Piece(
        worked=ROUND,
        symmetry=symmetry,
        parity=parity,
        pinholes=pinholes,
        neighbours=neighbours,
        depth=np.minimum(from_outside, band - from_outside),
        zone=zone,
        directions=ROUND_DIRECTIONS,
        edge=edge,
        edge_next=np.where(lacking, ahead, -1),
        free=np.zeros(len(pinholes), dtype=np.bool_),
        fan=np.zeros(len(pinholes), dtype=np.bool_),
        held=np.zeros(len(pinholes), dtype=np.bool_),
    )
    return dressed(plain, headside, (LEFT_EDGE,))
