"""What the ends of a strip cut off: there a block is pinned, and a spider left out, though the repeat has them."""

from __future__ import annotations

from constraints.lattice import Point
from explore.redrafting.bed import Bed, joined

# A figure reaches no further from an end (rows).
REACH = 7


def cut_off(usual: set[Point], columns: int, first: int, last: int, rows: int) -> set[Point]:
    """The places near the ends that lie in a block or figure of the repeat which an end cuts off.

    usual: pins of one repeat, rows counted from the first one.
    """
    shown = range(first - REACH, last + REACH + 1)
    bare = {(x, y) for y in shown for x in range((y + 1) % 2, columns, 2) if (x, (y - first) % rows) not in usual}
    open_ = Bed(frozenset(bare), frozenset(), frozenset(), frozenset(), 0)
    found: set[Point] = set()
    for part in joined(bare, open_):
        if any(not first < y < last for _, y in part):
            found |= part | open_.holes(part)
    return {(x, y) for x, y in found if not first + REACH < y < last - REACH}
