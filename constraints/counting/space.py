"""The block layouts of a brief at one half-size, and what turns and reflections make of them.

A block layout says which pinholes lie in blocks. It keeps the block rules, the margin, the splits and the
solid share of the brief and is the same under its symmetry. Stitches and fillings are not part of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

import numpy as np

from constraints import rulebook
from constraints.brief import Brief
from constraints.counting.sweep import sweep
from constraints.counting.tally import Problem
from constraints.forms import Square
from constraints.lattice import IntArray, Matrix
from constraints.piece import Piece
from constraints.rules import solid
from constraints.rules.one_worker import notches
from constraints.stitches import CLOTH
from constraints.symmetry import SYMMETRIES

Group = frozenset[Matrix]

EIGHT: tuple[Matrix, ...] = SYMMETRIES["full"]


@dataclass(frozen=True, eq=False)
class Space:
    """All block layouts of a brief at one half-size. ValueError if the brief's symmetry is unknown."""

    half_size: int
    brief: Brief

    @cached_property
    def symmetry(self) -> Group:
        """The turns and reflections that leave every layout as it is."""
        return frozenset(SYMMETRIES[self.brief.piece.symmetry])

    @cached_property
    def keeping(self) -> Group:
        """The turns and reflections that keep the way of working.

        They take every place where a block would split or merge to another such place: all eight worked
        round. All other block rules see no direction.
        """
        piece = Square(self.half_size).piece(self.brief.piece.worked, "full")
        inside, missing = notches(piece, self.brief.rules.corners)
        own = _told(inside, missing)
        return frozenset(
            matrix
            for matrix, image in zip(EIGHT, piece.images, strict=True)
            if _told(image[inside], image[missing]) == own
        )

    @cached_property
    def largest_class(self) -> int:
        """The most layouts of this space that can be turned or reflected into each other."""
        return max(int(1 / share) for share in self._of_class.values())

    @cached_property
    def _of_class(self) -> dict[Group, Fraction]:
        """Which part of its class a layout is, by what leaves just it as it is."""
        found = {}
        for group in subgroups():
            if group >= self.symmetry:
                staying = sum(self.symmetry <= conjugate(group, g) for g in self.keeping)
                found[group] = Fraction(len(group & self.keeping), staying)
        return found

    @cached_property
    def shares(self) -> dict[Group, Fraction]:
        """How often the layouts of each larger symmetry count for the number up to turning and reflecting.

        Two layouts are the same if a transformation in `keeping` takes one to the other. Let e(T) layouts
        have the symmetry T and no more, f(T) at least T, so that f(T) is the sum of e over all U above T. The
        layouts that one with just T is taken to number |keeping| / |T and keeping|, and those g that leave
        it in this space are the ones with g T g^-1 above `symmetry`. (Burnside's lemma, with the twist that
        only some of the transformations take this space to itself.)
        """
        above = list(self._of_class)
        shares = dict.fromkeys(above, Fraction(0))
        for group, part in self._of_class.items():
            for larger, sign in _exactly(group, above).items():
                shares[larger] += sign * part
        return shares

    def problem(self, group: Group) -> Problem:
        """The layouts that keep a symmetry and all rules, to be counted."""
        brief = self._blocks_alone
        model = rulebook.build(self._piece(group), brief.rules, (*rulebook.BLOCK_RULES, solid.solid))
        share, *others = sorted(model.formula.linears, key=lambda each: each.rule != solid.NAME)
        swept = sweep(model.formula, model.block, model.piece.images, model.piece.pinholes)
        return Problem(swept, share, tuple(others))

    @property
    def _blocks_alone(self) -> Brief:
        return self.brief.changed(stitches=(CLOTH,), least={})

    def twin(self, group: Group) -> tuple[str, Matrix]:
        """A named symmetry and what takes it to the group, which keeps the way of working if anything does."""
        found = [(name, g) for g in EIGHT for name, own in SYMMETRIES.items() if conjugate(frozenset(own), g) == group]
        return min(found, key=lambda each: each[1] not in self.keeping)

    def _piece(self, group: Group) -> Piece:
        """A piece with a named symmetry whose layouts are those of the group, seen turned or reflected."""
        name, g = self.twin(group)
        piece = Square(self.half_size).piece(self.brief.piece.worked, name)
        # The working directions as they lie before g takes them to where they are. Worked round they stay.
        return piece if g in self.keeping else replace(piece, directions=piece.directions @ np.array(g))

    def same_count(self, group: Group) -> object:
        """Groups with equal ones of these have equally many layouts."""
        name, g = self.twin(group)
        return name if g in self.keeping else group


def subgroups() -> list[Group]:
    """The ten groups of turns and reflections, the largest first."""
    found = {conjugate(frozenset(own), g) for own in SYMMETRIES.values() for g in EIGHT}
    return sorted(found, key=lambda group: (-len(group), sorted(group)))


def conjugate(group: Group, g: Matrix) -> Group:
    """g h g^-1 for every h of the group."""
    there = np.array(g)
    return frozenset(_matrix(there @ np.array(h) @ there.T) for h in group)


def _matrix(found: IntArray) -> Matrix:
    (a, b), (c, d) = found.tolist()
    return (a, b), (c, d)


def _exactly(group: Group, above: list[Group]) -> dict[Group, int]:
    """e(T) as a sum of f(U) with signs: what has just this symmetry, from what has at least each."""
    signs = {group: 1}
    for larger in sorted((other for other in above if other > group), key=len):
        signs[larger] = -sum(sign for smaller, sign in signs.items() if smaller < larger)
    return signs


def _told(inside: IntArray, missing: IntArray) -> set[tuple[int, ...]]:
    rows = np.concatenate([np.sort(inside, axis=1), missing[:, None]], axis=1)
    return set(map(tuple, rows.tolist()))
