"""The horizontal start of a round: hung on two pairs a pin above a row of the first quarter, where the ground is plain.

A horizontal start is as usual as one along the corner line, and better where cross-overs would lie on that
(common practice, no source). It runs from the footside inwards; at the end the last row is sewn to the first.
"""

from __future__ import annotations

import numpy as np

from constraints.fillings import USUAL, largest_first
from constraints.flow import START_LINES, over_start, pair_arcs
from constraints.lattice import BoolArray, IntArray
from constraints.layout import Layout
from constraints.piece import ROUND
from constraints.working.arcs import Arcs
from constraints.working.habits import CORNER, HORIZONTAL

# A row is to cut less than this share of the pairs of blocks that the corner line cuts: a trail is cut either way.
_FEWER = 0.5


def start_row(layout: Layout, start: str, line: str) -> int | None:
    """The row above which a round begins, None along the corner line. line: CORNER, HORIZONTAL or AS_SUITS.

    ValueError if it is to begin horizontally and no row may be taken.
    """
    piece = layout.piece
    if line == HORIZONTAL:
        return level_row(layout, start)
    if line == CORNER or piece.worked != ROUND:
        return None
    arcs = pair_arcs(piece)

    def cut(row: int | None) -> int:
        return int(_alike(_block_of(layout), arcs[over_start(piece, arcs, start, row)]).sum())

    least = cut(None)
    if least == 0:
        return None
    try:
        row = level_row(layout, start)
    except ValueError:  # no row may be taken
        return None
    return row if cut(row) < _FEWER * least else None


def level_row(layout: Layout, start: str) -> int:
    """The row of a horizontal start: the one nearest to the middle of the first quarter that cuts no block, figure or
    cross-over.

    If every row cuts a block or a cross-over, one that cuts the fewest of their pairs: they are sewn there as those of
    the ground are.
    ValueError if the piece is not worked round, or every row that may be taken cuts a figure or a headside.
    """
    piece = layout.piece
    if piece.worked != ROUND:
        raise ValueError("only what is worked round has a start line")
    arcs = pair_arcs(piece)
    rows = sorted(range(-_reach(layout, start), _reach(layout, start) + 1), key=lambda row: (abs(row), row))
    over_crosses = sorted({each[:2] for each in Arcs(piece, start).crossing_over(layout).values()})
    crossing = np.array(over_crosses, dtype=np.int64).reshape(-1, 2)
    offered = []
    for row in rows:
        over = over_start(piece, arcs, start, row)
        crossed = over[crossing]
        # Two that cross over are hung both, or neither of them.
        parted = bool((crossed[:, 0] != crossed[:, 1]).any())
        if not (parted or _alike(layout.unit_of, arcs[over]).any() or piece.fan[arcs[over]].any()):
            cut = _alike(_block_of(layout), arcs[over]).sum() + crossed.sum()
            offered.append((int(cut), abs(row), row))
    if not offered:
        cuts = _figures_told(layout) if piece.headside is None else "a fan or scallop of the headside"
        raise ValueError(f"every row near the middle of the first quarter cuts {cuts}: start along the corner line")
    return min(offered)[2]


def _reach(layout: Layout, start: str) -> int:
    """How far from the middle the row may lie, units."""
    form, first = layout.design.form, START_LINES[start][1]
    sideways = int(abs(layout.piece.directions[first][0]))  # 1 where the quarter is worked from side to side
    if form.has_opening:
        # Within the opening a level line runs from one edge to the other.
        return int(form.opening[1 - sideways]) - 1
    return int(form.box[3 - sideways]) // 2  # so that the larger part of the line is level


def _block_of(layout: Layout) -> IntArray:
    """(n,) the number of the block in which each pinhole lies, -1 in the ground."""
    number: IntArray = np.where(layout.inside, layout.block, -1)
    return number


def _alike(number: IntArray, arcs: IntArray) -> BoolArray:
    """(w,) whether both ends of each arc lie in the same numbered part; -1 is no part."""
    one, other = number[arcs].T
    found: BoolArray = (one == other) & (one >= 0)
    return found


def _figures_told(layout: Layout) -> str:
    """The figures that a row may cut, in words: the usual ones, and those of the piece; the largest first."""
    told = largest_first({*USUAL, *(placed.unit.filling for placed in layout.units)})
    *first, last = (f"a {filling.one}" for filling in told)
    return f"{', '.join(first)} or {last}" if first else last
