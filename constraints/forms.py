"""What is made: the outlines that a piece of lace may have, and the pairs each takes.

Lengths are lattice units, half a pitch each. A square and a frame are laid about their middle; a strip has
its footside in column 0 and begins with row 0.

How many pairs a form takes is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import ClassVar

from constraints import bands
from constraints import piece as pieces
from constraints.edging import Headside
from constraints.headside import dressed
from constraints.lattice import Grid
from constraints.outer_side import reach
from constraints.piece import LEFT_EDGE, RIGHT_EDGE, ROUND, Piece
from constraints.symmetry import OF_STRIPS, SYMMETRIES

Box = tuple[int, int, int, int]


@dataclass(frozen=True)
class Square:
    """A square of half-size N, N pitches wide, worked round or across."""

    half_size: int
    headside: Headside | None = None

    name: ClassVar[str] = "square"
    ways: ClassVar[tuple[str, ...]] = pieces.WORKED

    @property
    def parity(self) -> int:
        """x + y modulo 2 at a pinhole."""
        return 1

    @property
    def box(self) -> Box:
        """Its outermost pins: left, top, right, bottom."""
        return (-self.half_size, -self.half_size, self.half_size, self.half_size)

    def lines(self, worked: str) -> int:
        """Pairs of the ground across any cut, edge pairs and passives aside."""
        return self.half_size if worked == ROUND else 2 * self.half_size

    def edges(self, worked: str) -> int:
        """How many edges have an edge pair with its passives at any time."""
        return 1 if worked == ROUND else 2

    def piece(self, worked: str, symmetry: str) -> Piece:
        plain = pieces.square(self.half_size, worked, symmetry)
        return plain if self.headside is None else _dressed_square(plain, self.headside)


@dataclass(frozen=True)
class _Oblong:
    """A piece of half-sides A and B, laid about its middle."""

    half_width: int
    half_height: int

    @property
    def half_size(self) -> int:
        """Units from its middle to the farther edge."""
        return max(self.half_width, self.half_height)

    @property
    def parity(self) -> int:
        """x + y modulo 2 at a pinhole: the opposite of A + B, so that none lies on a corner line."""
        return (self.half_width + self.half_height + 1) % 2

    @property
    def box(self) -> Box:
        """Its outermost pins: left, top, right, bottom."""
        return (-self.half_width, -self.half_height, self.half_width, self.half_height)


@dataclass(frozen=True)
class Rectangle(_Oblong):
    """A rectangle of half-sides A and B, worked across: its rows run from left to right."""

    name: ClassVar[str] = "rectangle"
    headside: ClassVar[None] = None
    ways: ClassVar[tuple[str, ...]] = (pieces.ACROSS,)

    def lines(self, worked: str) -> int:
        """Pairs of the ground across any cut, edge pairs aside: one from each column to the next."""
        return 2 * self.half_width

    def edges(self, worked: str) -> int:
        """How many edges have an edge pair with its passives at any time."""
        return 2

    def piece(self, worked: str, symmetry: str) -> Piece:
        return bands.rectangle(self.half_width, self.half_height, symmetry)


@dataclass(frozen=True)
class Frame(_Oblong):
    """A frame of half-sides A and B round cloth, its band so many units wide, worked round."""

    band: int
    headside: Headside | None = None

    name: ClassVar[str] = "frame"
    ways: ClassVar[tuple[str, ...]] = (ROUND,)

    @property
    def opening(self) -> tuple[int, int]:
        """Half-sides of the opening, between the pins of the inner edge."""
        return (self.half_width - self.band, self.half_height - self.band)

    def lines(self, worked: str) -> int:
        """Pairs of the ground across any cut, edge pairs aside: one from each column of the band to the next."""
        return self.band

    def edges(self, worked: str) -> int:
        """The outer edge and the inner one."""
        return 2

    def piece(self, worked: str, symmetry: str) -> Piece:
        return bands.frame(self.half_width, self.half_height, self.band, symmetry, self.headside)


@dataclass(frozen=True)
class Strip:
    """A strip of c columns that repeats itself every P rows, P even, worked down.

    headside: along its right edge, and if `both` along the left one too.
    """

    columns: int
    rows: int
    repeats: int
    headside: Headside | None = None
    both: bool = False

    name: ClassVar[str] = "strip"
    ways: ClassVar[tuple[str, ...]] = (pieces.ACROSS,)

    @property
    def length(self) -> int:
        """All its rows."""
        return self.rows * self.repeats

    @property
    def half_size(self) -> int:
        """Units from its middle to the farther edge, rounded up."""
        return max(self.columns, self.length) // 2

    @property
    def parity(self) -> int:
        """x + y modulo 2 at a pinhole."""
        return 1

    @property
    def box(self) -> Box:
        """Its outermost pins: left, top, right, bottom."""
        return (0, 0, self.columns - 1, self.length - 1)

    def lines(self, worked: str) -> int:
        """Pairs of the ground across any cut, edge pairs aside: one from each column to the next."""
        return self.columns - 1

    def edges(self, worked: str) -> int:
        """The left edge and the right one."""
        return 2

    def piece(self, worked: str, symmetry: str) -> Piece:
        """All its repeats one below the other, the first row and the last one free; no symmetry ties them."""
        return bands.strip(self.columns, self.length, self.headside, self.both)

    def repeat(self, symmetry: str = "none") -> Piece:
        """One repeat that meets itself."""
        return bands.repeat(self.columns, self.rows, symmetry, self.headside, self.both)


Form = Square | Rectangle | Frame | Strip
FORMS: dict[str, type[Square] | type[Rectangle] | type[Frame] | type[Strip]] = {
    form.name: form for form in (Square, Rectangle, Frame, Strip)
}


def pairs_needed(form: Form, worked: str, passives: int) -> int:
    """Pairs that a form takes, `passives` at every footside included.

    A headside takes one line less than a plain edge and has its own pairs at the valley instead.
    """
    return form.lines(worked) + form.edges(worked) + sum(passives_of(form, worked, passives))


def passives_of(form: Form, worked: str, passives: int) -> tuple[int, ...]:
    """The passives of each edge that has an edge pair, from the lacemaker's left: a footside's or a headside's."""
    found = [passives] * form.edges(worked)
    if form.headside is None:
        return tuple(found)
    for edge in headside_edges(form):
        found[edge] = form.headside.passives
    return tuple(found)


def symmetries_of(form: Form, worked: str) -> tuple[str, ...]:
    """The symmetries that move the grid of a form, and its headside, onto themselves."""
    names = OF_STRIPS if isinstance(form, Strip) else tuple(SYMMETRIES)
    return tuple(name for name in names if _keeps(form, worked, name))


def _keeps(form: Form, worked: str, symmetry: str) -> bool:
    piece = form.repeat(symmetry) if isinstance(form, Strip) else form.piece(worked, symmetry)
    moved = Grid.of(piece.pinholes).at(piece.setting.moved(piece.pinholes, symmetry))
    return bool((moved >= 0).all() and (piece.held[moved] == piece.held).all())


def bounds(form: Form) -> tuple[float, float, float, float]:
    """The outermost pins of a form, fans and scallops in their full width: left, top, right, bottom."""
    left, top, right, bottom = (float(each) for each in form.box)
    if form.headside is None:
        return left, top, right, bottom
    far = reach(form.headside)
    if isinstance(form, Strip):
        return left - (far if form.both else 0.0), top, right + far, bottom
    return left - far, top - far, right + far, bottom + far


def headside_edges(form: Square | Frame | Strip) -> tuple[int, ...]:
    """The edges along which a form may have its headside."""
    if isinstance(form, Strip):
        return (LEFT_EDGE, RIGHT_EDGE) if form.both else (RIGHT_EDGE,)
    return (LEFT_EDGE,)


@lru_cache(maxsize=16)
def _dressed_square(plain: Piece, headside: Headside) -> Piece:
    return dressed(plain, headside, (LEFT_EDGE,))
