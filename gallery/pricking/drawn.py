"""A pricking: pinholes, lines and marks of one square at true size, whole or in parts that are joined.

One lattice unit is half a pitch. The model works with the footside on the left; for the right everything is
mirrored before it is drawn, so that text stays readable.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import shapely

from constraints.edgings.outer_side import curved
from constraints.forms import WHOLE
from constraints.lattice import FloatArray
from constraints.layout import lay
from constraints.piece import ROUND
from constraints.pins import pin_places
from constraints.stitches import CLOTH, HALF
from constraints.working.footside import corner_places
from constraints.working.numbers import number_at
from constraints.working.work import Work
from gallery.hands import FOOTSIDE_LEFT
from gallery.paper.cutting import cut
from gallery.paper.layers import Dots, Layer, Lines, Mark, Words, gathered, moved
from gallery.paper.paths import lines, rings
from gallery.pricking.entries import arrow, cross_overs, entries
from gallery.pricking.numbering import beside
from gallery.pricking.parts import PiecePart, box
from gallery.pricking.start import WORD, Start

FINEST, BOLDEST, PEN = 0.3, 0.7, 0.5
# By how much a dot is finer under half stitch and bolder under cloth, mm.
_BY_STITCH = {HALF: -0.15, CLOTH: 0.15}
_GUIDE, _GREY = 0.12, "#8a9099"
# The start line is bold, and light enough for the dots and bars on it to stand out.
_START, _LIGHT = 0.5, "#8f959f"
# Room around the outer pins for the word at the start and the arrows beside the edge, mm.
RIM = 6.0
# Half the bar through a pin that is used from both sides of a corner line, mm.
_BAR = 0.9


@dataclass(frozen=True)
class PrickingOptions:
    """How she wants it. pen: width of the dots, mm. by_stitch: finer under half stitch, bolder under cloth."""

    pen: float = PEN
    by_stitch: bool = False
    footside: str = FOOTSIDE_LEFT
    arrows: bool = False
    cross_overs: bool = False
    numbers: bool = False

    def dot(self, stitch: str) -> float:
        """How wide the dot of a pin in a stitch is ("" for ground), mm."""
        more = _BY_STITCH.get(stitch, 0.0) if self.by_stitch else 0.0
        return min(BOLDEST, max(FINEST, self.pen + more))


@dataclass(frozen=True)
class DrawnPart:
    """One part at true size, its top left corner at (0, 0). pins: (n, 2) mm. outline: (c, 2) of its paper.

    keep_off: (m, 2) points that other marks should not lie on: pins and numbers.
    """

    part: PiecePart
    width: float
    height: float
    layers: tuple[Layer, ...]
    pins: FloatArray
    outline: FloatArray
    keep_off: FloatArray = field(default_factory=lambda: np.empty((0, 2)))


class Pricking:
    """The pricking of one work."""

    def __init__(self, work: Work, options: PrickingOptions) -> None:
        self.work, self.options, self.design = work, options, work.design
        self.layout = lay(work.design)
        self.piece = self.layout.piece
        self.start = Start(work)
        # Where the pins stand on the grid, and on paper, where headsides are curved.
        self.places = pin_places(self.layout, work.seams.open)
        if work.habits.corner_pins:
            self.places = np.concatenate([self.places, corner_places(self.piece)])
        self.pricked = curved(self.piece, self.places)

    def drawn(self, part: PiecePart) -> DrawnPart:
        """A part of the square."""
        matrix = self.matrix(part)
        margin = min(0.5, 0.1 * self.design.pitch_mm)  # what stands on the line of a cut stands on both sides
        inner = shapely.Polygon(part.shape @ matrix).buffer(margin, join_style="mitre")
        rim = shapely.Polygon(part.rim(RIM * 2 / self.design.pitch_mm) @ matrix)
        layers = self._layers(part, matrix, inner, rim)
        boxes = [mark.box for layer in layers for mark in layer.marks if isinstance(mark, Words)]
        left, top, right, bottom = shapely.union_all([rim, inner, *(shapely.box(*box) for box in boxes)]).bounds
        pins = self.pricked @ matrix
        pins = pins[shapely.intersects_xy(inner, pins[:, 0], pins[:, 1])]
        corner = np.array([left, top])
        middles = np.array([((a + c) / 2, (b + d) / 2) for a, b, c, d in boxes]).reshape(-1, 2)
        return DrawnPart(
            part,
            right - left,
            bottom - top,
            moved(layers, -left, -top),
            pins - corner,
            part.shape @ matrix - corner,
            np.concatenate([pins, middles]) - corner,
        )

    def _layers(
        self, part: PiecePart, matrix: FloatArray, inner: shapely.Polygon, rim: shapely.Polygon
    ) -> tuple[Layer, ...]:
        """inner: where its pins stand; rim: its paper."""
        outline = shapely.Polygon(part.shape @ matrix).buffer(1e-6, join_style="mitre")
        return gathered([
            *cut([self._guides(part, matrix)], outline),
            self._joins(part, matrix),
            *cut([self._pinholes(matrix), self._seams(matrix), *self._marks(matrix)], inner),
            self._numbers(part, matrix, inner, rim),
            *cut([self._ways_round(matrix)], rim.buffer(0.5, join_style="mitre")),
            Layer("text", self.start.words(part, matrix)),
            self._name(part, matrix, rim),
        ])  # fmt: skip

    def matrix(self, part: PiecePart) -> FloatArray:
        """(2, 2) from lattice units to mm on paper, for rows of coordinates."""
        mirror = np.diag([1.0 if self.options.footside == FOOTSIDE_LEFT else -1.0, 1.0])
        found: FloatArray = part.turn @ mirror * (self.design.pitch_mm / 2)
        return found

    # --- what is always there ----------------------------------------------------------------------------

    def _pinholes(self, matrix: FloatArray) -> Layer:
        widths = np.array([self.options.dot(self._stitch_at(x, y)) for x, y in self.places.tolist()])
        placed = self.pricked @ matrix
        return Layer("pinholes", tuple(Dots(placed[widths == each], each) for each in np.unique(widths).tolist()))

    def _stitch_at(self, x: float, y: float) -> str:
        """The stitch of the block that a pin belongs to; "" for open ground and for pins of figures, off the grid."""
        block = self.work.seams.block_at.get((x, y), -1)
        index = self.piece.index.get((int(x), int(y)), -1) if x == int(x) and y == int(y) else -1
        if block < 0 and index >= 0:
            block = int(self.layout.block[index])
        return self.design.blocks[block].stitch if block >= 0 else ""

    def _seams(self, matrix: FloatArray) -> Layer:
        """A small bar along the corner line through every pin on it that is used from both sides."""
        pins = self.work.seams.pins
        if not len(pins):
            return Layer("seams", ())
        reach = min(_BAR, 0.18 * self.design.pitch_mm) * 2 / self.design.pitch_mm * self.work.seams.along
        return Layer("seams", (Lines(lines(np.stack([pins - reach, pins + reach], axis=1) @ matrix), 0.15),))

    def _guides(self, part: PiecePart, matrix: FloatArray) -> Layer:
        """Edge and corner guidelines; the start line is bold."""
        left, top, right, bottom = self.design.form.box
        corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]], dtype=np.float64)
        marks: list[Mark] = [Lines(rings([corners @ matrix]), _GUIDE, _GREY)]
        inner = np.zeros((4, 2))
        if self.design.form.has_opening:
            inner = np.sign(corners) * self.design.form.opening
            marks.append(Lines(rings([inner @ matrix]), _GUIDE, _GREY))
        if self.design.worked == ROUND:
            diagonals = np.stack([inner, corners], axis=1) if inner.any() else corners[[[0, 2], [1, 3]]]
            if not part.by_corner_lines:
                marks.append(Lines(lines(diagonals @ matrix), _GUIDE, _GREY))
        marks.append(Lines(lines(self.start.line @ matrix), _START, _LIGHT, butt=True))
        return Layer("guides", tuple(marks))

    def _name(self, part: PiecePart, matrix: FloatArray, rim: shapely.Polygon) -> Layer:
        """What a part is called, below it; at its other end if the word at the start stands there."""
        if part.name == WHOLE:
            return Layer("text", ())
        left, _, right, bottom = rim.bounds
        words = self.start.words(part, matrix)
        if any(word.y > bottom - 4.0 and word.x < (left + right) / 2 for word in words):
            return Layer("text", (Words(right, bottom + 4.0, part.name, WORD, "right"),))
        return Layer("text", (Words(left, bottom + 4.0, part.name, WORD),))

    def _ways_round(self, matrix: FloatArray) -> Layer:
        """Outside every footside, where it begins, an arrow the way the work runs."""
        unit, found = 2 / self.design.pitch_mm, []
        corners = box(self.design)[[0, 3, 2, 1]]
        for zone, along in enumerate(self.piece.directions.astype(np.float64)):
            outwards = np.array([-along[1], along[0]])  # to the lacemaker's left, as the work runs towards her
            begin = corners[zone] + 3.0 * unit * outwards + 2.0 * unit * along
            found += arrow(begin, begin + min(10.0 * unit, self.design.half_size) * along, 1.6 * unit)
        return Layer("guides", (Lines(lines(np.array(found) @ matrix), 0.2, "#5b616b"),))

    def _joins(self, part: PiecePart, matrix: FloatArray) -> Layer:
        """Where parts are cut and joined: a dashed line with crosses that fall on those of the neighbour."""
        if not len(part.joins):
            return Layer("joins", ())
        arm = min(2.0, 0.3 * self.design.pitch_mm) * 2 / self.design.pitch_mm
        marks = part.join_marks
        arms = np.array([[[-arm, 0.0], [arm, 0.0]], [[0.0, -arm], [0.0, arm]]])
        cross = (marks[:, None, None] + arms).reshape(-1, 2, 2)
        return Layer("joins", (
            Lines(lines(part.joins @ matrix), _GUIDE, dash=(2.0, 1.0)),
            Lines(lines(cross @ matrix), 0.15),
        ))  # fmt: skip

    def _curved(self, drawn: FloatArray) -> FloatArray:
        """Lines of shape (k, 2, 2) where headsides are curved."""
        found: FloatArray = curved(self.piece, drawn.reshape(-1, 2)).reshape(drawn.shape)
        return found

    # --- on demand ---------------------------------------------------------------------------------------

    def _marks(self, matrix: FloatArray) -> list[Layer]:
        found = []
        if self.options.arrows:
            found.append(Layer("arrows", (Lines(lines(self._curved(entries(self.work)) @ matrix), 0.18),)))
        if self.options.cross_overs:
            crosses = self._curved(cross_overs(self.work)) @ matrix
            found.append(Layer("cross-overs", (Lines(lines(crosses), 0.12, "#6d737d"),)))
        return found

    def _numbers(self, part: PiecePart, matrix: FloatArray, inner: shapely.Polygon, paper: shapely.Polygon) -> Layer:
        """Numbers of the pins that lie within the part."""
        if not self.options.numbers:
            return Layer("numbers", ())
        at, placed = number_at(self.work), self.pricked @ matrix
        shown = shapely.intersects_xy(inner, placed[:, 0], placed[:, 1])
        told = [at[x, y] for x, y in self.places[shown].tolist()]
        others = [*self._marks(matrix), self._joins(part, matrix)]
        drawn = [line for layer in others for mark in layer.marks for line in _lines_of(mark)]
        if self.design.worked == ROUND:
            drawn += list(self.start.line @ matrix)
        return beside(placed[shown], told, self.design.pitch_mm, self.options.dot(CLOTH), paper, drawn)


def _lines_of(mark: Mark) -> list[FloatArray]:
    """The lines (2, 2) of marks made of straight lines."""
    return list(np.asarray(mark.path.vertices).reshape(-1, 2, 2)) if isinstance(mark, Lines) else []
