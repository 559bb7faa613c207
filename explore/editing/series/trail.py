"""The longest trail of a design: a block that closes round the centre, or else its largest blocks."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

from constraints.design import Block, Design
from constraints.lattice import Point, in_order
from constraints.symmetry import matrices

# Open places are joined past a block more freely than blocks are: also straight on, across a hole.
_ROUND = ((1, 1), (-1, 1), (-1, -1), (1, -1), (2, 0), (-2, 0), (0, 2), (0, -2))
_MIDDLE = ((0, 1), (1, 0), (0, -1), (-1, 0))


@dataclass(frozen=True)
class Trail:
    """closed: it goes round the centre. pinholes: of all its images, by y, then x."""

    stitch: str
    closed: bool
    pinholes: tuple[Point, ...]


def longest_trail(design: Design) -> Trail | None:
    """Of the blocks that close round the centre the one with most pinholes, else the most pinholes of one block
    and its images under the square's symmetry; the first in the square's order if there are two. None without
    blocks."""
    closed = [block for block in design.blocks if _closes(design.half_size, block)]
    if closed:
        longest = max(closed, key=lambda block: len(block.pinholes))
        return Trail(longest.stitch, True, longest.pinholes)
    spread = [(block.stitch, _with_images(design, block)) for block in design.blocks]
    if not spread:
        return None
    stitch, pinholes = max(spread, key=lambda each: len(each[1]))
    return Trail(stitch, False, pinholes)


def _closes(half_size: int, block: Block) -> bool:
    """Whether no way leads from the middle of the square to its edge past the block."""
    taken = set(block.pinholes)
    if not taken.isdisjoint(_MIDDLE):
        return False
    seen: set[Point] = set(_MIDDLE)
    waiting = deque(_MIDDLE)
    while waiting:
        x, y = waiting.popleft()
        if max(abs(x), abs(y)) >= half_size:
            return False
        for dx, dy in _ROUND:
            beside = (x + dx, y + dy)
            if beside not in seen and beside not in taken:
                seen.add(beside)
                waiting.append(beside)
    return True


def _with_images(design: Design, block: Block) -> tuple[Point, ...]:
    points = np.array(block.pinholes)
    images = (matrices(design.symmetry) @ points.T).transpose(0, 2, 1).reshape(-1, 2)
    found = {(x, y) for x, y in images.tolist()}
    return in_order(found)
