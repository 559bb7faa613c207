"""What a filling of the open fields brings with it, all in one value.

A field is worked in one of two shapes: every pinhole of it alike, otherwise than in plain ground (`GroundFilling`), or
with figures that each take some of its pinholes (`FigureFilling`). Whoever lays, works, writes or draws a field asks
which shape its filling has, and never which filling it is. All points are in lattice units.

A filling knows no solver: its rules write clauses for whatever model is handed to them, so that the second check, which
reads the same fillings, leads to none.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, fields
from enum import Enum
from typing import TYPE_CHECKING, Protocol

from constraints.colours import Colour
from constraints.lattice import Place, Point
from constraints.moves import braid
from constraints.working.habits import GROUND_MOVES

if TYPE_CHECKING:
    from constraints.variables import Model
    from constraints.working.habits import Habits

Rule = Callable[["Model"], None]

# Moves at a pin as a ground has them: crosses and twists before it and after it.
_MOVES = re.compile(r"[CT]+\.[CT]+")


class Laying(Enum):
    """How figures are laid in a field: in line on every second hole along both diagonals, or on a grid with room
    between them."""

    IN_LINE = "in line"
    APART = "apart"


@dataclass(frozen=True)
class Unit:
    """A figure that takes size x size pinholes of a lattice square.

    filling: its filling, by name. legs: by which figures of one filling are told apart, 0 where there is one alone.
    pins: where real pins stand, from its centre; none: at each of its pinholes. ring_free: no pinhole beside it may
    belong to another figure with a free ring. aligned: figures of a field stand in line. gathered: all its pairs meet
    at its centre and none runs from pinhole to pinhole in it. cross_over: the moves with which two pairs that pass it
    side by side at a corner cross, without a pin; "" where none do.
    """

    name: str
    filling: str
    size: int
    pairs: int
    legs: int = 0
    pins: tuple[Point, ...] = ()
    ring_free: bool = False
    aligned: bool = False
    gathered: bool = False
    cross_over: str = ""

    @property
    def pin_in_hole(self) -> bool:
        """Whether it is centred on a hole, else on a pinhole."""
        return self.size % 2 == 0


@dataclass(frozen=True)
class Figure:
    """A figure as it is worked. places: indices of its pinholes, the first to be worked first. centre: (x, y). towards:
    the working direction."""

    unit: Unit
    places: tuple[int, ...]
    centre: Place
    towards: Place


class Hands(Protocol):
    """What works a figure. A segment is a pair between two crossings, by its number."""

    @property
    def habits(self) -> Habits: ...

    def pin(self, pinhole: int) -> None:
        """Work the two pairs that come to a pinhole round its pin, as in the ground."""

    def come(self) -> list[int]:
        """The segments that come into the figure from outside, from left to right."""

    def go(self, segments: list[int]) -> None:
        """These go on out of the figure, from left to right."""

    def cross(self, left: int, right: int, moves: str, place: Place) -> tuple[int, int]:
        """Two segments cross in the figure's body; the two that go on, left one first."""

    def twist(self, segment: int, twists: int) -> None:
        """Twists beside those of the moves."""

    def put_up(self, place: Place) -> None:
        """A pin after the crossing just made."""


@dataclass(frozen=True)
class Bend:
    """How a pair runs round a pin where it does not go straight through it, for a drawing of its threads.

    Points and ways from the pin, (to the right, along the work), as the lacemaker sees it. start, leave: where it
    begins, halfway from the next pin, and which way it leaves; end, arrive: where it ends, beside its pin or beyond,
    and which way it runs there. spread, close: how far its threads lie from its line at either end. bow: how far they
    part after its start. crossed: whether they are seen to cross on the way.
    """

    start: Place
    leave: Place
    end: Place
    arrive: Place
    spread: float
    close: float
    bow: float = 0.0
    crossed: bool = False


@dataclass(frozen=True, kw_only=True)
class Filling:
    """A filling of a field.

    name: as a brief says it. words: as a file of a finished piece says it. places: the key of its places in that file.
    one, several: what one of it is called, and more. field: what a field of it is called; label: the same on a label.
    usual: whether a brief that names none has it. prominent: whether it goes before others half of the time. colour: by
    which drawings tell it. legend: its line in the legend of a working diagram. told: how it is worked, in the order of
    work. rules: those that it asks of a model beside the rules for every filling.
    units: its figures, the smallest first.
    """

    name: str
    words: str
    places: str
    one: str
    several: str
    field: str
    label: str
    usual: bool
    prominent: bool
    colour: Colour
    legend: str
    told: Callable[[Habits], str]
    rules: tuple[Rule, ...]
    units: tuple[Unit, ...] = ()

    @property
    def kinds(self) -> tuple[str, ...]:
        """What a field of it may be: the names of its figures, or its own."""
        return tuple(unit.name for unit in self.units) or (self.name,)

    def unit(self, legs: int) -> Unit | None:
        """The figure of so many legs, None if it has no figures. KeyError if there is none of so many."""
        if len(self.units) < 2:
            return self.units[0] if self.units else None
        return {unit.legs: unit for unit in self.units}[legs]

    @property
    def legs(self) -> tuple[int, ...]:
        """The legs of its figures, where these are told apart by them."""
        return tuple(unit.legs for unit in self.units if unit.legs)

    @property
    def legs_told(self) -> str:
        """Such as "8, 12 or 16"."""
        return " or ".join([", ".join(map(str, self.legs[:-1])), str(self.legs[-1])])

    def called(self, count: int, unit: Unit | None = None) -> str:
        """So many of it in words, without their number, with the legs of one of its figures: "... of 8 legs"."""
        noun = self.one if count == 1 else self.several
        return f"{noun} of {unit.legs} legs" if unit is not None and unit.legs else noun


@dataclass(frozen=True, kw_only=True)
class GroundFilling(Filling):
    """A filling that works every pinhole of its field otherwise than plain ground.

    moves: at a pin. mark: lines round every pin, for a drawing of pairs, from the pin; of as many points each. bends:
    how the pairs run round a pin. knot: how wide it is seen from afar.
    """

    moves: str
    mark: tuple[tuple[Place, ...], ...]
    bends: tuple[Bend, ...]
    knot: float

    def moves_at(self, pinhole: Point) -> str:
        """The moves at a pinhole; a ground that changes its stitch from row to row says here how."""
        return self.moves


@dataclass(frozen=True, kw_only=True)
class FigureFilling(Filling):
    """A filling with figures. laying: how they stand in a field. work: how one is worked."""

    laying: Laying
    work: Callable[[Hands, Figure], None]


def complete(fillings: tuple[Filling, ...], taken: tuple[str, ...]) -> dict[str, Filling]:
    """The fillings by name, in order. ValueError if one lacks a part, is called as another is, or is a ground that is
    worked as another one or as plain ground.

    taken: names that fillings may not have.
    """
    for each in fillings:
        empty = [part.name for part in fields(each) if getattr(each, part.name) in ("", None)]
        if not isinstance(each, GroundFilling | FigureFilling):
            empty.append("a shape, GroundFilling or FigureFilling")
        if isinstance(each, FigureFilling) and not each.units:
            empty.append("figures")
        if isinstance(each, GroundFilling):
            empty += [part for part in ("mark", "bends") if not getattr(each, part)]
        if empty:
            raise ValueError(f"the filling {each.name!r} lacks {', '.join(empty)}")
        if isinstance(each, GroundFilling) and not _MOVES.fullmatch(each.moves):
            raise ValueError(f"the filling {each.name!r} has not C and T, one pin and C and T in {each.moves}")
        if any(unit.filling != each.name for unit in each.units):
            raise ValueError(f"a figure of {each.name!r} is of another filling")
        if len({unit.legs for unit in each.units}) < len(each.units):
            raise ValueError(f"two figures of {each.name!r} have as many legs")
    grounds = {braid(moves): "plain ground" for moves in GROUND_MOVES.values()}
    for each in fillings:
        if isinstance(each, GroundFilling):
            other = grounds.setdefault(braid(each.moves), each.name)
            if other != each.name:
                raise ValueError(f"{other!r} and {each.name!r} are one ground: both are worked {each.moves}")
    for names in (
        [*taken, *(kind for each in fillings for kind in {each.name, *each.kinds})],
        *([getattr(each, part) for each in fillings] for part in ("words", "one", "label", "legend")),
    ):
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(f"two fillings are called {twice[0]!r}")
    return {each.name: each for each in fillings}
