"""The brief: what she asks for, in frozen values.

Reading it from TOML and flags is the business of `explore.asking`; here every value is already of its
kind and in its range.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any, TypedDict, Unpack

from constraints.edgings import FOOTSIDE, Headside
from constraints.edgings.outer_side import reach
from constraints.forms import Square
from constraints.piece import ACROSS, ROUND
from constraints.ruleset import Rules

Span = tuple[float, float]
WholeSpan = tuple[int, int]
# The symmetry of a piece that leaves it to the search.
ANY_SYMMETRY = "any"


@dataclass(frozen=True)
class Size:
    """One size a square may have. width_mm = half_size x pitch_mm."""

    half_size: int
    pitch_mm: float
    pairs: int


@dataclass(frozen=True)
class AskedPiece:
    """The piece that is asked for: a form, how it is worked and edged, and what of its measures is fixed.

    form: square, strip, frame or rectangle. pitch_mm: span. half_size and width_mm: at most one of them; neither means
    the largest half-size that the pairs allow. headside: None for a footside; every form lays its valleys anew.
    passives: along a footside. columns, rows, repeats, both_sides: of a strip. half_height, height_mm, band: of a frame
    or rectangle; its half-height and its band in half pitches.
    """

    form: str = "square"
    worked: str = ROUND
    symmetry: str = "full"
    pitch_mm: Span = (5.0, 5.0)
    passives: int = 1
    headside: Headside | None = None
    both_sides: bool = False
    half_size: WholeSpan | None = None
    width_mm: float | None = None
    half_height: int | None = None
    height_mm: float | None = None
    band: int | None = None
    columns: int | None = None
    rows: WholeSpan = (8, 40)
    repeats: int | None = None

    @property
    def edging(self) -> str:
        """Its edge as she says it."""
        return FOOTSIDE if self.headside is None else self.headside.name

    @property
    def edge_passives(self) -> int:
        """Passives along the edge of a square: of its footside, or of its fans or scallop."""
        return self.passives if self.headside is None else self.headside.passives

    @property
    def middle_pitch_mm(self) -> float:
        """The pitch of a piece whose measures do not ask for another: the middle of the span."""
        return round(sum(self.pitch_mm) / 2, 2)

    def square(self, half_size: int) -> Square | None:
        """The square of a half-size with its edging; None if whole fans do not fit round it."""
        return Square(half_size).grown(0, self.headside)


@dataclass(frozen=True)
class AskedStamp:
    """A stamp that is asked for. name: as she knows it. size: pitches, None for what suits stamp and piece. turns:
    degrees clockwise on the page, none for what suits the grid. copies: that the symmetry does not give."""

    name: str = ""
    size: Span | None = None
    turns: tuple[float, ...] = ()
    copies: int = 1


@dataclass(frozen=True)
class Run:
    """A search. apart: least share in which two pieces differ. count: of pieces. effort: 1 is the usual; it multiplies
    the deterministic time of each solve and the jobs tried."""

    apart: float = 0.10
    count: int = 24
    seed: int = 1
    effort: float = 1.0


@dataclass(frozen=True)
class Brief:
    """What she asks for: the piece, its rules, the stamps that it shows, the search. stamps: none for patterns from the
    rules alone."""

    piece: AskedPiece = AskedPiece()
    rules: Rules = field(default_factory=Rules)
    stamps: tuple[AskedStamp, ...] = ()
    run: Run = Run()

    @property
    def stamp(self) -> AskedStamp:
        """The one stamp that a command takes; without one what it would be asked by default."""
        return self.stamps[0] if self.stamps else AskedStamp()

    @classmethod
    def of(cls, **values: Unpack[BriefValues]) -> Brief:
        """A brief by the names of its values. A least match that is not given is the usual one of how it is worked."""
        brief = cls().changed(**values)
        return brief if "match" in values else brief.changed(match=usual_match(brief.piece.worked))

    def changed(self, **values: Unpack[BriefValues]) -> Brief:
        """The brief with other values. TypeError for names that it has not."""
        if unknown := values.keys() - _PLACES.keys():
            raise TypeError(f"a brief has no {', '.join(sorted(unknown))}")
        parts: dict[str, dict[str, Any]] = {part: {} for part in _PARTS}
        for name, value in values.items():
            part, own = _PLACES[name]
            parts[part][own] = value
        stamp = replace(self.stamp, **parts["stamp"])
        stamps = () if stamp == AskedStamp() and len(self.stamps) < 2 else (stamp, *self.stamps[1:])
        piece, rules, run = (replace(getattr(self, part), **parts[part]) for part in ("piece", "rules", "run"))
        return Brief(piece, rules, stamps, run)

    def value(self, name: str) -> Any:
        """A value by its name."""
        part, own = _PLACES[name]
        return getattr(getattr(self, part), own)


class BriefValues(TypedDict, total=False):
    """Every value of a brief by its name: those of its parts as they are called there, but for the first two of a
    stamp."""

    form: str
    worked: str
    symmetry: str
    pitch_mm: Span
    passives: int
    headside: Headside | None
    both_sides: bool
    half_size: WholeSpan | None
    width_mm: float | None
    half_height: int | None
    height_mm: float | None
    band: int | None
    columns: int | None
    rows: WholeSpan
    repeats: int | None

    pairs: int
    stitches: tuple[str, ...]
    least: Mapping[str, int]
    narrowest: int
    widest: int
    narrowest_ground: int
    margin: int
    splits: int
    corners: str
    solid: Span
    match: float

    stamp: str
    stamp_size: Span | None
    turns: tuple[float, ...]
    copies: int

    apart: float
    count: int
    seed: int
    effort: float


_PARTS = {"piece": AskedPiece, "rules": Rules, "stamp": AskedStamp, "run": Run}
_OF_STAMP = {"name": "stamp", "size": "stamp_size"}
# Of every value, by its name, the part that holds it and what it is called there.
_PLACES = {
    _OF_STAMP.get(each.name, each.name): (part, each.name) for part, kind in _PARTS.items() for each in fields(kind)
}


def usual_match(worked: str) -> float:
    """The least match of a stamp where she names none."""
    return 0.65 if worked == ROUND else 0.60


def largest_half_size(pairs: int, worked: str, passives: int) -> int:
    """The largest half-size these pairs can work; below 1 if they suffice for none."""
    if worked == ACROSS:
        return (pairs - 2 * (1 + passives)) // 2
    return pairs - 1 - passives


def sizes(brief: Brief) -> tuple[Size, ...]:
    """Every size the brief allows, smallest first; empty if the pairs do not suffice for any.

    With a width, each half-size takes the pitch that makes it that wide if the pitch may vary, and the
    nearest half-size to the width if the pitch is fixed.
    """
    most = largest_half_size(brief.rules.pairs, brief.piece.worked, brief.piece.edge_passives)
    if brief.piece.width_mm is not None:
        wanted = _for_width(brief.piece.width_mm, brief.piece.pitch_mm, reach(brief.piece.headside))
    elif brief.piece.half_size is not None:
        middle = brief.piece.middle_pitch_mm
        wanted = [(n, middle) for n in range(brief.piece.half_size[0], brief.piece.half_size[1] + 1)]
    else:
        largest = next((n for n in range(most, 0, -1) if brief.piece.square(n)), most)
        wanted = [(largest, brief.piece.middle_pitch_mm)]
    return tuple(
        Size(n, pitch, Square(n).pairs(brief.piece.worked, brief.piece.edge_passives))
        for n, pitch in wanted
        if 1 <= n <= most and brief.piece.square(n)
    )


def _for_width(width: float, pitch: Span, more: float) -> list[tuple[int, float]]:
    """more: units by which fans stand out on either side."""
    finest, coarsest = pitch
    if finest == coarsest:
        nearest = round(width / finest - more)
        return [(nearest, finest)] if nearest >= 1 else []
    fewest, most = math.ceil(width / coarsest - more - 1e-9), math.floor(width / finest - more + 1e-9)
    return [(n, round(width / (n + more), 5)) for n in range(max(1, fewest), most + 1)]
