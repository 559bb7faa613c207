"""Rules on what a square takes in all: stitches, pairs, the stamp's match, and the flow of its pairs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import numpy as np

from constraints.check.coverage import NEAR, SLACK, covered, near, printed
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.design import Print
from constraints.edgings.dressing import figures
from constraints.fillings import FILLINGS, OF_KIND
from constraints.flow import OUTSIDE, PIN, Flow, flow_of
from constraints.lattice import BoolArray
from constraints.layout import Layout
from constraints.nodes import nodes_of
from constraints.piece import NO_EDGE, ROUND, Piece

# A square file holds the match rounded to four digits.
MATCH_ROUNDING = 6e-5


def stitches(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Only the stitches and fillings that the brief allows."""
    design = layout.design
    if limits.stitches is None:
        return
    # The stitch of a headside is named with it.
    fans = set(layout.block[layout.piece.fan].tolist())
    own = [block for number, block in enumerate(design.blocks) if number not in fans]
    for stitch in sorted({block.stitch for block in own} - limits.stitches):
        places = [p for block in own if block.stitch == stitch for p in block.pinholes]
        yield f"the brief does not allow {stitch} stitch", tuple(places)
    # And so are the figures of ground scallops.
    standing = {(x, y) for x, y in figures(layout.piece).tolist()}
    used = {OF_KIND[each.kind].name for each in design.fillings if set(each.places) - standing}
    for filling in sorted((FILLINGS[name] for name in used - limits.stitches), key=lambda each: each.words):
        places = [p for each in design.fillings if each.kind in filling.kinds for p in each.places]
        yield f"the brief does not allow {filling.words}", tuple(places)


def least(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """At least as much of a stitch or filling as the brief asks: pinholes, or units of a figure."""
    design = layout.design
    amounts: Counter[str] = Counter()
    for block in design.blocks:
        amounts[block.stitch] += len(block.pinholes)
    for each in design.fillings:
        amounts[OF_KIND[each.kind].name] += len(each.places)
    for name, wanted in sorted(limits.least.items()):
        if amounts[name] < wanted:
            yield f"{amounts[name]} of {name}; the brief wants at least {wanted}", ()


def pairs(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """The pairs are those of the size and the way of working, and no more than the brief has."""
    design = layout.design
    needed = _lines(layout.piece) + _edges(layout.piece) + _passives(layout)
    if design.pairs != needed:
        yield f"a square of this size takes {needed} pairs; it says {design.pairs}", ()
    if limits.pairs is not None and design.pairs > limits.pairs:
        yield f"{design.pairs} pairs; the brief has {limits.pairs}", ()


def match(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every stamp can be found in the square as well as it says, and as well as the brief asks."""
    for stamp in layout.design.prints:
        yield from _match(layout, limits, stamp)


def _match(layout: Layout, limits: Limits, stamp: Print) -> Iterator[Fault]:
    piece = layout.piece
    reach = float(np.abs(piece.pinholes).max()) + 2 * NEAR
    area = printed(stamp.outlines, layout.design.symmetry, reach, piece.setting)
    target = covered(area, piece) >= 1 - SLACK
    if not target.any():
        yield "the stamp covers no pinhole", ()
        return
    shape = ~layout.inside if stamp.reverse else layout.inside
    found = matched(target, near(area, piece.pinholes), shape)
    if abs(found - stamp.match) > MATCH_ROUNDING:
        yield f"the stamp's match is {found:.4f}; the square says {stamp.match:.4f}", ()
    # The brief's least match is held against the exact value, not the rounded one.
    if limits.match is not None and found < limits.match - 1e-9:
        words = f"the stamp's match is {found:.4f}; the brief wants {limits.match:g}"
        yield words, layout.points(target & ~shape)


def _lines(piece: Piece) -> int:
    """Pairs between the edges, counted on the piece: in a line across the work one pair runs from each column to
    the next. Worked round, the columns of the left part go from the outer edge to the middle or the inner edge."""
    own = piece.pinholes[piece.zone == 0]
    columns = own[:, 0]
    return int(columns.max() - columns.min()) + (1 if piece.worked == ROUND and _edges(piece) == 1 else 0)


def _passives(layout: Layout) -> int:
    """Pairs that run along the edges beside the edge pairs, as many at each headside as it says."""
    piece = layout.piece
    if piece.headside is None:
        return _edges(piece) * layout.design.passives
    dressed = len(piece.headside_edges)
    return (_edges(piece) - dressed) * layout.design.passives + dressed * (piece.headside.pairs - 2)


def _edges(piece: Piece) -> int:
    """How many edges the piece has along which an edge pair runs."""
    return len(np.unique(piece.edge[piece.edge != NO_EDGE]))


def matched(target: BoolArray, close: BoolArray, shape: BoolArray) -> float:
    """Share of the target in the shape, among the target and what of the shape lies close to it."""
    return float((target & shape).sum() / (target | (shape & close)).sum())


def flow(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every crossing takes and gives two pairs, none waits for itself, and every cut has all the pairs."""
    design, piece = layout.design, layout.piece
    run = flow_of(piece, nodes_of(layout), design.start)
    yield from _crossings(layout, run)
    if len(run.cycle):
        words = "no order of work: these pinholes, rows and units wait for one another"
        yield words, layout.points(np.isin(run.node, run.cycle))
        return
    carried = design.pairs - _passives(layout)
    fewest, most = int(run.across_cuts.min()), int(run.across_cuts.max())
    if (fewest, most) != (carried, carried):
        count = str(most) if fewest == most else f"{fewest} to {most}"
        yield f"{count} pairs cross a cut, passives aside; the square says {carried}", ()


def _crossings(layout: Layout, run: Flow) -> Iterator[Fault]:
    single = run.kind == PIN
    odd = single & ((run.pairs_in != 2) | (run.pairs_out != 2))
    odd |= ~single & (run.pairs_in != run.pairs_out)
    if odd.any():
        yield "crossings that do not take and give the same pairs", layout.points(odd[run.node])
    ends = run.between[~run.at_start & (run.between == OUTSIDE).any(axis=1)].max(axis=1)
    loose = ends[~layout.piece.free[ends]]
    if len(loose):
        yield "pairs begin or end away from the edge and the start line", layout.points(loose)
