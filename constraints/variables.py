"""The variables of a square: one per orbit of the symmetry, spread out over the whole piece.

Every array here is indexed by pinhole, hole or site of the whole piece and holds literals of the formula,
so a rule is written as if there were no symmetry.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.formula import FALSE, TRUE, Formula
from constraints.lattice import BoolArray, IntArray
from constraints.piece import Piece
from constraints.stitches import FILLINGS, STITCHES, Unit


@dataclass(frozen=True, eq=False)
class Sites:
    """Where one kind of unit may lie.

    pinholes: (s, size * size) indices. centres: (s, 2) lattice units. images: (order, s) the site to which
    each transformation takes each site. holes: (s, (size - 1) ** 2) holes inside. chosen: (s,) literals.
    """

    unit: Unit
    pinholes: IntArray
    centres: IntArray
    images: IntArray
    holes: IntArray
    chosen: IntArray


@dataclass(frozen=True, eq=False)
class Labels:
    """How the field of a hole is worked, written in a few bits: (bits, m) literals.

    `codes` gives each field kind (a unit's name or a filling's) its number; 0 is plain ground.
    `even_u` and `even_v`: (m,) literals, the alignment of a rose field along the two diagonals.
    """

    bits: IntArray
    codes: dict[str, int]
    even_u: IntArray
    even_v: IntArray

    def literals(self, kind: str, holes: IntArray) -> IntArray:
        """For each hole the literals that are all true when its field is of that kind: holes.shape + (bits,)."""
        code = self.codes[kind]
        columns = [self.bits[b][holes] if code >> b & 1 else ~self.bits[b][holes] for b in range(len(self.bits))]
        return np.stack(columns, axis=-1)


class Lace:
    """The variables of a square on a piece under a brief, and the formula that the rules fill."""

    def __init__(self, piece: Piece, brief: Brief) -> None:
        self.piece = piece
        self.brief = brief
        self.formula = Formula()
        # A block beside a headside would grow into it.
        margin = brief.margin if piece.headside is None else max(brief.margin, 2)
        allowed = (piece.depth >= margin)[piece.representatives]
        names = [name for name in STITCHES if name in brief.stitches]
        self.stitch: dict[str, IntArray] = {}
        for name in names:
            values = np.full(len(allowed), FALSE)
            values[allowed] = self.formula.variables(int(allowed.sum()))
            self.stitch[name] = values[piece.orbit]
        if len(names) == 1:
            self.block = self.stitch[names[0]]
        else:
            self.block = self.formula.any_of("stitch", np.stack(list(self.stitch.values()), axis=1))
        # What a headside takes is a block already.
        self.block = np.where(piece.fan, TRUE, self.block)
        self.open_hole = self.formula.all_of("field", ~self.block[piece.holes])
        self.field_hole: BoolArray = np.all(piece.depth[piece.holes] >= 1, axis=1)
        self.sites = {unit.name: self._sites(unit) for unit in self._units()}
        self.labels = self._labels()

    def _units(self) -> list[Unit]:
        return [unit for name, filling in FILLINGS.items() if name in self.brief.stitches for unit in filling.units]

    def _sites(self, unit: Unit) -> Sites:
        """Units stay within one zone and off the edge; contracting one across a corner line makes a cycle."""
        places = self.piece.lattice_squares(unit.size)
        places = places[self.piece.one_zone(places) & (self.piece.depth[places] >= 1).all(axis=1)]
        centres = self.piece.setting.wrap.fold(self.piece.pinholes[places[:, 0]] + np.array([0, unit.size - 1]))
        images = self.piece.images_of(centres)
        orbit, representatives = symmetries.orbits(images)
        chosen = self.formula.variables(len(representatives))[orbit]
        return Sites(unit, places, centres, images, self._holes_inside(places, unit.size), chosen)

    def _holes_inside(self, places: IntArray, size: int) -> IntArray:
        by_top = np.full(len(self.piece), -1)
        by_top[self.piece.holes[:, 0]] = np.arange(len(self.piece.holes))
        return by_top[places[:, [i * size + j for i in range(size - 1) for j in range(size - 1)]]]

    def _labels(self) -> Labels:
        kinds = [unit.name for unit in self._units()]
        kinds += [name for name, filling in FILLINGS.items() if name in self.brief.stitches and not filling.units]
        codes = {kind: number for number, kind in enumerate(kinds, start=1)}
        orbit, swapped = self.hole_orbits
        count = len(self._hole_representatives)
        bits = np.full((len(kinds).bit_length(), len(orbit)), FALSE)
        for b in range(len(bits)):
            bits[b] = self._on_field_holes(count)[orbit]
        even_u = even_v = np.full(len(orbit), FALSE)
        if any(unit.aligned for unit in self._units()):
            first, second = self._on_field_holes(count), self._on_field_holes(count)
            even_u = np.where(swapped, second[orbit], first[orbit])
            even_v = np.where(swapped, first[orbit], second[orbit])
        return Labels(bits, codes, even_u, even_v)

    def _on_field_holes(self, count: int) -> IntArray:
        """A variable for each orbit of holes that can belong to a field, FALSE for the others."""
        values = np.full(count, FALSE)
        real = self.field_hole[self._hole_representatives]
        values[real] = self.formula.variables(int(real.sum()))
        return values

    @cached_property
    def _hole_representatives(self) -> IntArray:
        return symmetries.orbits(self.piece.hole_images)[1]

    @cached_property
    def hole_orbits(self) -> tuple[IntArray, BoolArray]:
        """(m,) the orbit of each hole, and whether the way to it from the representative swaps the diagonals.

        A reflection in an upright axis, or a quarter turn, takes one diagonal direction to the other.
        """
        images = self.piece.hole_images
        orbit, representatives = symmetries.orbits(images)
        way = (images[:, representatives[orbit]] == np.arange(len(orbit))).argmax(axis=0)
        swaps = np.array([_swaps_diagonals(m) for m in symmetries.matrices(self.piece.symmetry)])
        return orbit, swaps[way]

    def swap_fixed(self) -> IntArray:
        """Holes that a transformation which swaps the diagonals takes to themselves."""
        images = self.piece.hole_images
        swaps = [_swaps_diagonals(m) for m in symmetries.matrices(self.piece.symmetry)]
        fixed = images == np.arange(images.shape[1])
        return np.flatnonzero((fixed & np.array(swaps)[:, None]).any(axis=0))


def _swaps_diagonals(matrix: IntArray) -> bool:
    """Whether the falling diagonal (1, 1) goes to the rising one."""
    x, y = (matrix @ np.array([1, 1])).tolist()
    return bool(x * y < 0)
