"""Swings: how a trail of three to five pairs goes round a corner line in one piece, in rows that slant.

Of a trail that goes over a corner line the outer side has more pins than the inner one. Were every row level, all that
are too many would be worked from one inner pin. So rows slant: the last inner pins before the line and the first after
it are used twice each, from two outer pins one after the other, and none oftener (common practice, no source).

The trail comes to the line straight, either across it or along the edge, and goes on so after it; nothing of its block
lies beside it as far as rows slant. Places are told here by two steps from the innermost link of its run: `back`, away
from the line, and `out`, along it. Before the line pairs run against `back` and with `out`; after it with `back` and
against `out`. So both sides are laid out alike, and rows are counted from the line.

Both the rule on corners and whatever works a trail read this: how it is worked is shared. Whether it may swing is not;
that the second check reads off the places by itself (`check.corners`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from constraints.corners import SLANTING, SWINGING, SWUNG
from constraints.flow import over_start, pair_arcs
from constraints.lattice import STEPS, IntArray
from constraints.layout import Layout, locate
from constraints.links import Links, innermost, links_of
from constraints.piece import Piece

WIDTHS = range(SWINGING + 1, SLANTING + 1)


@dataclass(frozen=True, eq=False)
class TrailCourse:
    """One way for a trail to come to a corner line.

    places, clear: (p, 2) and (q, 2) the places that it takes as far as rows slant, and those beside it that no block
    takes, as steps back and out. row: (p,) the slanting row of each place. outer, inner: (rows, 2) the places at whose
    pins each row turns.
    """

    places: IntArray
    clear: IntArray
    row: IntArray
    outer: IntArray
    inner: IntArray


@lru_cache(maxsize=16)
def course(width: int, across: bool) -> TrailCourse:
    """How a trail with so many pairs side by side comes to a line: across it, or along the edge."""
    # So many pins too many on the outer side; of as many on the inner one each serves two rows.
    surplus = width - 1 if across else width // 2
    rows = np.arange(2 * surplus)
    reach = np.arange(2 * (width + surplus))
    back, out = (each.ravel() for each in np.meshgrid(reach, np.arange(-len(reach), len(reach)), indexing="ij"))
    if across:
        taken = (out >= 0) & (out < width) & (back < surplus + out)
        beside = ((out == -1) & (back < surplus)) | ((out == width) & (back < len(rows)))
        outer, inner = np.full(len(rows), width - 1), np.zeros(len(rows), dtype=np.int64)
        # A place is worked with the last row that can wait for it.
        row = np.where(out == 0, 2 * back + 1, back)
    else:
        level = 2 * len(rows) - 1 - width  # how far back the first slanting row begins, along the edge
        taken = (back + out >= 0) & (back + out < width) & (back - out <= level)
        beside = ((back + out == -1) | (back + out == width)) & (back - out <= level + 1)
        outer, inner = width - 1 - rows, -(rows // 2)
        row = np.minimum(np.maximum(back, np.where(out <= 0, 1 - 2 * out, 0)), rows[-1])
    steps = np.stack([back, out], axis=1)
    return TrailCourse(
        steps[taken], steps[beside], row[taken], np.stack([rows, outer], axis=1), np.stack([rows // 2, inner], axis=1)
    )


def telling(width: int) -> IntArray:
    """(1, 2) the place that tells either course from the other, behind the outermost link: taken by a trail that goes
    across the line, clear beside one along the edge."""
    return np.array([[1, width - 1]])


def beside(piece: Piece, ends: IntArray, outward: IntArray, steps: IntArray) -> IntArray:
    """(k, 2, p) the pinholes at so many steps back and out from links, on either side of their lines; -1 off the piece.

    ends: (k, 2) pinholes of the links before and after the line. outward: (k,) as in `Links`. steps: (p, 2).
    """
    before, after = piece.pinholes[ends[:, 0]], piece.pinholes[ends[:, 1]]
    back = np.stack([before - after, after - before], axis=1)[:, :, None, :]
    out = STEPS[outward][:, None, None, :]
    start = np.stack([before, after], axis=1)[:, :, None, :]
    return locate(piece, start + steps[:, 0, None] * back + steps[:, 1, None] * out)


@dataclass(frozen=True, eq=False)
class Swing:
    """A trail that goes over a corner line in slanting rows.

    run: of its links. places: (p,) pinholes, row: (p,) the row of each in the order of work. outer, inner: (rows,)
    the pinholes at whose pins each row turns.
    """

    run: int
    places: IntArray
    row: IntArray
    outer: IntArray
    inner: IntArray


def swings_of(layout: Layout, links: Links | None = None) -> tuple[Swing, ...]:
    """The trails that swing over corner lines in slanting rows, wherever the work begins."""
    design, piece = layout.design, layout.piece
    if design.corners != SWUNG or design.splits:
        return ()
    links = links_of(layout) if links is None else links
    inner = innermost(piece, links)
    found = []
    for run in np.unique(links.run[np.isin(links.width, WIDTHS)]).tolist():
        own = np.flatnonzero(links.run == run)
        block = int(links.block[own[0]])
        first = own[np.argmin(piece.pinholes[links.ends[own, 0]] @ STEPS[links.outward[own[0]]])]
        if (inner & (links.block == block)).sum() < 2 or not inner[own].any():
            swing = _swing(layout, links, int(first), len(own), block)
            found += [] if swing is None else [swing]
    return tuple(found)


def _swing(layout: Layout, links: Links, first: int, width: int, block: int) -> Swing | None:
    """The trail whose innermost link is the first; None where it does not come to the line straight, or goes on not."""
    own = np.append(layout.block, -1) == block
    link = links.ends[[first]], links.outward[[first]]
    straight = own[beside(layout.piece, *link, telling(width))][0, :, 0]
    sides = []
    for side, across in enumerate(straight.tolist()):
        swung = course(width, across)
        steps = (swung.places, swung.clear, swung.outer, swung.inner)
        places, clear, outer, inner = (beside(layout.piece, *link, each)[0, side] for each in steps)
        if not own[places].all() or own[clear].any():
            return None
        sides.append((places, swung.row, outer, inner))
    (before, row_before, *pins_before), (after, row_after, *pins_after) = sides
    count = len(pins_before[0])
    return Swing(
        int(links.run[first]),
        np.concatenate([before, after]),
        np.concatenate([count - 1 - row_before, count + row_after]),
        np.concatenate([pins_before[0][::-1], pins_after[0]]),
        np.concatenate([pins_before[1][::-1], pins_after[1]]),
    )


def uncut(layout: Layout, start_row: int | None = None) -> tuple[Swing, ...]:
    """The trails that swing where the start line does not cut them; start_row: see `flow.over_start`. One that is cut
    there is worked in level rows, and its pairs are sewn as those of the ground are."""
    arcs = pair_arcs(layout.piece)
    cut = np.zeros(len(layout.piece), dtype=np.bool_)
    cut[arcs[over_start(layout.piece, arcs, layout.design.start, start_row)]] = True
    return tuple(swing for swing in swings_of(layout) if not cut[swing.places].any())
