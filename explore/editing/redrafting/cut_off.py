"""What the ends of a strip cut off: there a block is pinned, and a figure left out, though the repeat has them."""

from __future__ import annotations

from constraints.fillings import GATHERED
from constraints.lattice import Point
from explore.editing.redrafting.bed import Bed, joined

# A figure reaches no further from an end (rows).
REACH = 7


def cut_off(usual: set[Point], columns: int, first: int, last: int, rows: int) -> set[Point]:
    """The places near the ends that lie in a block or figure of the repeat which an end cuts off.

    usual: pins of one repeat, rows counted from the first one.
    """
    bare, open_ = _bare(usual, columns, first, last, rows)
    found: set[Point] = set()
    for part in joined(bare, open_):
        if any(not first < y < last for _, y in part):
            found |= part | open_.holes(part)
    return {(x, y) for x, y in found if not first + REACH < y < last - REACH}


def certainly(usual: set[Point], columns: int, first: int, last: int, rows: int) -> tuple[set[Point], set[Point]]:
    """What every strip of a repeat has otherwise at its ends: the unpinned places of its first and last row, since no
    block goes on beyond them; and the places of figures that the ends cut off, their middles among them.

    usual: pins of one repeat, rows counted from the first one, those in the middle of holes among them.
    """
    bare, open_ = _bare(usual, columns, first, last, rows)
    figures: set[Point] = set()
    for unit in GATHERED:
        for x, y in bare:
            centre = (x, y + unit.size - 1)  # its topmost pinhole is bare
            square = open_.lattice_square(centre, unit.size)
            if square - {centre} <= bare and (x, (centre[1] - first) % rows) in usual:
                rim = {y for _, y in square}
                if min(rim) < first <= max(rim) or min(rim) <= last < max(rim):
                    figures |= square | {centre}
    return {(x, y) for x, y in bare if y in (first, last)}, figures


def _bare(usual: set[Point], columns: int, first: int, last: int, rows: int) -> tuple[set[Point], Bed]:
    """The unpinned places of the strip and of what would follow at its ends; and a bed without limits."""
    shown = range(first - REACH, last + REACH + 1)
    bare = {(x, y) for y in shown for x in range((y + 1) % 2, columns, 2) if (x, (y - first) % rows) not in usual}
    return bare, Bed(frozenset(bare), frozenset(), frozenset(), frozenset(), 0)
