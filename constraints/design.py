"""A finished piece of lace as a value; `design_file` writes and reads it.

A Design holds what a maker needs to know and nothing of how it was found: no dates, timings, core counts
or paths.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from constraints.forms import Form
from constraints.lattice import Point
from constraints.piece import Piece

Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Block:
    """Connected pinhole places worked in one stitch, sorted by y, then x."""

    stitch: str
    pinholes: tuple[Point, ...]


@dataclass(frozen=True)
class FieldFilling:
    """One filling of the open fields.

    kind: the name of a figure or a ground. places: the centres of figures, holes or pinholes; of a ground its pinholes.
    Sorted by y, then x.
    """

    kind: str
    places: tuple[Point, ...]


@dataclass(frozen=True)
class Print:
    """A stamp as it lies in a design.

    size: longer side of the turned print in pitches. outlines: rings of the copies placed in one
    fundamental part, lattice units, combined even-odd. reverse: the shape is left open in a block.
    """

    name: str
    size: float
    turn_degrees: float
    outlines: tuple[Ring, ...]
    match: float
    reverse: bool = False


@dataclass(frozen=True)
class Design:
    """One finished piece. See the guide to files for the meaning of each value. prints: of different stamps. eyes:
    pinholes, sorted by y, then x."""

    number: int
    form: Form
    pitch_mm: float
    worked: str
    symmetry: str
    passives: int
    pairs: int
    splits: int
    blocks: tuple[Block, ...]
    fillings: tuple[FieldFilling, ...]
    prints: tuple[Print, ...]
    seed: int
    brief: Mapping[str, Any] = field(default_factory=dict)
    start: str = "top-left"
    composition: str = ""
    eyes: tuple[Point, ...] = ()

    @property
    def half_size(self) -> int:
        """The half-size of a square; of another form the units from its middle to the farthest edge."""
        return self.form.half_side

    @property
    def corners(self) -> str:
        """How blocks cross corner lines, see `constraints.corners`; "" in a file of before there were several ways."""
        return str(self.brief.get("corners", ""))

    @property
    def width_mm(self) -> float:
        """Finished width between the outer pins, mm."""
        left, _, right, _ = self.form.bounds
        return (right - left) / 2 * self.pitch_mm

    @property
    def height_mm(self) -> float:
        """Finished height between the outer pins, mm."""
        _, top, _, bottom = self.form.bounds
        return (bottom - top) / 2 * self.pitch_mm

    def piece(self, symmetry: str | None = None) -> Piece:
        """The piece this lies on, with its own symmetry or another."""
        return self.form.piece(self.worked, self.symmetry if symmetry is None else symmetry)

    def of_each(self, words: Sequence[str]) -> str:
        """What is said of each of its prints: once if it is the same of all, else by their names; "" without any."""
        if len(set(words)) < 2:
            return next(iter(words), "")
        return ", ".join(f"{each.name} {said}" for each, said in zip(self.prints, words, strict=True))

    def opened(self, eyes: Iterable[Point]) -> Design:
        """The same piece with these eyes in its blocks and no others."""
        return replace(self, eyes=tuple(eyes))

    def numbered(self, number: int) -> Design:
        return replace(self, number=number)
