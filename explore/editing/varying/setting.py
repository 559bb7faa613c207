"""A chosen square laid out for change: its values, what is kept, its print, its blocks and fillings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from constraints.brief import Brief
from constraints.design import Design, Print
from constraints.encoding import Unfitting, encode, sorts_of
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray
from constraints.places import differ, lie_in_fillings
from constraints.repeats import laid_once
from constraints.stamp import Stamp
from constraints.targets import Target
from constraints.variables import Model
from explore.bad_input import BadInput
from explore.editing.varying import worked
from explore.editing.varying.families import with_images
from explore.editing.varying.kept import Kept
from explore.editing.varying.printed import loosened, print_places, target_of
from explore.editing.varying.redrawing import Old
from explore.editing.varying.refill import FieldFillings, filled
from explore.search.attempt import Making, decoded, sound
from explore.search.context import Context, context


@dataclass(eq=False)
class VaryingContext:
    """A square under a brief of its size, whose symmetry is the square's or a looser one."""

    design: Design
    brief: Brief
    stamps: tuple[Stamp, ...]
    kept: Kept

    @cached_property
    def context(self) -> Context:
        """The design's own piece under the rules of the brief."""
        return context(self.design.form, self.design.worked, self.brief.piece.symmetry, self.brief.rules)

    @cached_property
    def values(self) -> BoolArray:
        """The chosen square as values. Refused if it does not keep the brief or its symmetry."""
        loose = self.context.piece.images
        where = worked.blocks_alone(self._exact)
        if (where[loose] != where).any():
            raise BadInput(
                f"{self.design.form.name} {self.design.number:02d} has not the symmetry {self.brief.piece.symmetry}"
            )
        return values_of(self.context.model, self.design)

    @cached_property
    def prints(self) -> list[Print]:
        """The prints, with outlines for the symmetry asked."""
        return [loosened(each, self.design.symmetry, self.brief.piece.symmetry) for each in self.design.prints]

    @cached_property
    def targets(self) -> list[Target]:
        """The pinholes that each print asks for."""
        return [target_of(each, self.context.piece) for each in self.prints]

    @cached_property
    def held(self) -> Kept:
        """What is kept, with the prints of the stamps and all images."""
        piece, block = self.context.piece, self.kept.block
        for each in self.targets:
            block = block | print_places(each, piece, laid_once(self.design).inside)
        return Kept(with_images(piece, block), with_images(piece, self.kept.filling))

    @cached_property
    def old(self) -> Old:
        """The blocks of the chosen square. An open pinhole whose filling is kept stays open."""
        names = tuple(self.context.model.stitch)
        stitch = np.full(len(self.context.piece), -1)
        for number, name in enumerate(names):
            stitch[truth(self.values, self.context.model.stitch[name])] = number
        fixed = self.held.block | (self.held.filling & (stitch < 0) & self._worked_up)
        return Old(names, stitch, fixed)

    @property
    def _worked_up(self) -> BoolArray:
        """(n,) the pinholes that lie in a figure or in a ground."""
        return lie_in_fillings(self._exact)

    @cached_property
    def sorts(self) -> IntArray:
        """(n,) how each pinhole of the chosen square is worked."""
        return sorts_of(self.context.model, self.values)

    @cached_property
    def most(self) -> float:
        """The greatest share of pinholes that may differ at all, by what is kept."""
        stays = self.old.fixed & (self.held.filling | (self.old.stitch >= 0))
        return 1.0 - float((stays | self.context.piece.held).mean())

    @cached_property
    def fillings(self) -> FieldFillings:
        """What the fields of the chosen square are filled with."""
        return filled(self.context.model, self.values)

    @property
    def kept_fillings(self) -> BoolArray:
        """(n,) the open pinholes whose filling stays."""
        return self.held.filling & (self.old.stitch < 0)

    def clear(self, stitch: IntArray) -> BoolArray:
        """(n,) the pinholes round the stamp that take no unit, so that it stands on open ground."""
        piece = self.context.piece
        clear = np.zeros(len(piece), dtype=np.bool_)
        for each in self.targets:
            aim = each.touched(len(piece))
            clear |= aim & piece.widened(aim & (stitch >= 0))
        return clear

    def made(self, values: BoolArray, what: str) -> Design | None:
        """The square of these values, checked; None if a print or what is kept did not stay. what: as in `Making`."""
        block = truth(values, self.context.model.block)
        shown = [(each, round(aim.match(block), 4)) for each, aim in zip(self.prints, self.targets, strict=True)]
        if any(found < self.brief.rules.match - 1e-9 for _, found in shown):
            return None
        prints = [replace(each, match=found) for each, found in shown]
        own = self.design
        making = Making(own.pitch_mm, own.passives, self.brief.run.seed, "varied", what, own.eyes, fresh=False)
        design = decoded(self.context, values, prints, making)
        return sound(design, what) if self._keeps(design) else None

    def _keeps(self, design: Design) -> bool:
        """Whether everything kept is as it was."""
        new, old = worked.exact(design), self._exact
        stays = worked.blocks_alone(new) == worked.blocks_alone(old)
        changed = differ(worked.fillings_alone(new), worked.fillings_alone(old))
        opened = laid_once(design).eyes[laid_once(self.design).eyes & self.held.block]
        return bool(stays[self.held.block].all() and opened.all()) and not bool(changed[self.kept.filling].any())

    @cached_property
    def _exact(self) -> IntArray:
        return worked.exact(self.design)


def values_of(model: Model, design: Design) -> BoolArray:
    """The values, (size,), of the formula that describe the design; all defined variables are worked out.

    The model lies on the same piece under the design's symmetry or a looser one. BadInput, with the rule, if the
    design does not keep the rules of the model.
    """
    try:
        values = model.formula.complete(encode(model, design))
    except Unfitting as error:
        raise BadInput(f"{design.form.name} {design.number:02d} {error}") from None
    broken = model.formula.broken(values)
    if broken:
        raise BadInput(f"{design.form.name} {design.number:02d} does not keep its brief: {', '.join(broken)}")
    return values
