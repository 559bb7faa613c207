"""The brief: what she asks for, in frozen values.

Reading it from TOML and flags is the business of `explore.asking`; here every value is already of its
kind and in its range.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any, TypedDict, Unpack

from constraints.edgings import FOOTSIDE, Headside
from constraints.piece import ROUND, WORKED
from constraints.ruleset import Rules
from constraints.symmetry import SUITS, SYMMETRIES

Span = tuple[float, float]
WholeSpan = tuple[int, int]
# Splits that the print's own blocks may have, in each copy, where they pay.
MOST_OWN_SPLITS = 6
# Where a print may lie: at the corners, between them along the sides, over the middle.
SPOTS = ("corners", "sides", "middle")
# How surely a print is known, the least first.
UNKNOWN, HARDLY, KNOWN, AT_ONCE = KNOWING = ("no", "hardly", "known", "at once")


@dataclass(frozen=True)
class AskedPiece:
    """The piece that is asked for: a form, how it is worked and edged, and what of its measures is fixed.

    form: square, strip, frame or rectangle. pitch_mm: span. half_size and width_mm: at most one of them; neither means
    the largest half-size that the pairs allow. headside: None for a footside; every form lays its valleys anew.
    passives: along a footside. columns, rows, repeats, both_sides: of a strip. half_height, height_mm, band: of a frame
    or rectangle; its half-height and its band in half pitches. symmetry: one, several with commas between them, or
    SUITS. worked: a square may be worked as SUITS too.
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
    def symmetries(self) -> tuple[str, ...]:
        """Those that a square may have: the one she names, those she names, or all where what suits is asked for."""
        return tuple(SYMMETRIES) if self.symmetry == SUITS else tuple(self.symmetry.split(","))

    @property
    def ways(self) -> tuple[str, ...]:
        """The ways in which it may be worked."""
        return tuple(WORKED) if self.worked == SUITS else (self.worked,)

    @property
    def first_way(self) -> str:
        """The way of working that takes the fewest pairs, by which its size is reckoned."""
        return self.ways[0]

    @property
    def names_side(self) -> bool:
        """Whether its width is fixed, so that more pairs change nothing."""
        return self.width_mm is not None or self.half_size is not None

    @property
    def edging(self) -> str:
        """Its edge as she says it."""
        return FOOTSIDE if self.headside is None else self.headside.name

    @property
    def edge_passives(self) -> int:
        """Passives along its outer edge: of a footside, or of its fans or scallop."""
        return self.passives if self.headside is None else self.headside.passives

    @property
    def middle_pitch_mm(self) -> float:
        """The pitch of a piece whose measures do not ask for another: the middle of the span."""
        return round(sum(self.pitch_mm) / 2, 2)


@dataclass(frozen=True)
class AskedStamp:
    """A stamp that is asked for. name: as she knows it. size: pitches, None for what suits stamp and piece. turns:
    degrees clockwise on the page, none for what suits the grid. copies: that the symmetry does not give. known: how
    surely it must be known, at the least. own_splits: that its own blocks may have, in each copy, where they pay. spot:
    where it lies, one of SPOTS or SUITS."""

    name: str = ""
    size: Span | None = None
    turns: tuple[float, ...] = ()
    copies: int = 1
    known: str = UNKNOWN
    own_splits: int = 0
    spot: str = SUITS


@dataclass(frozen=True)
class Run:
    """A search. apart: least share in which two pieces differ. count: of pieces. effort: 1 is the usual; it multiplies
    the deterministic time of each solve and the jobs tried. taste: weights of traits by which the pieces are chosen
    from more of them, none to take them as they come."""

    apart: float = 0.10
    count: int = 24
    seed: int = 1
    effort: float = 1.0
    taste: tuple[tuple[str, float], ...] = ()


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
        """The first of its stamps, the only one of most; without one what it would be asked by default."""
        return self.stamps[0] if self.stamps else AskedStamp()

    @property
    def called(self) -> str:
        """What its stamps are called, in words; "" without any."""
        *others, last = [each.name for each in self.stamps if each.name] or [""]
        return f"{', '.join(others)} and {last}" if others else last

    def showing(self, stamps: Sequence[tuple[str, str]]) -> Brief:
        """The same asked for these stamps, each by its name and its spot."""
        return replace(self, stamps=tuple(replace(self.stamp, name=name, spot=spot) for name, spot in stamps))

    def alone(self, number: int) -> Brief:
        """The same for one of its stamps by itself."""
        return replace(self, stamps=(self.stamps[number],))

    @classmethod
    def of(cls, **values: Unpack[BriefValues]) -> Brief:
        """A brief by the names of its values. A least match that is not given is the usual one of how it is worked."""
        brief = cls().changed(**values)
        return brief if "match" in values else brief.changed(match=usual_match(brief.piece.first_way))

    def changed(self, **values: Unpack[BriefValues]) -> Brief:
        """The brief with other values. TypeError for names that it has not."""
        if unknown := values.keys() - _PLACES.keys():
            raise TypeError(f"a brief has no {', '.join(sorted(unknown))}")
        parts: dict[str, dict[str, Any]] = {part: {} for part in _PARTS}
        for name, value in values.items():
            part, own = _PLACES[name]
            parts[part][own] = value
        stamp = replace(self.stamp, **parts["stamp"])
        # What is asked of one stamp is asked of all, but for what each of them is.
        alike = {name: value for name, value in parts["stamp"].items() if name not in ("name", "spot")}
        others = tuple(replace(each, **alike) for each in self.stamps[1:])
        stamps = (stamp, *others) if others or stamp != AskedStamp() else ()
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
    known: str
    own_splits: int
    spot: str

    apart: float
    count: int
    seed: int
    effort: float
    taste: tuple[tuple[str, float], ...]


_PARTS = {"piece": AskedPiece, "rules": Rules, "stamp": AskedStamp, "run": Run}
_OF_STAMP = {"name": "stamp", "size": "stamp_size"}
# Of every value, by its name, the part that holds it and what it is called there.
_PLACES = {
    _OF_STAMP.get(each.name, each.name): (part, each.name) for part, kind in _PARTS.items() for each in fields(kind)
}


def usual_match(worked: str) -> float:
    """The least match of a stamp where she names none."""
    return 0.65 if worked == ROUND else 0.60
