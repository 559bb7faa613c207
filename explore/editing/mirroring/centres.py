"""The middle of a square frame filled: a mat worked round, the strip's pattern round what the search finds.

The search fills a square as large as the opening, as it fills any square; laid into the frame, both are one piece
under all rules. Where a filling of the one meets another of the other in one field, the strip's stays.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from constraints.agreeing import agreed
from constraints.brief import Brief, usual_match
from constraints.design import Design
from constraints.edgings.own_figures import Fillings, without_own
from constraints.explain import size_conflict
from constraints.fillings import UNITS
from constraints.forms import Form, Square
from constraints.layout import blocks_of, lay, lay_on
from constraints.mirrors import FrameDraft
from constraints.piece import ROUND
from constraints.places import map_without_headside
from constraints.stamp import Stamp
from constraints.stitches import NUMBERS
from explore.bad_input import BadInput
from explore.editing.mirroring.joining import joined
from explore.search.attempt import sound
from explore.search.search import search

# A smaller opening has no room for a figure within its margins.
SMALLEST_OPENING = 8
# Deterministic time to settle fillings that meet.
_EFFORT = 2.0


@dataclass(frozen=True, eq=False)
class Mat:
    """design: checked, not numbered. gave_way: figures left out because one of another kind stands in their field."""

    design: Design
    gave_way: int


def opening_of(frame: Form) -> int:
    """The half-size of the opening. Refused unless it is a square that has room for something."""
    if frame.width != frame.height:
        raise BadInput(
            f"fill centre makes a square mat, and this frame has half-sides {frame.width // 2} and {frame.height // 2}",
            of="fill",
        )
    half_size = frame.opening[0]
    if half_size < SMALLEST_OPENING:
        raise BadInput(
            f"the opening has half-size {half_size}, too small to fill; {SMALLEST_OPENING} at least is needed"
        )
    return half_size


def mats(
    frame: Design,
    brief: Brief,
    stamps: tuple[Stamp, ...],
    symmetry: str,
    cores: int | None = None,
    laying: Callable[[int, int], None] = lambda done, total: None,
) -> Iterator[Mat | None]:
    """Mats one after another, None for what the search tried in vain. frame: of a strip, a square one.

    brief: its limits hold for the mat; size, pairs and edge are those of the frame. Raises BadInput and Impossible.
    """
    middle = _middle(frame, brief, symmetry)
    for step in search(middle, *stamps, cores=cores, laying=laying):
        yield None if step.design is None else filled(frame, step.design, brief)


def filled(frame: Design, centre: Design, brief: Brief) -> Mat | None:
    """The frame with a square in its opening; None if figures that meet cannot be made to agree. Raises Defect if the
    second check disagrees."""
    form = Square(frame.form.half_side, frame.form.headside)
    piece = form.piece(ROUND, centre.symmetry)
    stitch = np.full(len(piece), -1)
    for part in (frame, centre):
        for block in part.blocks:
            stitch[[piece.index[point] for point in block.pinholes]] = NUMBERS[block.stitch]
    parts = [without_own(part.fillings, part.piece()) for part in (frame, centre)]
    fillings = agreed(piece, stitch >= 0, *parts)
    own = brief.changed(
        form=form.name,
        pairs=form.pairs(ROUND, frame.passives),
        splits=frame.splits + centre.splits,
        solid=(0.0, 1.0),
        least={},
        match=usual_match(brief.piece.worked),
    )
    drafted = lay_on(replace(frame, form=form, blocks=blocks_of(piece, stitch), fillings=fillings), piece)
    draft = FrameDraft(form, map_without_headside(drafted), (*frame.eyes, *centre.eyes))
    done = joined(draft, frame, own, centre.symmetry, _EFFORT)
    if done is None or (lay(done.frame).stitch != stitch).any():
        return None
    design = replace(done.frame, prints=centre.prints, seed=centre.seed)
    sound(design, f"a mat round half-size {centre.half_size}")
    left = without_own(design.fillings, piece)
    return Mat(design, _units((*parts[0], *parts[1])) - _units(left))


def _middle(frame: Design, brief: Brief, symmetry: str) -> Brief:
    """The brief of what is searched for the opening."""
    half_size = opening_of(frame.form)
    plain = Square(half_size)
    found = brief.changed(
        form=plain.name,
        worked=ROUND,
        symmetry=symmetry,
        headside=None,
        half_size=(half_size, half_size),
        width_mm=None,
        height_mm=None,
        passives=frame.passives,
        pairs=plain.pairs(ROUND, frame.passives),
        pitch_mm=(frame.pitch_mm, frame.pitch_mm),
        match=usual_match(ROUND),
        stamp_size=None,
        margin=max(2, brief.rules.margin),
    )
    too_few = size_conflict(found)
    if too_few:
        raise BadInput(f"the opening cannot be filled: {too_few}")
    return found


def _units(fillings: Fillings) -> int:
    """How many figures they are, pinholes of grounds aside."""
    return sum(len(each.places) for each in fillings if each.kind in UNITS)
