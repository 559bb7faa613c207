"""What stands beside the lace in a working diagram: corner lines, which way the work goes, where the pillow turns."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from constraints.flow import corner_signs
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.working.work import Work
from gallery.looks.threads import aside, unit
from gallery.paper import paths
from gallery.paper.layers import Areas, Layer, Lines

GUIDE = "#9aa0aa"
# Corner lines, mm: how wide, and their dashes and gaps.
CORNER, DASHES = 0.25, (1.6, 1.2)
# Where arrows run outside the edge, units.
_ARROWS = 1.9
# So far from a horizontal start line the arrow beside it stands, from middle to middle.
_BESIDE_START = 3.0


class _DrawingScale(NamedTuple):
    """Where things stand on the drawing. mm: from lattice units. unit: mm of a lattice unit."""

    mm: Callable[[FloatArray], FloatArray]
    unit: float


def guides(
    work: Work, box: FloatArray, outwards: FloatArray, mm: Callable[[FloatArray], FloatArray], size: float
) -> Layer:
    """The layer of guides. box: (4, 2) the corners of the piece, clockwise from the top left one, lattice units.
    outwards: (2,) the direction along the start line to the footside. mm: from lattice units to the drawing; size: of
    one."""
    sheet = _DrawingScale(mm, size)
    (left, top), (right, bottom) = box[[0, 2]].tolist()
    if work.design.worked != ROUND:
        middle = (top + bottom) / 2
        sides = np.array([[(x, middle + end) for end in (-1.5, 1.5)] for x in (left - _ARROWS, right + _ARROWS)])
        return Layer("guides", _arrows(sheet, sides))
    corners = box[[0, 3, 2, 1]]
    if work.start_row is None:
        begin = int(np.argmin(np.abs(np.sign(corners) - _start_corner(work)).sum(axis=1)))
        corners = np.delete(corners, begin, axis=0)
    form = work.design.form
    inner = np.sign(corners) * form.opening
    # The box of fans is wider than the grid all round, so that its corners lie on the corner lines too.
    lines = np.stack([inner, corners + 0.6 * np.sign(corners)], axis=1)
    dashed = Lines(paths.lines(sheet.mm(lines)), CORNER, GUIDE, DASHES)
    # The work goes down the left side, then round by way of the bottom.
    sides = np.array([(left - _ARROWS, 0), (0, bottom + _ARROWS), (right + _ARROWS, 0), (0, top - _ARROWS)])
    along = np.array([(0, 1), (1, 0), (0, -1), (-1, 0)]) * 1.5
    if work.start_row is not None and abs(work.start_row) <= _BESIDE_START:
        # Past the start line, whose numbers reach out there.
        first = int(np.argmax(sides @ outwards))
        sides[first] += (work.start_row + _BESIDE_START) * np.sign(along[first])
    bends = _turns(sheet, corners)
    return Layer("guides", (dashed, *_arrows(sheet, np.stack([sides - along, sides + along], axis=1)), *bends))


def _start_corner(work: Work) -> FloatArray:
    return np.array(corner_signs(work.design.start), dtype=np.float64)


def _turns(sheet: _DrawingScale, corners: FloatArray) -> tuple[Lines | Areas, ...]:
    """Bent arrows round corners: there the pillow turns."""
    out = np.sign(corners)
    # Down to the bottom left corner, right to the bottom right one, and so on.
    down = out[:, :1] != out[:, 1:]
    coming, going = np.where(down, out * (0, 1), out * (1, 0)), -np.where(down, out * (1, 0), out * (0, 1))
    place = corners + 1.2 * out
    bend = np.stack([place - 1.7 * coming, place + 0.3 * out, place + 1.7 * going], axis=1)
    direction = unit(bend[:, 2] - bend[:, 1])
    return (
        Lines(paths.bends(sheet.mm(bend)), 0.07 * sheet.unit, GUIDE),
        Areas(paths.rings([sheet.mm(ring) for ring in _heads(bend[:, 2], direction)]), GUIDE),
    )


def _arrows(sheet: _DrawingScale, ends: FloatArray) -> tuple[Lines | Areas, ...]:
    """Straight arrows (k, 2, 2)."""
    direction = unit(ends[:, 1] - ends[:, 0])
    return (
        Lines(paths.lines(sheet.mm(ends)), 0.07 * sheet.unit, GUIDE),
        Areas(paths.rings([sheet.mm(ring) for ring in _heads(ends[:, 1], direction)]), GUIDE),
    )


def _heads(tips: FloatArray, direction: FloatArray) -> list[FloatArray]:
    """Arrow heads with their tips there."""
    back, wing = tips - 0.15 * direction, 0.28 * aside(direction)
    return list(np.stack([tips + 0.45 * direction, back + wing, back - wing], axis=1))
