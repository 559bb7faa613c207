"""The longest trail of a design: a block that closes round the centre, or else its largest blocks."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

import numpy as np

from constraints.design import Block, Design
from constraints.forms import Form
from constraints.lattice import Point, in_order
from constraints.layout import as_points, locate
from constraints.piece import Piece
from constraints.repeats import laid_once

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
    """Of the blocks that close round the centre, or run all along a strip, the one with most pinholes, else the most
    pinholes of one block and its images under the symmetry; the first in order if there are two. A headside is none.
    None without blocks."""
    once = laid_once(design)
    blocks = [
        block for block in once.design.blocks if not once.piece.fan[locate(once.piece, as_points(block.pinholes))].any()
    ]
    closed = [block for block in blocks if _closes(design.form, block)]
    if closed:
        longest = max(closed, key=lambda block: len(block.pinholes))
        return Trail(longest.stitch, True, longest.pinholes)
    spread = [(block.stitch, _with_images(once.piece, block)) for block in blocks]
    if not spread:
        return None
    stitch, pinholes = max(spread, key=lambda each: len(each[1]))
    return Trail(stitch, False, pinholes)


def _closes(form: Form, block: Block) -> bool:
    """Whether no way leads from the middle of a piece to its edge, or from one edge of a strip to the other, past the
    block."""
    left, top, right, bottom = form.box
    rows = form.repeating.rows if form.repeating else 0
    taken = set(block.pinholes)
    seen: set[Point] = set(_MIDDLE if form.parity else [(0, 0)])
    if rows:
        seen = {(left, y) for y in range(rows) if (left + y) % 2 == form.parity} - taken
    elif not taken.isdisjoint(seen):
        return False
    waiting = deque(sorted(seen))
    while waiting:
        x, y = waiting.popleft()
        if x >= right or (not rows and (x <= left or y <= top or y >= bottom)):
            return False
        for dx, dy in _ROUND:
            beside = (x + dx, (y + dy) % rows if rows else y + dy)
            if beside not in seen and beside not in taken and beside[0] >= left:
                seen.add(beside)
                waiting.append(beside)
    return True


def _with_images(piece: Piece, block: Block) -> tuple[Point, ...]:
    places = locate(piece, as_points(block.pinholes))
    return in_order(piece.pinholes[np.unique(piece.images[:, places])])
