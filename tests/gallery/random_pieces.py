"""Pieces drawn at random, a cell of form, symmetry and edging each, with what a lacemaker may choose besides.

A piece is what the second check accepts: parts are laid in one by one, with their images under the symmetry, and stay
if it still does.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations
from pathlib import Path
from random import Random

import numpy as np

sys.path.append(str(Path(__file__).parents[1] / "constraints"))

from designs import Points, bar
from strips import strip, worked_across, worked_round

from constraints.check import check
from constraints.design import Design, FieldFilling
from constraints.edgings import EDGINGS, FOOTSIDE, Fan, Headside
from constraints.edgings.headside import fits_corner
from constraints.edgings.own_figures import with_own
from constraints.forms import Form, Frame, Rectangle, Square, Strip
from constraints.layout import locate
from constraints.piece import ACROSS, ROUND, Piece
from constraints.symmetry import OF_STRIPS, SYMMETRIES
from constraints.working.ends import FINISHES, SEWINGS
from constraints.working.habits import GROUND_MOVES, HORIZONTAL, Habits
from constraints.working.work import Work, work
from gallery.order.words import Telling

BOTH = "fans on both sides"
_TRIES = 60
_ON_PINHOLE = 12  # a spider of so many legs; the middles of others lie in holes

Parts = list[tuple[str, Points] | FieldFilling]


@dataclass(frozen=True)
class Cell:
    """What a piece is drawn in. form: "square", "frame", "rectangle" or "strip"."""

    form: str
    worked: str
    symmetry: str
    edging: str


@dataclass(frozen=True)
class Drawn:
    """A piece of a cell, how it is worked and told."""

    cell: Cell
    seed: int
    work: Work
    telling: Telling


def cells() -> Iterator[Cell]:
    """Every cell that can have a piece."""
    for worked in (ROUND, ACROSS):
        for symmetry in SYMMETRIES:
            yield Cell("square", worked, symmetry, FOOTSIDE)
    for form in ("square", "frame"):
        for symmetry in SYMMETRIES:
            for edging in (FOOTSIDE, *EDGINGS):
                if (form, edging) != ("square", FOOTSIDE):
                    yield Cell(form, ROUND, symmetry, edging)
    for symmetry in SYMMETRIES:
        for edging in (FOOTSIDE, *EDGINGS):
            # A headside along two sides has no like on the others.
            if edging == FOOTSIDE or set(SYMMETRIES[symmetry]) <= set(SYMMETRIES["upright-mirrors"]):
                yield Cell("rectangle", ACROSS, symmetry, edging)
    for symmetry in OF_STRIPS:
        for edging in (FOOTSIDE, *EDGINGS, BOTH):
            # A headside along one edge has no like on the other.
            if edging in (FOOTSIDE, BOTH) or symmetry in ("none", "level-mirror"):
                yield Cell("strip", ACROSS, symmetry, edging)


def few_cells() -> list[Cell]:
    """Cells in which every two values are together that are so in any of them: form, way of working, symmetry and
    edging each have code of their own, which meets that of another two at a time. tests/bench/played.py takes all."""

    def pairs(cell: Cell) -> set[tuple[tuple[str, str], ...]]:
        return set(combinations(vars(cell).items(), 2))

    every, chosen = list(cells()), []
    open_ = set().union(*map(pairs, every))
    while open_:
        chosen.append(max(every, key=lambda cell: len(pairs(cell) & open_)))
        open_ -= pairs(chosen[-1])
    return chosen


def drawn(cell: Cell, seed: int) -> Drawn | None:
    """The piece of a seed; None where the cell has none."""
    random = Random(f"{cell} {seed}")
    for _ in range(_TRIES):
        form = _form(cell, random)
        if form is not None and cell.symmetry in form.symmetries_allowed(cell.worked):
            design = _filled(form, cell, random)
            if design is not None:
                return _chosen(design, cell, seed, random)
    return None


# --- the form ---------------------------------------------------------------------------------------------


def _headside(cell: Cell, random: Random) -> Headside | None:
    if cell.edging == FOOTSIDE:
        return None
    kind = Fan if cell.edging == BOTH else EDGINGS[cell.edging]
    depth = random.randint(kind.depths[0], 5)
    pairs = random.randint(3, 6) if kind.tells_pairs() else 2
    stitch = random.choice(kind.stitches) if len(kind.stitches) > 1 else kind.usual_stitch
    first = random.randint(1, depth) if cell.worked == ROUND else random.randrange(2 * depth)
    return kind(stitch, depth, pairs, first)


def _form(cell: Cell, random: Random) -> Form | None:
    headside = _headside(cell, random)
    if cell.form == "strip":
        rows = 2 * (headside.depth if headside else random.randint(3, 7))
        rows *= random.randint(1, max(1, 14 // rows))
        return Strip(random.randint(9, 16), rows, random.randint(3, 6), headside, cell.edging == BOTH)
    if cell.form == "square":
        size = random.randint(9, 17)
        form: Form = Square(size, headside)
        sides = [size]
    else:
        sides = [random.randint(14, 20), random.randint(14, 24)]
        if random.random() < 0.5 or cell.symmetry in ("full", "quarter-turn", "diagonal-mirrors", "diagonal-mirror"):
            sides[1] = sides[0]
        if cell.form == "rectangle":
            return Rectangle.sized(sides[0], sides[1], None, headside)
        form = Frame(*sides, random.randint(8, 11), headside)
    fits = headside is None or all(fits_corner(side, headside) for side in sides)
    return form if fits else None


# --- what is in it ----------------------------------------------------------------------------------------


def _filled(form: Form, cell: Cell, random: Random) -> Design | None:
    piece = form.once(cell.worked, cell.symmetry)
    passives = random.randint(0, 2)
    parts: Parts = []

    def made(parts: Parts) -> Design | None:
        fillings = with_own(tuple(each for each in parts if isinstance(each, FieldFilling)), piece)
        blocks = [each for each in parts if not isinstance(each, FieldFilling)]
        design = _MAKERS[cell.form, cell.worked](form, *blocks, *fillings, symmetry=cell.symmetry, passives=passives)
        return design if check(design) == [] else None

    found = made(parts)
    for _ in range(random.randint(6, 14) if found is not None else 0):
        more = _part(piece, parts, random)
        if (design := made(more)) is not None:
            found, parts = design, more
    return found


def _part(piece: Piece, parts: Parts, random: Random) -> Parts:
    """The parts with one more and its images."""
    kind = random.choice(["cloth", "half", "whole", "cloth", "rose", "spider"])
    x, y = piece.pinholes[random.randrange(len(piece))].tolist()
    if kind in ("cloth", "half", "whole"):
        if random.random() < 0.25:
            points = {(x + i, y + j) for i in range(random.randint(3, 5)) for j in range(20) if (i + j) % 2 == 0}
        else:
            points = bar((x, y), random.randint(2, 6), random.randint(2, 6))
        places = locate(piece, piece.setting.wrap.fold(np.array(sorted(points))))
        places = places[places >= 0]
        own = {(int(a), int(b)) for a, b in piece.pinholes[np.unique(piece.images[:, places])]}
        return [*parts, (kind, own)]
    legs = random.choice([8, 8, 12, 16]) if kind == "spider" else 0
    middle = np.array([[x, y + (legs != _ON_PINHOLE)]])
    images = piece.setting.moved(middle, piece.symmetry).reshape(-1, 2)
    if kind == "rose":  # a few of one field, every second hole along both diagonals
        steps = [(2 * (i - j), 2 * (i + j)) for i in range(random.randint(1, 3)) for j in range(random.randint(1, 3))]
        near = middle + np.array(steps)
        images = piece.setting.moved(near, piece.symmetry).reshape(-1, 2)
    return _with_figures(parts, f"{kind}-{legs}" if legs else kind, {(int(a), int(b)) for a, b in images})


def _with_figures(parts: Parts, kind: str, centres: Points) -> Parts:
    """The parts with figures, alike ones in one filling."""
    others, own = [], set(centres)
    for each in parts:
        if isinstance(each, FieldFilling) and each.kind == kind:
            own |= set(each.places)
        else:
            others.append(each)
    return [*others, FieldFilling(kind, tuple(sorted(own, key=lambda place: place[::-1])))]


# --- how it is worked and told ----------------------------------------------------------------------------


def _chosen(design: Design, cell: Cell, seed: int, random: Random) -> Drawn:
    """A piece worked with habits drawn at random, of those that it allows."""
    round_ = cell.worked == ROUND
    straight = design.form.headside is None or not design.form.headside.solid
    pins = round_ and straight and random.random() < 0.4
    habits = Habits(ground=random.choice(list(GROUND_MOVES)), corner_pins=pins)
    if round_ and random.random() < 0.4:
        habits = _allowed(design, replace(habits, start_line=HORIZONTAL)) or habits
    if design.blocks and random.random() < 0.5:
        numbers = random.sample(range(1, len(design.blocks) + 1), min(2, len(design.blocks)))
        gimps = [number for number in numbers if _allowed(design, replace(habits, gimp=(number,)))]
        habits = replace(habits, gimp=tuple(gimps))
    finishes = FINISHES if cell.form == "strip" else [each for each in FINISHES if each != SEWINGS]
    telling = Telling("Order of work 07, greenhouse", random.random() < 0.4, random.choice(finishes))
    return Drawn(cell, seed, work(design, habits), telling)


def _allowed(design: Design, habits: Habits) -> Habits | None:
    """The habits, if a piece can be worked so."""
    try:
        work(design, habits)
    except ValueError:
        return None
    return habits


_MAKERS = {
    ("square", ROUND): worked_round,
    ("square", ACROSS): worked_across,
    ("frame", ROUND): worked_round,
    ("rectangle", ACROSS): worked_across,
    ("strip", ACROSS): strip,
}
