"""What makes squares a family: the stamp's print, the border, the centre, or a trail.

A family is stated in figures, so that anyone can see from the squares' files alone that it holds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from constraints.design import Design
from constraints.forms import Form
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout, as_points, locate
from constraints.piece import Piece
from constraints.places import KIND_NUMBERS
from constraints.repeats import laid_once
from explore.bad_input import BadInput
from explore.editing.series.part import NO_BLOCK, NOTHING, Part
from explore.editing.series.trail import Trail, longest_trail

STAMP, BORDER, CENTRE, TRAIL = "stamp", "border", "centre", "trail"
SHARES = (STAMP, BORDER, CENTRE, TRAIL)
# The sizes of two prints are the same if they differ by no more than this, their turns by no more than that.
_SIZE, _TURN = 1e-6, 1e-6


@dataclass(frozen=True)
class Family:
    """What the squares of a series share.

    figures: what a file of the family must show, by name. words: the same in one sentence. part: the
    shared pinholes, none for a shared stamp. form: the one that it holds for, None for any size of squares.
    """

    share: str
    words: str
    figures: Mapping[str, Any]
    part: Part = NOTHING
    form: Form | None = None

    def holds(self, design: Design) -> bool:
        """Whether a square belongs to the family."""
        if self.share == STAMP:
            return _same_prints(_prints_of(design), self.figures["prints"])
        at_home = design.form.one_side if self.form is None else self.form == design.form
        return at_home and self.part.held_by(laid_once(design))


def family(share: str, chosen: Sequence[Design]) -> Family:
    """The family of the chosen squares, stated by the first of them.

    Refused, with what they do share, if one of the others does not belong to it or if there is nothing to share.
    """
    found = _FAMILIES[share](chosen[0])
    strangers = [design.number for design in chosen if not found.holds(design)]
    if strangers:
        raise BadInput(
            f"{_listed([chosen[0].number, *strangers])} do not share the {share} ({found.words}); {_shared(chosen)}"
        )
    return found


def _shared(chosen: Sequence[Design]) -> str:
    common = [each for each in SHARES if _common(each, chosen)]
    if common:
        return f"they share the {' and the '.join(common)}"
    return "they share neither stamp, border, centre nor trail"


def _common(share: str, chosen: Sequence[Design]) -> bool:
    try:
        found = _FAMILIES[share](chosen[0])
    except BadInput:
        return False
    return all(found.holds(design) for design in chosen)


def _listed(numbers: Sequence[int]) -> str:
    names = [f"{number:02d}" for number in numbers]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


# --- one family for each thing that can be shared -------------------------------------------------------


def _prints_of(design: Design) -> list[Mapping[str, Any]]:
    return [
        {"name": each.name, "size": each.size, "turn_degrees": each.turn_degrees, "reverse": each.reverse}
        for each in design.prints
    ]


def _same_prints(some: Sequence[Mapping[str, Any]], others: Sequence[Mapping[str, Any]]) -> bool:
    return len(some) == len(others) and all(map(_same_print, some, others))


def _same_print(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    if one["name"] != other["name"] or one["reverse"] != other["reverse"]:
        return False
    turn = abs(one["turn_degrees"] - other["turn_degrees"]) % 360
    return bool(abs(one["size"] - other["size"]) <= _SIZE and min(turn, 360 - turn) <= _TURN)


def _stamp_family(design: Design) -> Family:
    if not design.prints:
        raise BadInput(f"{design.number:02d} has no stamp to share")
    words = " and ".join(
        f"the print of {each.name}, {each.size:g} pitches, turned {each.turn_degrees:g} degrees"
        + (", left open in a block" if each.reverse else "")
        for each in design.prints
    )
    return Family(STAMP, words, {"prints": _prints_of(design)})


def _border_family(design: Design) -> Family:
    """What lies along the edges, as deep as where it leaves the fewest blocks cut."""
    layout, form = laid_once(design), design.form
    depth = layout.piece.depth
    least = _outermost(design, depth[_blocks(layout)])
    cuts = [(_cut(depth, _blocks(layout), d), d) for d in range(max(3, least + 1), int(form.to_middle) // 2 + 1)]
    if not cuts:
        raise BadInput(f"{design.number:02d} has no border: no block comes nearer to the edge than to the centre")
    deep = min(cuts)[1]
    part = Part.of(layout, depth <= deep)
    band = "outer band" if form.one_side else "band"
    from_edge = "the edge" if form.one_side else "every edge"
    words = f"the {band} of {deep} units (half pitches) from {from_edge}, {len(part)} pinholes alike"
    return Family(BORDER, words, {"depth": deep, "pinholes": len(part)}, part, form)


def _centre_family(design: Design) -> Family:
    """The middle, so far about the centre or the middle line; it ends where it leaves the fewest blocks cut."""
    layout, form = laid_once(design), design.form
    middle = int(form.to_middle)
    reach = np.ceil(form.to_middle - form.inwards(layout.piece.pinholes)).astype(np.int64)
    blocks = _blocks(layout)
    first = max(int(reach[blocks].min(initial=middle)), middle // 5, 2)
    cuts = [(_cut(reach, blocks, r), r) for r in range(first, middle // 2 + 1)]
    if not cuts:
        raise BadInput(f"{design.number:02d} has no centre to share: no block within half of the way to the edge")
    wide = min(cuts)[1]
    part = Part.of(layout, reach <= wide)
    where = "|x| and |y| up to" if form.one_side else "from its middle line as far as"
    words = f"the centre, {where} {wide} units (half pitches), {len(part)} pinholes alike"
    return Family(CENTRE, words, {"reach": wide, "pinholes": len(part)}, part, None if form.one_side else form)


def _trail_family(design: Design) -> Family:
    trail = longest_trail(design)
    if trail is None:
        raise BadInput(f"{design.number:02d} has no block, so no trail to share")
    form = design.form
    closed = "the trail that runs all along" if form.repeating else "the trail that closes round the centre"
    what = closed if trail.closed else "the largest trail and its images"
    words = f"{what}, {len(trail.pinholes)} pinholes in {trail.stitch} stitch"
    figures = {"stitch": trail.stitch, "closed": trail.closed, "pinholes": [list(each) for each in trail.pinholes]}
    part = _trail_part(trail, laid_once(design).piece)
    return Family(TRAIL, words, figures, part, None if form.one_side else form)


def _blocks(layout: Layout) -> BoolArray:
    """(n,) the places of blocks, a headside aside."""
    blocks: BoolArray = layout.inside & ~layout.piece.held
    return blocks


def _trail_part(trail: Trail, piece: Piece) -> Part:
    """The trail, and no block beside it."""
    own = locate(piece, as_points(trail.pinholes))
    beside = np.setdiff1d(piece.neighbours[own], [*own, -1])
    beside = beside[~piece.held[beside]]
    worked = np.zeros((len(own) + len(beside), 3), dtype=np.int64)
    worked[: len(own), 0], worked[len(own) :, 0] = KIND_NUMBERS[trail.stitch], NO_BLOCK
    return Part(piece.pinholes[[*own, *beside]], worked)


_FAMILIES = {STAMP: _stamp_family, BORDER: _border_family, CENTRE: _centre_family, TRAIL: _trail_family}


def _outermost(design: Design, depths: IntArray) -> int:
    if not len(depths):
        raise BadInput(f"{design.number:02d} has no block, so no border to share")
    return int(depths.min())


def _cut(rings: IntArray, blocks: BoolArray, ring: int) -> int:
    """How many pinholes of blocks lie at a ring and the next one: what a cut between them would part."""
    return int((blocks & ((rings == ring) | (rings == ring + 1))).sum())
