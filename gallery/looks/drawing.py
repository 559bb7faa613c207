"""The look `drawing`: a square as lacemakers draw it, in the trade's colours.

Colours are those of the stitches and fillings; the ground is kept sober, so that the blocks speak.
"""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.path import Path
from matplotlib.transforms import Transform

from constraints.design import Design
from constraints.fillings import FILLINGS, GROUNDS
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, STEPS, BoolArray
from constraints.stitches import CLOTH, STITCHES
from gallery.looks.bent import bent
from gallery.looks.blocks import block_outlines, rows
from gallery.looks.edges import edge_lines, passive_lines
from gallery.looks.fans import fan_rings, fan_rows
from gallery.looks.marks import Marks
from gallery.looks.palette import LINES, TINTS
from gallery.paper import paths
from gallery.paper.paths import Pen, Pencil

# The line of a stitch and the tint of its blocks.
COLOURS = {name: (LINES[stitch.colour], TINTS[stitch.colour]) for name, stitch in STITCHES.items()}
GROUND, EDGE, PIN = "#8d929b", "#4b5059", "#16181c"

# Widths in lattice units: a pair is drawn finer than it is, so that the ways stay apart.
_GROUND, _LINE, _WORKER, _OUTLINE, _PIN = 0.07, 0.10, 0.11, 0.07, 0.26
_EYE = (1.0, 1.7)  # how wide and high the hole of an eye is
# A dot finer than this many points is grey dust on paper.
_FINEST_DOT = 0.85
# From how many points a unit the pins are shown.
FINE = _FINEST_DOT / _PIN


def draw(axes: Axes, design: Design, to_axes: Transform | None = None, detailed: bool | None = None) -> None:
    """Draw a square on an axes. to_axes: from lattice units (y down) to the data of the axes.

    detailed: show the pins; None: if they are large enough on paper.
    """
    ink(Pencil(axes, to_axes), design, detailed)


def ink(pencil: Pen, design: Design, detailed: bool | None = None) -> None:
    """Draw a square with any pen, in lattice units."""
    marks = Marks(design)
    pencil = bent(pencil, design, marks.piece)
    _blocks(pencil, marks)
    _open(pencil, marks)
    _workers(pencil, marks)
    _eyes(pencil, marks)
    _edge(pencil, marks)
    if pencil.points_per_unit >= FINE if detailed is None else detailed:
        pencil.stroke(paths.dots(marks.pins), _PIN, PIN)


def stitched(marks: Marks, stitch: str) -> BoolArray:
    """(n,) the pinholes in blocks of one stitch."""
    kinds = np.array([block.stitch == stitch for block in marks.design.blocks] + [False])
    chosen: BoolArray = kinds[marks.layout.block]
    return chosen


def _blocks(pencil: Pen, marks: Marks) -> None:
    for stitch, (line, tint) in COLOURS.items():
        own = stitched(marks, stitch)
        rings = block_outlines(marks.layout, own & ~marks.piece.fan)
        outline = paths.rings(rings + fan_rings(marks, own))
        pencil.fill(outline, tint)
        pencil.stroke(outline, _OUTLINE, line, alpha=0.45)


def _workers(pencil: Pen, marks: Marks) -> None:
    """To the far end of every row and slanting back to the near end of the next."""
    for stitch, (line, _) in COLOURS.items():
        own = stitched(marks, stitch)
        row = rows(marks.layout, own & ~marks.piece.fan)
        back = np.stack([row.side(True, 0.0), row.side(False, 1.0)], axis=1)
        passages = [row.lines(0.0, 0.0), back, row.lines(1.0, 1.0), fan_rows(marks, own)]
        pencil.stroke(paths.joined(*(paths.lines(passage) for passage in passages)), _WORKER, line)


def _eyes(pencil: Pen, marks: Marks) -> None:
    """The holes of eyes."""
    hole = paths.rings(marks.eyes(*_EYE))
    pencil.fill(hole, "#ffffff")
    pencil.stroke(hole, _OUTLINE, COLOURS[CLOTH][0])


def _open(pencil: Pen, marks: Marks) -> None:
    pencil.stroke(paths.joined(*ground_lines(marks)), _GROUND, GROUND)
    for name, filling in FILLINGS.items():
        pencil.stroke(paths.lines(marks.figure_lines(name)), _LINE, LINES[filling.colour])
    for name, ground in GROUNDS.items():
        around = np.array(ground.mark)
        lines = marks.in_ground(name)[:, None, None, :] + around
        pencil.stroke(paths.lines(lines.reshape(-1, *around.shape[1:])), _GROUND, LINES[ground.colour])


def ground_lines(marks: Marks) -> list[Path]:
    """The pairs of the ground as long straight lines, one path for each diagonal."""
    ground = marks.ground
    made = []
    for step in (DOWN_RIGHT, DOWN_LEFT):
        starts = marks.piece.pinholes[ground.first[ground.step == step]]
        made.append(paths.lines(paths.merged(starts, (int(STEPS[step, 0]), int(STEPS[step, 1])))))
    return made


def _edge(pencil: Pen, marks: Marks) -> None:
    for line in (edge_lines(marks.piece, -0.3), passive_lines(marks)):
        pencil.stroke(paths.bends(line), _LINE, EDGE)
