"""The block layouts of a brief on one form, and what turns, reflections and shifts make of them.

A block layout says which pinholes lie in blocks. It keeps the block rules, the margin, the splits and the solid share
of the brief and is the same under its symmetry. What a headside takes is in no block of a layout; stitches and fillings
are not part of it. Of a strip it is told for one repeat, whose last row meets its first one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from constraints import rulebook
from constraints.brief import Brief
from constraints.counting import motions
from constraints.counting.motions import Group, Motion
from constraints.counting.sweep import sweep
from constraints.counting.tally import Problem
from constraints.forms import Form
from constraints.lattice import IntArray, Wrap
from constraints.piece import Piece
from constraints.rules import solid
from constraints.rules.one_worker import notches
from constraints.stitches import CLOTH
from constraints.symmetry import ToldSetting

# Of a piece with more motions their groups are too many to be looked at.
MOST_MOTIONS = 128


@dataclass(frozen=True, eq=False)
class Space:
    """All block layouts of a brief on one form. KeyError if the brief's symmetry is unknown."""

    form: Form
    brief: Brief

    @cached_property
    def _plain(self) -> Piece:
        return self.form.once(self.brief.piece.worked, "none")

    @property
    def _wrap(self) -> Wrap:
        return self._plain.setting.wrap

    @cached_property
    def motions(self) -> tuple[Motion, ...]:
        """Every turn, reflection and shift that moves the piece onto itself."""
        return motions.of_piece(self._plain)

    def named(self, symmetry: str) -> Group:
        """The motions of a symmetry by its name."""
        return motions.of_setting(self.form.once(self.brief.piece.worked, symmetry).setting, symmetry)

    @cached_property
    def larger(self) -> dict[str, Group]:
        """The symmetries with a name that hold more motions than that of the brief, and its own."""
        names = self.form.symmetries_allowed(self.brief.piece.worked)
        found = {name: self.named(name) for name in names}
        return {name: group for name, group in found.items() if group > self.symmetry}

    @cached_property
    def symmetry(self) -> Group:
        """The motions that leave every layout as it is."""
        return self.named(self.brief.piece.symmetry)

    @cached_property
    def keeping(self) -> Group:
        """The motions that keep the way of working.

        They take every place where a block would split or merge to another such place: all eight of a square worked
        round. All other block rules see no direction.
        """
        inside, missing = notches(self._plain, self.brief.rules.corners)
        own = _told(inside, missing)
        images = self._piece(self.motions).images
        return frozenset(
            motion
            for motion, image in zip(self.motions, images, strict=True)
            if _told(image[inside], image[missing]) == own
        )

    @property
    def tells_classes(self) -> bool:
        """Whether it can be told how many there are up to the motions that keep the way of working."""
        return len(self.motions) <= MOST_MOTIONS

    @cached_property
    def largest_class(self) -> int:
        """The most layouts of this space that a motion takes into each other."""
        return max(int(1 / share) for share in self._of_class.values())

    @cached_property
    def _of_class(self) -> dict[Group, Fraction]:
        """Which part of its class a layout is, by what leaves just it as it is."""
        # A motion g leaves the layout in this space if `symmetry` lies in g T g^-1, so if T holds g^-1 `symmetry` g.
        there = [motions.conjugate(self.symmetry, motions.back(each, self._wrap), self._wrap) for each in self.keeping]
        return {
            group: Fraction(len(group & self.keeping), sum(each <= group for each in there))
            for group in motions.groups_above(self.motions, self.symmetry, self._wrap)
        }

    @cached_property
    def shares(self) -> dict[Group, Fraction]:
        """How often the layouts of each larger symmetry count for the number of classes, the largest first.

        Two layouts are the same if a motion in `keeping` takes one to the other. Let e(T) layouts have the symmetry T
        and no more, f(T) at least T, so that f(T) is the sum of e over all U above T. The layouts that one with just T
        is taken to number |keeping| / |T and keeping|, and those g that leave it in this space are the ones with
        g T g^-1 above `symmetry`; so the sum of its part of its class, p(T) e(T), over all T is asked. It is that of
        s(U) f(U) if p(T) is the sum of s over all U within T. (Burnside's lemma, with the twist that only some of the
        motions take this space to itself.)
        """
        shares: dict[Group, Fraction] = {}
        for group in sorted(self._of_class, key=len):
            within = (share for smaller, share in shares.items() if share and smaller < group)
            shares[group] = self._of_class[group] - sum(within, Fraction(0))
        return {group: shares[group] for group in self._of_class}

    def problem(self, group: Group) -> Problem:
        """The layouts that keep a symmetry and all rules, to be counted."""
        brief, piece = self._blocks_alone, self._piece(_ordered(group))
        model = rulebook.build(piece, brief.rules, (*rulebook.BLOCK_RULES, solid.solid))
        share, *others = sorted(model.formula.linears, key=lambda each: each.rule != solid.NAME)
        swept = sweep(model.formula, model.block, piece.images, piece.pinholes)
        return Problem(swept, share, tuple(others))

    @property
    def _blocks_alone(self) -> Brief:
        return self.brief.changed(stitches=(CLOTH,), least={})

    def _piece(self, told: tuple[Motion, ...]) -> Piece:
        """The piece with these motions for its symmetry."""
        setting = self._plain.setting
        return replace(self._plain, setting=ToldSetting(setting.middle, setting.wrap, told))

    def same_count(self, group: Group) -> Group:
        """Of the groups that have equally many layouts the one that is counted, with a name if one has."""
        alike = {motions.conjugate(group, motion, self._wrap) for motion in self.keeping}
        named = [own for own in (self.symmetry, *self.larger.values()) if own in alike]
        return named[0] if named else min(alike, key=sorted)


def _ordered(group: Group) -> tuple[Motion, ...]:
    """The identity first."""
    return tuple(sorted(group, key=lambda motion: (motion != (motions.STAYING, (0, 0)), motion)))


def _told(inside: IntArray, missing: IntArray) -> set[tuple[int, ...]]:
    """Places where a block would split or merge, in whatever order they are listed."""
    return {(*sorted(three), gap) for three, gap in zip(inside.tolist(), missing.tolist(), strict=True)}
