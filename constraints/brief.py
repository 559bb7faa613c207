"""The brief: what she asks for, in frozen values.

Reading it from TOML and flags is the business of `explore.asking`; here every value is already of its
kind and in its range.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields, replace
from typing import Any

from constraints import edging
from constraints.edging import FOOTSIDE, Headside
from constraints.forms import Square
from constraints.outer_side import reach
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
    the largest half-size that the pairs allow. edging: as `constraints.edging.named` reads it. passives: along a
    footside. columns, rows, repeats, both_sides: of a strip. half_height, height_mm, band: of a frame or rectangle;
    its half-height and its band in half pitches.
    """

    form: str = "square"
    worked: str = ROUND
    symmetry: str = "full"
    pitch_mm: Span = (5.0, 5.0)
    passives: int = 1
    edging: str = FOOTSIDE
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
    def headside(self) -> Headside | None:
        """What its edging asks for; None for a footside."""
        return edging.named(self.edging)

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
        if self.headside is None:
            return Square(half_size)
        fitting = edging.corner(half_size, self.headside)
        return None if fitting is None else Square(half_size, fitting)


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
    def of(cls, **values: Any) -> Brief:
        """A brief by the names of its values, `stamp` and `stamp_size` those of the stamp.

        A least match that is not given, or None, is the usual one of the way of working.
        """
        return cls().changed(**{"match": None, **values})

    def changed(self, **values: Any) -> Brief:
        """The brief with other values, by name as for `of`. TypeError for a name that it has not."""
        piece, rules, stamp, run = (_taken(values, part) for part in (AskedPiece, Rules, AskedStamp, Run))
        if values.keys() - {*piece, *rules, *run, *_OF_STAMP, "turns", "copies"}:
            raise TypeError(f"a brief has no {', '.join(values)}")
        stamp |= {own: values[name] for name, own in _OF_STAMP.items() if name in values}
        asked = replace(self.piece, **piece)
        if "match" in rules and rules["match"] is None:
            rules["match"] = usual_match(asked.worked)
        first = replace(self.stamp, **stamp)
        stamps = () if first == AskedStamp() and len(self.stamps) < 2 else (first, *self.stamps[1:])
        return Brief(asked, replace(self.rules, **rules), stamps, replace(self.run, **run))

    def value(self, name: str) -> Any:
        """A value by its name, as for `of`."""
        if name in _OF_STAMP:
            return getattr(self.stamp, _OF_STAMP[name])
        return getattr(
            next(part for part in (self.piece, self.rules, self.stamp, self.run) if hasattr(part, name)), name
        )


# What a stamp's own values are called among all of a brief.
_OF_STAMP = {"stamp": "name", "stamp_size": "size"}


def _taken(values: dict[str, Any], part: Any) -> dict[str, Any]:
    """Those of the values that are of a part."""
    own = {each.name for each in fields(part)} - set(_OF_STAMP.values())
    return {name: value for name, value in values.items() if name in own}


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
    headside = brief.piece.headside
    if brief.piece.width_mm is not None:
        wanted = _for_width(brief.piece.width_mm, brief.piece.pitch_mm, 0.0 if headside is None else reach(headside))
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
