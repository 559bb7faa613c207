"""What every form of lace answers. A form is one room: nobody else asks which form a piece has.

Lengths are lattice units, half a pitch each. How many pairs a form takes is common practice, no source.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import asdict, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any, ClassVar, Self

import numpy as np

from constraints.edgings import EDGINGS, Headside
from constraints.edgings.outer_side import reach
from constraints.forms.phrases import ACROSS_PHRASES, Phrases
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.piece import LEFT_EDGE, RIGHT_EDGE, ROUND, Piece
from constraints.symmetry import SUITS, SYMMETRIES

if TYPE_CHECKING:
    from constraints.forms.strip import Strip
    from constraints.reader import Reader

Box = tuple[int, int, int, int]
Bounds = tuple[float, float, float, float]

# Half-sizes from one unit up to a piece of 512 pitches: beyond any pillow, within any machine.
LARGEST_HALF_SIZE = 512
MOST_REPEATS = 1000
# Into what a pricking may be cut.
WHOLE, HALF, QUARTER = "whole", "half", "quarter"
# Its parts, of those that every form has and some.
CENTRE, CORNER, EDGE = "centre", "corner", "edge"
# The edge is this part of the way to the middle, the centre half of it.
_EDGE, _CENTRE = 0.25, 0.5
# What a piece may be made to fit as: laid on the object, or sewn round it.
AS_STRIP, AS_MAT, AS_FRAME, AS_EDGING = "strip", "mat", "frame", "edging"
PURPOSES = (AS_STRIP, AS_MAT, AS_FRAME, AS_EDGING)


class Form(ABC):
    """The outline of a piece with its edges; its measures are the fields of each form.

    name: what it is called. ways: in which it may be worked, the usual one first. edged: those in which a headside may
    go along it. symmetries: those that its pieces may have, as far as their measures allow. cut: into what its pricking
    may be. serves: as what it may be made to fit, the usual first. keys: of a brief, that say something of it and not
    of every form. composed: what is composed of it, in a word. one_side: whether one length tells its size.
    has_opening: whether it goes round one.
    phrases: of work from edge to edge.
    """

    name: ClassVar[str]
    ways: ClassVar[tuple[str, ...]]
    edged: ClassVar[tuple[str, ...]]
    symmetries: ClassVar[tuple[str, ...]] = tuple(SYMMETRIES)
    cut: ClassVar[tuple[str, ...]]
    serves: ClassVar[tuple[str, ...]]
    keys: ClassVar[tuple[str, ...]]
    composed: ClassVar[str]
    one_side: ClassVar[bool] = False
    has_opening: ClassVar[bool] = False
    phrases: ClassVar[Phrases] = ACROSS_PHRASES

    headside: Headside | None = None

    # --- measures ----------------------------------------------------------------------------------------

    @property
    @abstractmethod
    def box(self) -> Box:
        """Its outermost pins: left, top, right, bottom. A closed form is laid about its middle; a strip has its
        footside in column 0 and begins with row 0."""

    @property
    @abstractmethod
    def parity(self) -> int:
        """x + y modulo 2 at a pinhole."""

    @property
    def opening(self) -> tuple[int, int]:
        """Half-sides of its opening, between the pins of the inner edge; (0, 0) where it has none."""
        return (0, 0)

    @property
    def width(self) -> int:
        """Units from its first column to its last one."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> int:
        """Units from its first row to its last one."""
        return self.box[3] - self.box[1]

    @property
    def half_side(self) -> int:
        """Units from its middle to the farther edge, rounded up."""
        return (max(self.width, self.height) + 1) // 2

    @property
    def deep(self) -> int:
        """Units from its outer edge to its opening, or to its middle."""
        return min(self.width, self.height) // 2

    @property
    def to_middle(self) -> float:
        """Units from its edges to the middle between them: of a band or a strip to its middle line."""
        return min(self.width, self.height) / 2

    def inwards(self, points: IntArray) -> FloatArray:
        """(k,) units from each of points (k, 2) to the nearest of its edges, a headside aside."""
        left, top, right, bottom = self.box
        x, y = points.T.astype(np.float64)
        found: FloatArray = np.min([x - left, right - x, y - top, bottom - y], axis=0)
        return found

    def parts(self, piece: Piece) -> dict[str, BoolArray]:
        """The places, (n,), of its CENTRE, CORNER and EDGE, as far as it has such. piece: what is composed of it.

        Of a piece round a middle the centre is half of the way to each side, the corners lie beyond it both ways.
        """
        x, y = np.abs(piece.pinholes).T
        wide, high = _CENTRE * self.width / 2, _CENTRE * self.height / 2
        return {CENTRE: (x <= wide) & (y <= high), CORNER: (x >= wide) & (y >= high), EDGE: self._edge(piece)}

    def _edge(self, piece: Piece) -> BoolArray:
        """(n,) what lies along its edges; of a headside all, and as much beside it."""
        near: BoolArray = piece.depth <= _EDGE * self.to_middle
        return near

    def _middle(self, piece: Piece) -> BoolArray:
        """(n,) what lies along the middle line of a band or a strip."""
        far: BoolArray = piece.depth >= _CENTRE * self.to_middle
        return far

    @property
    def bounds(self) -> Bounds:
        """Its outermost pins, fans and scallops in their full width: left, top, right, bottom."""
        left, top, right, bottom = (float(each) for each in self.box)
        far = reach(self.headside)
        if ROUND in self.edged:
            return left - far, top - far, right + far, bottom + far
        beside = [far if edge in self.headside_edges else 0.0 for edge in (LEFT_EDGE, RIGHT_EDGE)]
        return left - beside[0], top, right + beside[1], bottom

    @property
    def area(self) -> int:
        """Pinholes, about: to reckon with, not to count."""
        return self.width * self.height // 2 - 2 * self.opening[0] * self.opening[1]

    @property
    def area_once(self) -> int:
        """The same of what is composed and judged."""
        return self.area

    @property
    @abstractmethod
    def measures(self) -> dict[str, int]:
        """Its own measures, each under its key in a file."""

    # --- pairs and edges ---------------------------------------------------------------------------------

    @abstractmethod
    def lines(self, worked: str) -> int:
        """Pairs of the ground across any cut, edge pairs and passives aside."""

    @abstractmethod
    def edges(self, worked: str) -> int:
        """How many edges have an edge pair with its passives at any time."""

    @property
    def headside_edges(self) -> tuple[int, ...]:
        """The edges along which its headside stands; none without one."""
        return () if self.headside is None else (LEFT_EDGE,)

    def passives(self, worked: str, passives: int) -> tuple[int, ...]:
        """The passives of each edge that has an edge pair, from the lacemaker's left: a footside's or a headside's."""
        own = passives if self.headside is None else self.headside.passives
        return tuple(own if edge in self.headside_edges else passives for edge in range(self.edges(worked)))

    def pairs(self, worked: str, passives: int) -> int:
        """Pairs that it takes, `passives` at every footside included.

        A headside takes one line less than a plain edge and has its own pairs at the valley instead.
        """
        return self.lines(worked) + self.edges(worked) + sum(self.passives(worked, passives))

    # --- pieces ------------------------------------------------------------------------------------------

    @abstractmethod
    def piece(self, worked: str, symmetry: str = "none") -> Piece:
        """All of it."""

    def once(self, worked: str, symmetry: str) -> Piece:
        """What is composed and judged: all of it, or one repeat that meets itself."""
        return self.piece(worked, symmetry)

    @property
    def repeating(self) -> Strip | None:
        """The strip that it is, if it repeats itself; None if it is closed."""
        return None

    def symmetries_allowed(self, worked: str) -> tuple[str, ...]:
        """The symmetries that move its grid, and its headside, onto themselves."""
        return tuple(name for name in self.symmetries if self.allows(worked, name))

    def allows(self, worked: str, symmetry: str) -> bool:
        """Whether it may have a symmetry, one of those that its pieces may have."""
        return _allows(self, worked, symmetry)

    def comparable(self, other: Form) -> bool:
        """Whether a piece of this form and one of another can lie on each other."""
        return (self.name, self.box, self.opening) == (other.name, other.box, other.opening)

    def takes_edging(self, worked: str) -> bool:
        """Whether its edge may be given another edging."""
        return worked in self.edged

    @abstractmethod
    def grown(self, units: int, headside: Headside | None) -> Form | None:
        """The form with such an edge, or a straight one, its dressed edge so many units further out. None if whole
        fans do not fit along it. ValueError if it takes none."""

    # --- words and files ---------------------------------------------------------------------------------

    @property
    def told(self) -> str:
        """What is said of it beside its size; "" where that goes without saying."""
        return self.name

    @classmethod
    def asked_for(cls, worked: str) -> str:
        """How a brief for it is told: by the way of working where there are several, else by its name."""
        if worked == SUITS:
            return f"worked {' or '.join(cls.ways)}"
        return f"worked {worked}" if len(cls.ways) > 1 else f"a {cls.name}"

    @abstractmethod
    def asked(self) -> dict[str, Any]:
        """The fields of a brief that asks for this form and no other."""
        return {"form": self.name, "headside": self.headside and replace(self.headside, first=0)}

    def encode(self) -> dict[str, Any]:
        """Its measures for a file, its headside only where it has one."""
        if self.headside is None:
            return self.measures
        return {**self.measures, "headside": {"kind": self.headside.kind, **asdict(self.headside)}}

    @classmethod
    @abstractmethod
    def decode(cls, read: Reader) -> Self:
        """The form of such measures. DesignFileError if one is missing or out of range."""


# Every check of a design asks for all symmetries of its form, and a grid is laid out for each.
@lru_cache(maxsize=4096)
def _allows(form: Form, worked: str, symmetry: str) -> bool:
    return form.once(worked, symmetry).closed_under(symmetry)


def decode_headside(read: Reader) -> Headside | None:
    """The headside of a form in a file; None where it names none."""
    if "headside" not in read.data:
        return None
    inside = read.inside("headside")
    kind = EDGINGS[inside.choice("kind", tuple(EDGINGS))]
    return kind(
        stitch=inside.choice("stitch", kind.stitches),
        depth=inside.whole("depth", kind.depths[0], kind.depths[-1]),
        pairs=inside.whole("pairs", kind.at_valley[0], kind.at_valley[-1]),
        first=inside.whole("first", 0, LARGEST_HALF_SIZE),
    )
