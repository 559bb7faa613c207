"""A design laid on its piece: what every pinhole belongs to.

The solver-free check, the pair flow and drawings read a design through this. Nothing here judges: places
that are not on the piece are set aside in `strays`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from constraints import stitches
from constraints.design import Block, Design
from constraints.fillings import GROUNDS, NUMBERS, UNITS, Figure, Unit
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, BoolArray, Grid, IntArray, Point, in_order, walk
from constraints.piece import Piece


@dataclass(frozen=True, eq=False)
class Placed:
    """The units of one listed filling. centres: (k, 2); places: (k, size * size) pinholes, top one first."""

    unit: Unit
    centres: IntArray
    places: IntArray


@dataclass(frozen=True, eq=False)
class Layout:
    """What every pinhole of a design's piece belongs to.

    block: (n,) number of the listed block, -1 where the pinhole is open. units: the figures of the fillings.
    grounds: by name the grounds that are listed, each with (n,) whether a pinhole is worked in it. strays: listed
    places off the piece.
    """

    design: Design
    piece: Piece
    block: IntArray
    units: tuple[Placed, ...]
    grounds: Mapping[str, BoolArray]
    strays: tuple[Point, ...] = ()

    @cached_property
    def inside(self) -> BoolArray:
        """(n,) whether the pinhole lies in a block."""
        return self.block >= 0

    @cached_property
    def eyes(self) -> BoolArray:
        """(n,) whether the pinhole is an eye in a block."""
        found = np.zeros(len(self.piece), dtype=np.bool_)
        found[_on_piece(self.piece, self.design.eyes, [])] = True
        return found

    @cached_property
    def stitch(self) -> IntArray:
        """(n,) the stitch of every place as its number in STITCHES, -1 outside blocks. KeyError if one is unknown."""
        found: IntArray = np.array([*(stitches.NUMBERS[each.stitch] for each in self.design.blocks), -1])[self.block]
        return found

    @cached_property
    def ground(self) -> IntArray:
        """(n,) the ground of every pinhole by its number among the fillings, -1 where it is worked in none of them."""
        found = np.full(len(self.piece), -1)
        for name in reversed(GROUNDS):  # where two are listed, the first of them is worked
            if name in self.grounds:
                found[self.grounds[name]] = NUMBERS[name]
        return found

    @property
    def solid(self) -> float:
        """Share of all pinholes that lie in blocks."""
        return float(self.inside.mean())

    @cached_property
    def unit_of(self) -> IntArray:
        """(n,) number of the unit that takes the pinhole, counted through `units`; -1 where there is none."""
        number = np.full(len(self.piece), -1)
        first = 0
        for placed in self.units:
            number[placed.places] = first + np.arange(len(placed.places))[:, None]
            first += len(placed.places)
        return number

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """The figures, each where `unit_of` counts it."""
        found = []
        for placed in self.units:
            towards = self.piece.directions[self.piece.zone[placed.places[:, 0]]]
            downwards = (self.piece.pinholes[placed.places] * towards[:, None]).sum(axis=2)
            order = np.argsort(downwards, axis=1, kind="stable")
            places = np.take_along_axis(placed.places, order, axis=1).tolist()
            for own, (x, y), (along, down) in zip(places, placed.centres.tolist(), towards.tolist(), strict=True):
                found.append(Figure(placed.unit, tuple(own), (float(x), float(y)), (along, down)))
        return tuple(found)

    def points(self, which: BoolArray | IntArray) -> tuple[Point, ...]:
        """The coordinates of a mask or of indices of pinholes, in the order of the piece, each once."""
        chosen = np.zeros(len(self.piece), dtype=np.bool_)
        chosen[which] = True
        return tuple((x, y) for x, y in self.piece.pinholes[chosen].tolist())


def lay(design: Design) -> Layout:
    """Lay a design on its piece. KeyError if a stitch or a filling is unknown."""
    return lay_on(design, design.piece())


def lay_on(design: Design, piece: Piece) -> Layout:
    """Lay what a design lists on a piece, as on one repeat of a strip. KeyError as for `lay`."""
    strays: list[Point] = []
    block = np.full(len(piece), -1)
    for number, each in enumerate(design.blocks):
        block[_on_piece(piece, each.pinholes, strays)] = number
    grounds: dict[str, BoolArray] = {}
    units = []
    for filling in design.fillings:
        if filling.kind in GROUNDS:
            own = grounds.setdefault(filling.kind, np.zeros(len(piece), dtype=np.bool_))
            own[_on_piece(piece, filling.places, strays)] = True
        else:
            units.append(_placed(piece, UNITS[filling.kind], filling.places, strays))
    return Layout(design, piece, block, tuple(units), grounds, tuple(strays))


def blocks_of(piece: Piece, stitch: IntArray) -> tuple[Block, ...]:
    """The blocks of a piece. stitch: (n,) that of every place as its number in STITCHES, -1 outside blocks."""
    label = components(piece.neighbours, stitch)
    places = np.flatnonzero(label >= 0)
    places = places[np.argsort(label[places], kind="stable")]
    starts = np.flatnonzero(np.diff(label[places])) + 1
    apart = (each for each in np.split(places, starts) if len(each))
    return tuple(Block(stitches.NAMES[stitch[each[0]]], in_order(piece.pinholes[each])) for each in apart)


def as_points(places: tuple[Point, ...]) -> IntArray:
    """Points as an array of shape (k, 2), also when there are none."""
    return np.array(places, dtype=np.int64).reshape(-1, 2)


def _on_piece(piece: Piece, places: tuple[Point, ...], strays: list[Point]) -> IntArray:
    found = locate(piece, as_points(places))
    strays += [places[i] for i in np.flatnonzero(found < 0).tolist()]
    return found[found >= 0]


def _placed(piece: Piece, unit: Unit, centres: tuple[Point, ...], strays: list[Point]) -> Placed:
    points = as_points(centres)
    row = [locate(piece, points - np.array([0, unit.size - 1]))]
    for _ in range(unit.size - 1):
        row.append(walk(piece.neighbours, row[-1], DOWN_RIGHT))
    columns = list(row)
    for _ in range(unit.size - 1):
        row = [walk(piece.neighbours, place, DOWN_LEFT) for place in row]
        columns += row
    places = np.stack(columns, axis=1)
    whole = (places >= 0).all(axis=1)
    strays += [centres[i] for i in np.flatnonzero(~whole).tolist()]
    return Placed(unit, points[whole], places[whole])


@lru_cache(maxsize=16)
def _grid(piece: Piece) -> Grid:
    return Grid.of(piece.pinholes)


def locate(piece: Piece, points: IntArray) -> IntArray:
    """Index of the pinhole at each point (shape (..., 2)), -1 where there is none."""
    return _grid(piece).at(piece.setting.wrap.fold(points))


@lru_cache(maxsize=16)
def holes_below(piece: Piece) -> IntArray:
    """(n, 4) the pinholes round the hole below each pinhole: top, right, bottom, left; -1 off the piece.

    A hole is named by its top pinhole, so holes that share two pinholes are as far apart as neighbours.
    """
    right, left = piece.neighbours[:, DOWN_RIGHT], piece.neighbours[:, DOWN_LEFT]
    bottom = walk(piece.neighbours, right, DOWN_LEFT)
    return np.stack([np.arange(len(piece)), right, bottom, left], axis=1)


def fields_of(piece: Piece, inside: BoolArray) -> IntArray:
    """(m,) the field of each of the piece's holes, -1 for holes in none. inside: (n,) the places of blocks.

    The holes of a field are open, have their four pinholes inside the edge and share two of them with the next.
    """
    is_open = ~inside[piece.holes].any(axis=1) & (piece.depth[piece.holes] >= 1).all(axis=1)
    return components(piece.hole_neighbours, np.where(is_open, 0, -1))


def components(neighbours: IntArray, group: IntArray) -> IntArray:
    """Label connected members of one group: the least index of each component, -1 outside every group.

    neighbours: (n, k) indices or -1. group: (n,) number of the group, -1 for none.
    """
    member = group >= 0
    groups = np.append(group, -1)
    joined = np.where((groups[neighbours] == group[:, None]) & member[:, None], neighbours, -1)
    label = np.append(np.where(member, np.arange(len(group)), len(group)), len(group))
    while True:
        before = label.copy()
        best = label[joined].min(axis=1)
        # Hook the root of each label too, then halve the ways to the roots.
        np.minimum.at(label, before[:-1], best)
        label[:-1] = np.minimum(label[:-1], best)
        label = label[label]
        if np.array_equal(label, before):
            return np.where(member, label[:-1], -1)
