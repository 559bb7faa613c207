"""The working diagram of a square in layers: how every pair runs, enlarged.

Colours of blocks follow the convention taught in Bruges (see gallery/looks/drawing.py); it has the turning stitch in
turquoise and the gimp in yellow. Lines keep to the lattice, so widths grow with the scale; letters stay readable.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.design import Design
from constraints.edgings.outer_side import curved
from constraints.fillings import FILLINGS
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.stitches import STITCHES
from constraints.working.numbers import pin_numbers
from constraints.working.work import Work
from gallery.diagram.guides import guides
from gallery.diagram.inking import FOOTSIDE, GROUND, Inking, chained
from gallery.diagram.numbers import numbered
from gallery.diagram.pairlines import PairLines
from gallery.diagram.start import DISC, StartDiscs
from gallery.hands import FOOTSIDE_LEFT, FOOTSIDE_RIGHT
from gallery.looks import drawing
from gallery.looks.blocks import block_outlines
from gallery.looks.drawing import COLOURS, stitched
from gallery.looks.fans import fan_rings
from gallery.looks.marks import Marks
from gallery.looks.palette import LINES
from gallery.paper import paths
from gallery.paper.layers import Areas, Dots, Layer, Lines, gathered

# Enlarged so that one pitch is about so many mm; never less or more than this many times.
CLEAR_PITCH, LEAST, MOST = 15.0, 2.5, 4.0
LINE_COLOURS = {
    GROUND: "#6f7580", FOOTSIDE: drawing.EDGE,
    **{name: LINES[each.colour] for name, each in (FILLINGS | STITCHES).items()},
}  # fmt: skip
GIMP_COLOUR, TURNING, INK = "#f0b400", "#12a5ad", "#16181c"
# Widths in lattice units.
PAIR, WORKER, TWIST, PIN, TURN, GIMP = 0.045, 0.085, 0.05, 0.17, 0.24, 0.15
# The ring about an eye: how far it reaches, and its line.
EYE, EYE_LINE = 0.55, 0.05
_TINT = 0.28
# Room round the outer pins, and beside a strip, units.
RIM, STRIP_RIM = 3.4, 2.6


@dataclass(frozen=True)
class DiagramOptions:
    """scale: how many times as large as the lace. footside: on which side it is worked. numbers: of the pins."""

    scale: float = 3.0
    footside: str = FOOTSIDE_LEFT
    numbers: bool = False


def size_of(design: Design, scale: float) -> tuple[float, float]:
    """Width and height of the diagram of a square, mm."""
    unit = design.pitch_mm / 2 * scale
    left, top, right, bottom = design.form.bounds
    beside = STRIP_RIM if design.form.repeating else RIM
    return (right - left + 2 * beside) * unit, (bottom - top + 2 * RIM) * unit


class Diagram:
    """The working diagram of one work, mm from its own top left corner."""

    def __init__(self, work: Work, wanted: DiagramOptions) -> None:
        self.work, self.wanted = work, wanted
        self.scale = wanted.scale
        self.unit = self.scale * work.design.pitch_mm / 2
        self.lines = PairLines(work)
        self.inking = Inking(self.lines)
        self.standing = self.lines.standing
        self.piece = work.layout.piece
        self.start = StartDiscs(self.lines)
        self._corners = _corners(work.design.form.bounds)
        self._middle = self._corners.mean(axis=0)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height, mm."""
        return size_of(self.work.design, self.scale)

    def mm(self, points: FloatArray) -> FloatArray:
        """Lattice units (..., 2) as places on the drawing."""
        hand = -1.0 if self.wanted.footside == FOOTSIDE_RIGHT else 1.0
        placed: FloatArray = (points - self._middle) * np.array([hand, 1.0]) * self.unit + np.array(self.size) / 2
        return placed

    def lace(self, points: FloatArray) -> FloatArray:
        """Places of the lace (..., 2) as they are drawn, headsides curved."""
        return self.mm(self._bent(points))

    def _bent(self, points: FloatArray) -> FloatArray:
        found: FloatArray = curved(self.piece, points.reshape(-1, 2)).reshape(points.shape)
        return found

    @cached_property
    def pins(self) -> FloatArray:
        """(n, 2) mm, in the order in which they are put up."""
        return self.lace(np.array([pin.place for pin in self.work.pins]))

    @property
    def outline(self) -> FloatArray:
        """(4, 2) the corners of the piece, mm."""
        return self.mm(self._corners)

    @cached_property
    def layers(self) -> tuple[Layer, ...]:
        """Blocks, guides, pairs, workers, twists, pins, start and, if wanted, numbers; the first lies lowest."""
        numbers = []
        if self.wanted.numbers:
            solid = [(self.pins, PIN * self.unit / 2), (self.mm(self.start.discs), DISC * self.unit)]
            crossed = [self.lace(self.lines.curves.points), self.mm(self.twists)]
            numbers = [numbered(self.pins, pin_numbers(self.work).tolist(), self.unit, solid, crossed)]
        outwards = self.start.outwards if self.work.design.worked == ROUND else np.zeros(2)
        beside = guides(self.work, self._corners, outwards, self.mm, self.unit)
        below = [self._blocks, beside, self._gimps, *self._pairs, self._twists, self._pins]
        return gathered([*below, self.start.layer(self.mm, self.unit), *numbers])

    # --- lines -------------------------------------------------------------------------------------------

    @property
    def _blocks(self) -> Layer:
        marks = Marks(self.work.design)
        made = []
        for stitch, (_, tint) in COLOURS.items():
            own = stitched(marks, stitch)
            outline = [self.lace(ring) for ring in block_outlines(marks.layout, own & ~self.piece.fan)]
            outline += [self.lace(_finely(ring)) for ring in fan_rings(marks, own)]
            if outline:
                made.append(Areas(paths.rings(outline), tint, _TINT))
        return Layer("blocks", tuple(made))

    @property
    def _pairs(self) -> list[Layer]:
        made = []
        for each in self.inking.inked:
            name, width = ("workers", WORKER) if each.worker else ("pairs", PAIR)
            path = chained(self.lace(each.points))
            made.append(Layer(name, (Lines(path, width * self.unit, LINE_COLOURS[each.sort]),)))
        lozenges = self.inking.lozenges
        if len(lozenges):
            around = Lines(paths.lines(self.lace(lozenges)), PAIR * self.unit, LINE_COLOURS[GROUND])
            made.append(Layer("pairs", (around,)))
        return sorted(made, key=lambda layer: layer.name)

    @property
    def _gimps(self) -> Layer:
        """The two threads of every gimp pair, below the pairs that they pass."""
        sides = [np.array(line) for gimp in self.work.gimps for line in gimp.lines]
        made = (Lines(paths.lines(self.lace(side[None])), GIMP * self.unit, GIMP_COLOUR) for side in sides)
        return Layer("gimps", tuple(made))

    @cached_property
    def twists(self) -> FloatArray:
        """(t, 2, 2) the bars of twists, lattice units, across the lines as they are bent."""
        return self.inking.twists(self._bent(self.lines.curves.points))

    @cached_property
    def eyes(self) -> FloatArray:
        """(k, 13, 2) a ring about every eye, lattice units."""
        angles = np.linspace(0.0, 2 * np.pi, 13)
        ring = EYE * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        found: FloatArray = np.array(self.work.design.eyes, dtype=np.float64).reshape(-1, 1, 2) + ring
        return found

    @property
    def _twists(self) -> Layer:
        made: list[Lines | Dots] = []
        if len(self.twists):
            made.append(Lines(paths.lines(self.mm(self.twists)), TWIST * self.unit, INK, butt=True))
        turning = self.standing.come[self.standing.turning]
        if len(turning):
            made.append(Dots(self.lace(turning), TURN * self.unit, TURNING))
        if len(self.eyes):
            made.append(Lines(paths.lines(self.lace(self.eyes)), EYE_LINE * self.unit, INK))
        return Layer("twists", tuple(made))

    @property
    def _pins(self) -> Layer:
        return Layer("pins", (Dots(self.pins, PIN * self.unit, INK),))


def _corners(box: tuple[float, float, float, float]) -> FloatArray:
    """(4, 2) clockwise from the top left one."""
    left, top, right, bottom = box
    return np.array([(left, top), (right, top), (right, bottom), (left, bottom)])


def _finely(ring: FloatArray) -> FloatArray:
    """A ring with so many points that it may be bent."""
    share = np.linspace(0.0, 1.0, 4, endpoint=False)[:, None]
    found: FloatArray = (ring[:, None] + share * (np.roll(ring, -1, axis=0) - ring)[:, None]).reshape(-1, 2)
    return found
