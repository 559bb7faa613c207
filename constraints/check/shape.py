"""Rules on the shapes of blocks and of the ground between them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.corners import CLEAR, HALVES
from constraints.edgings import Headside
from constraints.edgings.dressing import figures
from constraints.fillings import FILLINGS
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, UP_LEFT, UP_RIGHT, BoolArray, IntArray, Point, in_order
from constraints.layout import Layout, holes_below
from constraints.piece import NO_EDGE, Piece

SLACK = 1e-9


def margin(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Blocks keep the margin to the edge; figures take no pin of the edge itself."""
    depth = layout.piece.depth
    if limits.margin is not None:
        close = layout.inside & (depth < limits.margin) & ~layout.piece.fan
        if close.any():
            yield f"blocks come nearer to the edge than {limits.margin} units", layout.points(close)
    edge = (layout.unit_of >= 0) & (depth < 1) & ~of_headside(layout)
    if edge.any():
        names = {layout.figures[number].unit.filling for number in layout.unit_of[edge].tolist()}
        nouns = " or a ".join(filling.one for name, filling in FILLINGS.items() if name in names)
        yield f"a {nouns} takes an edge pin", layout.points(edge)


def one_worker(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """As many splits and merges as the square says, and no more than the brief allows; where the halves of a block meet
    at a corner line each has a worker of its own."""
    found = notches(layout.piece, layout.inside)
    if limits.corners in (HALVES, CLEAR):
        found = np.where(_in_one_quarter(layout.piece), found, NONE)
    splits, merges = (layout.points(_in_block(layout, found == kind)) for kind in (SPLIT, MERGE))
    count = int((found != NONE).sum())
    where = in_order({*splits, *merges})
    if count != layout.design.splits:
        yield f"{count} splits and merges; the square says {layout.design.splits}", where
    if limits.splits is not None and count > limits.splits:
        yield f"{count} splits and merges, more than the {limits.splits} allowed", where


NONE, SPLIT, MERGE = range(3)


def notches(piece: Piece, inside: BoolArray) -> IntArray:
    """SPLIT or MERGE for the hole below each pinhole at which a block takes or drops a worker, else NONE.

    Three pinholes of the hole lie in the block. Pairs run between the middle one and the two beside it:
    the middle one passes both on to two arms (a split), or takes both from two arms (a merge), or the one
    comes and the other goes (a bend of one trail). So the working direction decides, also at a corner line.
    """
    corners = holes_below(piece)
    held = np.append(inside, False)[corners]
    three = (held.sum(axis=1) == 3) & (corners >= 0).all(axis=1)
    middle = (np.argmin(held, axis=1) + 2) % 4
    passed = _passed_within(piece)[np.arange(len(piece)), middle]
    return np.where(three & (passed == 2), SPLIT, np.where(three & (passed == 0), MERGE, NONE))


@lru_cache(maxsize=16)
def _passed_within(piece: Piece) -> IntArray:
    """(n, 4) how many of its two pairs each pinhole of the hole below passes to pinholes of that hole."""
    corners = holes_below(piece)
    # Seen from the top pinhole its fellows lie down-right and down-left, and so on round the hole.
    beside = ((DOWN_RIGHT, DOWN_LEFT), (DOWN_LEFT, UP_LEFT), (UP_LEFT, UP_RIGHT), (UP_RIGHT, DOWN_RIGHT))
    return np.stack(
        [piece.runs_out[corners[:, side]][:, list(steps)].sum(axis=1) for side, steps in enumerate(beside)],
        axis=1,
    )


def _in_block(layout: Layout, hole: BoolArray) -> BoolArray:
    """The block places round the given holes."""
    around = np.zeros(len(layout.piece), dtype=np.bool_)
    around[holes_below(layout.piece)[hole].ravel()] = True
    return around & layout.inside


def narrowest(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every block place lies in a lattice square of block places of the least width."""
    if limits.narrowest is not None:
        thin = layout.inside & ~layout.piece.fan
        for part in _parts(layout, layout.inside, limits):
            thin &= ~in_squares(layout.piece, part, limits.narrowest)
        if thin.any():
            yield f"blocks narrower than {limits.narrowest} pinholes", layout.points(thin)


def widest(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """No lattice square of block places is larger than the greatest width."""
    if limits.widest is not None:
        thick = np.zeros(len(layout.piece), dtype=np.bool_)
        for part in _parts(layout, layout.inside & ~layout.piece.fan, limits):
            thick |= in_squares(layout.piece, part, limits.widest + 1)
        if thick.any():
            yield f"blocks wider than {limits.widest} pinholes", layout.points(thick)


def _parts(layout: Layout, places: BoolArray, limits: Limits) -> list[BoolArray]:
    """What counts by itself: all of a block, or its part in each quarter, once the brief says how it crosses the
    corner lines."""
    if limits.corners is None:
        return [places]
    return [places & (layout.piece.zone == zone) for zone in range(len(layout.piece.directions))]


def _in_one_quarter(piece: Piece) -> BoolArray:
    """(n,) whether the four pinholes of the hole below each pinhole lie in one quarter."""
    zone = np.append(piece.zone, -1)[holes_below(piece)]
    found: BoolArray = (zone == zone[:, :1]).all(axis=1)
    return found


def narrowest_ground(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every open pinhole inside the edge lies in an open lattice square of the least width."""
    if limits.narrowest_ground is not None:
        bare = ~layout.inside
        thin = bare & (layout.piece.depth >= 1)
        thin &= ~in_squares(layout.piece, bare, limits.narrowest_ground)
        if thin.any():
            yield f"ground narrower than {limits.narrowest_ground} pinholes", layout.points(thin)


def solid(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """The share of block places lies within the brief's bounds."""
    if limits.solid is not None:
        least, most = limits.solid
        fan = layout.piece.fan
        share = (layout.inside & ~fan).sum() / max(1, (~fan).sum())
        if not least - SLACK <= share <= most + SLACK:
            yield f"{share:.1%} of the pinholes lie in blocks; the brief wants {least:.0%} to {most:.0%}", ()


def headside(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """The headside is worked as it says, in blocks of its own; no other block comes to an edge."""
    piece, design = layout.piece, layout.design
    wanted = "" if piece.headside is None else piece.headside.stitch
    stitch = np.array([*(block.stitch for block in design.blocks), ""])[layout.block]
    bare = piece.fan & (stitch != wanted)
    if bare.any():
        yield f"places of the headside that are not worked in {wanted} stitch", layout.points(bare)
    if piece.headside is not None and not piece.headside.solid:
        yield from _with_figures(layout, piece.headside)
    mixed = np.isin(layout.block, np.unique(layout.block[piece.fan])) & layout.inside & ~piece.fan
    if mixed.any():
        yield "a block runs on into the headside", layout.points(mixed)
    at_edge = layout.inside & (piece.edge != NO_EDGE) & ~piece.fan
    if at_edge.any():
        yield "a block takes an edge pin that is no part of a headside", layout.points(at_edge)


def _with_figures(layout: Layout, headside: Headside) -> Iterator[Fault]:
    """A figure in each of its scallops, and no block."""
    wanted = {(x, y) for x, y in figures(layout.piece).tolist()}
    empty = tuple(sorted(wanted - _in_place(layout, wanted)))
    if empty and headside.figure is not None:
        yield f"{headside.kind}s without their {FILLINGS[headside.figure.filling].one}", empty
    blocked = layout.inside & layout.piece.held
    if blocked.any():
        yield f"a block lies in a {headside.kind}", layout.points(blocked)


def of_headside(layout: Layout) -> BoolArray:
    """(n,) the pinholes of figures that stand where the headside has them."""
    found = np.zeros(len(layout.piece), dtype=np.bool_)
    own = _in_place(layout, {(x, y) for x, y in figures(layout.piece).tolist()})
    for placed in layout.units:
        here = np.array([(x, y) in own for x, y in placed.centres.tolist()], dtype=np.bool_)
        found[placed.places[here]] = True
    return found


def _in_place(layout: Layout, wanted: set[Point]) -> set[Point]:
    """Which of the places have the headside's figure."""
    figure = None if layout.piece.headside is None else layout.piece.headside.figure
    units = [placed for placed in layout.units if placed.unit == figure]
    return wanted & {(x, y) for placed in units for x, y in placed.centres.tolist()}


def in_squares(piece: Piece, mask: BoolArray, size: int) -> BoolArray:
    """(n,) the pinholes that lie in a size x size lattice square wholly within the mask.

    An opening in two passes: shrink to the top pinholes of such squares, then let each grow back.
    """
    tops = mask
    for step in (DOWN_RIGHT, DOWN_LEFT):
        for _ in range(min(size - 1, len(piece))):
            if not tops.any():
                return tops
            tops = tops & np.append(tops, False)[piece.neighbours[:, step]]
    for step in (UP_LEFT, UP_RIGHT):
        for _ in range(size - 1):
            tops = tops | np.append(tops, False)[piece.neighbours[:, step]]
    return tops
