"""The variables of a design: one per orbit of the symmetry, spread out over the whole piece.

Every array here is indexed by pinhole, hole or site of the whole piece and holds literals of the formula,
so a rule is written as if there were no symmetry.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints import symmetry as symmetries
from constraints.fillings import FILLINGS, Filling, Unit
from constraints.formula import FALSE, TRUE, Formula, gathered
from constraints.lattice import BoolArray, IntArray, diagonals
from constraints.piece import Piece
from constraints.ruleset import Rules
from constraints.stitches import STITCHES


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
    `even_u` and `even_v`: (m,) literals, where figures in line stand in their field: at holes whose number along a
    diagonal (`lattice.diagonals`) is even, as they are numbered here.
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


class Model:
    """The variables of a design on a piece under its rules, and the formula that the rules fill."""

    def __init__(self, piece: Piece, rules: Rules) -> None:
        self.piece = piece
        self.rules = rules
        self.formula = Formula()
        # A block beside a headside would grow into it.
        margin = rules.margin if piece.headside is None else max(rules.margin, 2)
        allowed = (piece.depth >= margin)[piece.representatives]
        names = [name for name in STITCHES if name in rules.stitches]
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
        # Literals that further rules define for those who gave them, by name.
        self.defined: dict[str, IntArray] = {}

    def _units(self) -> list[Unit]:
        return [unit for filling in self._fillings() for unit in filling.units]

    def _fillings(self) -> list[Filling]:
        return [filling for name, filling in FILLINGS.items() if name in self.rules.stitches]

    def _sites(self, unit: Unit) -> Sites:
        """Units stay within one zone and off the edge. Over a corner line the stitches of one wait for one another; of
        one that is worked pin by pin its filling says why."""
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
        kinds += [filling.name for filling in self._fillings() if not filling.units]
        codes = {kind: number for number, kind in enumerate(kinds, start=1)}
        orbit, _ = self._hole_orbits
        bits = np.full((len(kinds).bit_length(), len(orbit)), FALSE)
        for b in range(len(bits)):
            bits[b] = self._new_on_field_holes()[orbit]
        even_u = even_v = np.full(len(orbit), FALSE)
        if self.aligned:
            even_u, even_v = self._even()
        return Labels(bits, codes, even_u, even_v)

    @property
    def aligned(self) -> list[str]:
        """The kinds of units that stand in line."""
        return [unit.name for unit in self._units() if unit.aligned]

    def _new_on_field_holes(self) -> IntArray:
        """A new variable for each orbit of holes that can belong to a field, FALSE for the others."""
        _, representatives = self._hole_orbits
        values = np.full(len(representatives), FALSE)
        real = self.field_hole[representatives]
        values[real] = self.formula.variables(int(real.sum()))
        return values

    def _even(self) -> tuple[IntArray, IntArray]:
        """Two variables for each orbit of holes, seen from each of its holes.

        What stands in line goes to what stands in line. A reflection in an upright axis, or a quarter turn, takes one
        diagonal direction to the other; and from a hole with an even number to one with an odd number even is odd.
        """
        orbit, representatives = self._hole_orbits
        images = self.piece.hole_images
        image = (images[:, representatives[orbit]] == np.arange(len(orbit))).argmax(axis=0)
        swapped = self._swaps[image][:, None]
        own = np.stack([self._new_on_field_holes(), self._new_on_field_holes()], axis=1)[orbit]
        numbers = diagonals(self.piece.hole_centres)
        before = numbers[representatives[orbit]]
        odd = (numbers - np.where(swapped, before[:, ::-1], before)) % 2 == 1
        even = np.where(swapped, own[:, ::-1], own)
        even = np.where(odd & self.field_hole[:, None], ~even, even)
        return even[:, 0], even[:, 1]

    def covering(self, places: IntArray, literal: IntArray) -> IntArray:
        """(n, width) for each pinhole the literals of the rows of places, (k, w), that hold it, padded with FALSE."""
        return gathered(places.reshape(-1), np.repeat(literal, places.shape[1]), len(self.piece))

    @cached_property
    def _hole_orbits(self) -> tuple[IntArray, IntArray]:
        return symmetries.orbits(self.piece.hole_images)

    @property
    def _swaps(self) -> BoolArray:
        """(order,) whether each transformation swaps the diagonals."""
        turns, _ = self.piece.setting.affine(self.piece.symmetry)
        return np.array([_swaps_diagonals(turn) for turn in turns])

    def swap_fixed(self) -> IntArray:
        """Holes of fields that a transformation which swaps the diagonals takes to themselves."""
        images = self.piece.hole_images
        fixed = images == np.arange(images.shape[1])
        return np.flatnonzero((fixed & self._swaps[:, None]).any(axis=0) & self.field_hole)


def _swaps_diagonals(matrix: IntArray) -> bool:
    """Whether the falling diagonal (1, 1) goes to the rising one."""
    x, y = (matrix @ np.array([1, 1])).tolist()
    return bool(x * y < 0)
