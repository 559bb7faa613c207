"""The square: worked round in four quarters, or across from edge to edge."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any, ClassVar, Self

import numpy as np

from constraints import edging
from constraints.edging import Headside
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
from constraints.headside import dressed
from constraints.lattice import BoolArray, Grid, IntArray, neighbour_table
from constraints.piece import (
    ACROSS,
    ACROSS_DIRECTIONS,
    LEFT_EDGE,
    NO_EDGE,
    RIGHT_EDGE,
    ROUND,
    ROUND_DIRECTIONS,
    WORKED,
    Piece,
    quarters,
)

if TYPE_CHECKING:
    from constraints.reader import Reader


@dataclass(frozen=True)
class Square(Form):
    """A square of half-size N, N pitches wide, worked round or across."""

    half_size: int
    headside: Headside | None = None

    name: ClassVar[str] = "square"
    ways: ClassVar[tuple[str, ...]] = WORKED
    edged: ClassVar[tuple[str, ...]] = (ROUND,)
    cut: ClassVar[tuple[str, ...]] = (WHOLE, HALF, QUARTER)
    serves: ClassVar[tuple[str, ...]] = (AS_MAT,)
    keys: ClassVar[tuple[str, ...]] = ("half_size", "width", "copies")
    composed: ClassVar[str] = "square"
    one_side: ClassVar[bool] = True
    varied: ClassVar[bool] = True

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
        plain = _grid(self.half_size, worked, symmetry)
        return plain if self.headside is None else _dressed(plain, self.headside)

    def comparable(self, other: Form) -> bool:
        """Squares of any sizes lie centre on centre."""
        return self.name == other.name

    def grown(self, units: int, wanted: str) -> Square | None:
        side = self.half_size + units
        headside = edging.named(wanted)
        fitting = None if headside is None else edging.corner(side, headside)
        return None if (fitting is None) != (headside is None) else replace(self, half_size=side, headside=fitting)

    @property
    def told(self) -> str:
        return ""

    def asked(self) -> dict[str, Any]:
        return {**super().asked(), "half_size": (self.half_size, self.half_size)}

    @classmethod
    def decode(cls, read: Reader) -> Self:
        return cls(read.whole("half_size", 1, LARGEST_HALF_SIZE), decode_headside(read))


@lru_cache(maxsize=16)
def _dressed(plain: Piece, headside: Headside) -> Piece:
    return dressed(plain, headside, (LEFT_EDGE,))


@lru_cache(maxsize=16)
def _grid(half_size: int, worked: str, symmetry: str) -> Piece:
    """A square of half-size N: |x|, |y| <= N and x + y odd, 2N(N + 1) pinholes, N pitches wide.

    With x + y odd no pinhole lies on a corner line; only then do the corners balance.
    """
    span = np.arange(-half_size, half_size + 1)
    y, x = np.meshgrid(span, span, indexing="ij")
    keep = (x + y) % 2 != 0
    pinholes = np.stack([x[keep], y[keep]], axis=1)
    if worked == ROUND:
        zone = quarters(pinholes, half_size, half_size)
        directions = ROUND_DIRECTIONS
    else:
        zone = np.zeros(len(pinholes), dtype=np.int64)
        directions = ACROSS_DIRECTIONS
    depth = half_size - np.abs(pinholes).max(axis=1)
    along = _along(pinholes, half_size, zone, directions)
    right = (worked == ACROSS) & (pinholes[:, 0] > 0)
    return Piece(
        worked=worked,
        symmetry=symmetry,
        parity=1,
        pinholes=pinholes,
        neighbours=neighbour_table(pinholes),
        depth=depth,
        zone=zone,
        directions=directions,
        edge=np.where(along, np.where(right, RIGHT_EDGE, LEFT_EDGE), NO_EDGE),
        edge_next=_edge_order(pinholes, along, zone, directions),
        free=(depth == 0) & (worked == ACROSS),
        fan=np.zeros(len(pinholes), dtype=np.bool_),
        held=np.zeros(len(pinholes), dtype=np.bool_),
    )


def _along(pinholes: IntArray, half_size: int, zone: IntArray, directions: IntArray) -> BoolArray:
    """Whether a pin stands on an edge that runs with the work."""
    across = np.abs(directions[zone][:, ::-1] * pinholes).sum(axis=1)
    found: BoolArray = across == half_size
    return found


def _edge_order(pinholes: IntArray, along: BoolArray, zone: IntArray, directions: IntArray) -> IntArray:
    """The next edge pin: two units on along the edge, or the first of the next quarter past a corner."""
    grid, forward = Grid.of(pinholes), directions[zone]
    ahead = grid.at(pinholes + 2 * forward)
    if len(directions) > 1:
        # Past the corner the edge pair turns inwards with the pillow: one unit on, one unit in.
        inward = -np.sign(pinholes) * np.abs(forward[:, ::-1])
        ahead = np.where(ahead < 0, grid.at(pinholes + forward + inward), ahead)
    return np.where(along, ahead, -1)
