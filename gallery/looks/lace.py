"""The look `lace`: ivory threads on a dark cloth.

Twelve threads side by side about fill the gap between two footside pins (a published rule of thumb), so a
thread is a sixth of a unit thick; here a little more in cloth, and less in the open, for the light there.
Small on paper, each pair becomes one line and each stitch a tone with its rows; large, every thread is drawn,
over and under.
"""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.path import Path
from matplotlib.transforms import Transform

from constraints.design import Design
from constraints.fillings import GROUNDS
from constraints.lattice import BoolArray, FloatArray
from constraints.layout import locate
from constraints.stitches import CLOTH, HALF, WHOLE
from gallery.looks import cloth
from gallery.looks.bent import bent, half_sides
from gallery.looks.blocks import outlines, whole_holes
from gallery.looks.cloth import WEAVES, Quarters, Spacing, Weave, Woven
from gallery.looks.drawing import ground_lines, stitched
from gallery.looks.edges import edge_lines, passive_lines
from gallery.looks.fans import end_halves, fan_rings, joined_rings
from gallery.looks.marks import Marks
from gallery.looks.palette import THREAD, VELVET
from gallery.looks.strands import BODY, BODY_SPACING, Strands, woven_body
from gallery.looks.threads import twisted
from gallery.paper import paths
from gallery.paper.paths import Pen, Pencil

_GAP, SHADE = "#8d8778", "#b3aa97"
_OPEN, _LIGHT, _DENSE = 0.125, 0.15, 0.19
_LIGHT_EDGE, _SELVEDGE = 0.28, 0.46
LIT = 0.74  # share of a thread's width that catches the light
_OPENING = 0.17  # a pinhole
# How wide and high the hole of an eye is, and how far apart the worker's two ways across it, lattice units: passives
# part by about as much as two of them take (from a lacemaker's memory, no source).
EYE, _EYE_WAYS = (1.0, 1.7), 0.5
# From how many points a unit on every thread is drawn, and pinholes are seen in the net.
FINE, _KNOTS = 3.4, 1.8


def draw(axes: Axes, design: Design, to_axes: Transform | None = None, detailed: bool | None = None) -> None:
    """Draw a square on an axes. to_axes: from lattice units (y down) to the data of the axes.

    detailed: draw every thread, or only lines and tones; None: by the size on paper.
    """
    ink(Pencil(axes, to_axes), design, detailed)


def ink(pencil: Pen, design: Design, detailed: bool | None = None) -> None:
    """Draw a square with any pen, in lattice units."""
    marks = Marks(design)
    width, height = half_sides(design)
    corners = np.array([(-width, -height), (width, -height), (width, height), (-width, height)])
    pencil.fill(paths.rings([corners]), VELVET)
    fine = pencil.points_per_unit >= FINE if detailed is None else detailed
    pencil = bent(pencil, design, marks.piece)
    (_threads if fine else _tones)(pencil, marks)


def _body_sizes(marks: Marks) -> list[int]:
    """The sizes of the figures whose pairs meet at one pin."""
    sizes: list[int] = np.unique(marks.sizes[marks.sizes > 0]).tolist()
    return sizes


def _areas(marks: Marks, which: BoolArray) -> Path:
    """The cloth of the blocks in a mask of places: it reaches from pin to pin."""
    full = whole_holes(marks.layout)
    top = full[which[full[:, 0]], 0]
    member = np.full(len(marks.piece), -1)
    member[top] = marks.layout.block[top]
    member[marks.piece.fan] = -1
    # A hole is named by its top pinhole, so holes that share a side are neighbours under those names.
    rings = outlines(marks.piece.pinholes + np.array([0, 1]), marks.piece.neighbours, member)
    halves = end_halves(marks.piece, which & ~marks.piece.fan)
    if len(halves):  # a strip begins and ends in its first and last row, also in the middle of a block
        rings = joined_rings([marks.piece.pinholes[full[member[full[:, 0]] >= 0]].astype(np.float64), halves])
    return paths.rings(rings + fan_rings(marks, which))


# --- large: every thread --------------------------------------------------------------------------------


def _threads(pencil: Pen, marks: Marks) -> None:
    strands = Strands(marks).all()
    passives = [paths.bends(passive_lines(marks, aside)) for aside in (-0.085, 0.085)]
    net = paths.joined(paths.curves(strands.curves), *passives)
    _cords(pencil, net, _OPEN)
    _on_top(pencil, paths.lines(strands.over), _OPEN, VELVET)
    for stitch, weave in WEAVES.items():
        _block_threads(pencil, marks, stitched(marks, stitch), weave, dense=stitch == CLOTH)
    for size in _body_sizes(marks):
        chosen, side = marks.sizes == size, BODY * size
        centres = marks.centres[chosen].astype(np.float64)
        pencil.stroke(paths.dots(centres), 0.9 * BODY_SPACING * side, _GAP)
        _woven(pencil, woven_body(centres, marks.along[chosen], side), _DENSE)
    in_blocks = marks.layout.inside[locate(marks.piece, marks.pins.astype(np.int64))]
    _eyes(pencil, marks)
    openings = np.concatenate([marks.pins[in_blocks], marks.bodies])
    pencil.stroke(paths.dots(openings), _OPENING, VELVET)


def _eyes(pencil: Pen, marks: Marks) -> None:
    """The hole of each eye between passives pressed together, and across it the worker, twisted, on both its ways."""
    rings = marks.eyes(*EYE)
    if not rings:
        return
    pencil.fill(paths.rings(rings), VELVET)
    hulls = [np.concatenate([ring, ring[:1]]) for ring in rings]
    for hull in hulls:
        _cords(pencil, paths.lines(np.stack([hull[:-1], hull[1:]], axis=1)), _DENSE)
    twists = twisted(marks.eye_ways(EYE[0], _EYE_WAYS), 2, 0.05)
    _cords(pencil, paths.curves(twists), _OPEN)


def _block_threads(pencil: Pen, marks: Marks, places: BoolArray, weave: Weave, dense: bool) -> None:
    area = _areas(marks, places)
    # The worker goes round its pins, so the edge of a block is firm and reaches a little beyond them.
    edge = paths.joined(area, paths.lines(marks.bridges(places)))
    _cords(pencil, edge, _SELVEDGE if dense else _LIGHT_EDGE)
    if dense:
        pencil.fill(area, _GAP)
    _woven(pencil, _ended(weave(cloth.quarters(marks.layout, places)), marks), _DENSE if dense else _LIGHT)
    if not dense:
        _cords(pencil, area, _LIGHT)


def _ended(woven: Woven, marks: Marks) -> Woven:
    """The threads as they are kept within the first and the last row of a strip, which cut its blocks."""
    if len(marks.piece.directions) > 1:
        return woven
    rows = marks.piece.pinholes[:, 1]
    low, high = (-np.inf, rows.min()), (np.inf, rows.max())
    return Woven(*(np.clip(each, low, high) for each in (woven.under, woven.top, woven.over)))


def _woven(pencil: Pen, woven: Woven, thickness: float) -> None:
    _cords(pencil, paths.lines(woven.under), thickness)
    _cords(pencil, paths.lines(woven.top), thickness)
    _on_top(pencil, paths.lines(woven.over), thickness, _GAP)


def _cords(pencil: Pen, path: Path, thickness: float) -> None:
    pencil.stroke(path, thickness, SHADE)
    pencil.stroke(path, thickness * LIT, THREAD)


def _on_top(pencil: Pen, path: Path, thickness: float, gap: str) -> None:
    """Pieces of threads that lie over others: the ones below end a little beside them."""
    pencil.stroke(path, thickness + 0.07, gap, capstyle="butt")
    pencil.stroke(path, thickness, SHADE, capstyle="butt")
    pencil.stroke(path, thickness * LIT, THREAD)


# --- small: lines and tones -----------------------------------------------------------------------------

_NET, _FOOTSIDE, _BORDER = "#bdb7aa", "#e6dfcf", "#f3ecdd"


def _tones(pencil: Pen, marks: Marks) -> None:
    figures = np.concatenate([marks.ends(marks.sides), marks.crossing_lines, marks.legs.lines])
    pencil.stroke(paths.joined(*ground_lines(marks), paths.lines(figures)), 0.20, _NET)
    if pencil.points_per_unit >= _KNOTS:
        knots = paths.dots(marks.piece.pinholes[marks.open_pins].astype(np.float64))
        pencil.stroke(knots, 0.46, _NET)
        for name, ground in GROUNDS.items():
            pencil.stroke(paths.dots(marks.in_ground(name).astype(np.float64)), ground.knot, _NET)
        pencil.stroke(knots, _OPENING, VELVET)
    for stitch, (tone, thickness, colour, seen) in _TONES.items():
        places = stitched(marks, stitch)
        area = _areas(marks, places)
        pencil.fill(area, tone)
        edge = paths.joined(area, paths.lines(marks.bridges(places)))
        pencil.stroke(edge, _SELVEDGE if stitch == CLOTH else _LIGHT_EDGE, _BORDER)
        pencil.stroke(paths.lines(seen(cloth.quarters(marks.layout, places))), thickness, colour)
    pencil.fill(paths.rings(marks.eyes(*EYE)), VELVET)
    for line in (edge_lines(marks.piece, -0.2), passive_lines(marks)):
        pencil.stroke(paths.bends(line), 0.25, _FOOTSIDE)
    for size in _body_sizes(marks):
        pencil.stroke(paths.dots(marks.centres[marks.sizes == size].astype(np.float64)), 0.2 * BODY * size, THREAD)


def _rows_seen(held: Quarters) -> FloatArray:
    return cloth.across(held, Spacing(0.5, 0.25))


def _grid_seen(held: Quarters) -> FloatArray:
    every = Spacing(1.0, 0.0)
    return np.concatenate([cloth.across(held, every), cloth.lengthwise(held, every)])


def _lattice_seen(held: Quarters) -> FloatArray:
    return np.concatenate([cloth.slanting(held), cloth.across(held, Spacing(1.0, 0.0))])


# The tone of a stitch, and the threads seen on it: how thick, of what colour, which.
_TONES = {
    CLOTH: ("#f0e9da", 0.10, "#d6cdba", _rows_seen),
    WHOLE: ("#6d7377", 0.20, "#e3dccb", _grid_seen),
    HALF: ("#46525c", 0.15, "#d8d1c1", _lattice_seen),
}
