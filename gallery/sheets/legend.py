"""The legend of a sheet: every stitch, filling, edge and seam that occurs on it, each beside a piece cut out of it.

A sample is what the look itself draws at a place where there is much of it, so it shows what the squares show.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.path import Path
from matplotlib.transforms import Affine2D, TransformedPath

from constraints.design import Design
from constraints.edgings.headside import Headside
from constraints.edgings.outer_side import curved
from constraints.fillings import FILLINGS, OF_KIND
from constraints.lattice import FloatArray, IntArray
from constraints.layout import Layout, lay
from constraints.piece import Piece
from constraints.seams import seams_of
from constraints.stitches import GROUND, NUMBERS, STITCHES
from gallery.looks.bent import middle
from gallery.looks.edges import edge_links
from gallery.looks.excerpt import TALL, excerpt
from gallery.looks.named import INKED
from gallery.paper.page import Type, put_text
from gallery.paper.paths import Pen, Pencil, empty, rings
from gallery.sheets.grid import MARGIN

WORDS = Type(8.5, colour="#41464f", narrow=True)
# A sample is so wide, mm, and from one line of samples to the next; between a sample, its words and the next sample.
_SAMPLE, _DOWN, _BESIDE, _APART = 6.4, 7.6, 1.8, (5.0, 4.0, 3.0)
_RULE = "#c9ccd2"
# How far a sample reaches from its middle, lattice units.
_REACH = 3.0
_SEAM, _FOOTSIDE, _PIN = "seam, worked in halves", "footside", "pin"
_FIRST = [*(each.words for each in STITCHES.values()), *(each.label for each in FILLINGS.values()), GROUND, _SEAM]
# Fans and scallops stand before the footside.
_EDGING = len(_FIRST)
_ORDER = {words: number for number, words in enumerate([*_FIRST, "", _FOOTSIDE, _PIN])}
# So many places are looked at for the middle of a sample.
_LOOKED_AT = 300


@dataclass(frozen=True, eq=False)
class Sample:
    """What is shown beside some words. middle: lattice units of the design."""

    words: str
    design: Design
    middle: FloatArray
    reach: float


@dataclass(frozen=True, eq=False)
class _Sign:
    """What occurs in a design. places: (k, 2) where, lattice units. zone: (k,) that of each, where a sample should lie
    in one alone."""

    words: str
    places: FloatArray
    reach: float = _REACH
    zone: IntArray | None = None


def samples(designs: Sequence[Design], with_pins: bool) -> list[Sample]:
    """Of all that occurs in the designs, each once, cut out where there is most of it. with_pins: pins are shown."""
    best: dict[str, tuple[int, Sample]] = {}
    for design in designs:
        drawn = excerpt(design, TALL)
        for sign in _signs(lay(drawn), with_pins):
            if len(sign.places):
                much, place = _fullest(sign)
                if sign.words not in best or much > best[sign.words][0]:
                    best[sign.words] = much, Sample(sign.words, drawn, place, sign.reach)
    return sorted((sample for _, sample in best.values()), key=lambda sample: _ORDER.get(sample.words, _EDGING))


def _fullest(sign: _Sign) -> tuple[int, FloatArray]:
    """How many places lie about that which has most of them round it, and it."""
    step = -(-len(sign.places) // _LOOKED_AT)
    tried = sign.places[::step]
    near = np.abs(tried[:, None] - sign.places[None]).max(axis=2) <= sign.reach
    if sign.zone is not None:
        near &= sign.zone[::step, None] == sign.zone[None]
    around = near.sum(axis=1)
    most = int(around.argmax())
    return int(around[most]), tried[most]


def _signs(layout: Layout, with_pins: bool) -> Iterator[_Sign]:
    """All that there is to explain in a design."""
    design, piece = layout.design, layout.piece
    places = piece.pinholes.astype(np.float64)
    for stitch in STITCHES.values():
        own = (layout.stitch == NUMBERS[stitch.name]) & ~piece.fan
        yield _Sign(stitch.words, places[own], zone=piece.zone[own])
    for each in design.fillings:
        filling = OF_KIND[each.kind]
        reach = max([_REACH, *(unit.size / 2 + 1.0 for unit in filling.units if unit.name == each.kind)])
        yield _Sign(filling.label, np.array(each.places, dtype=np.float64).reshape(-1, 2), reach)
    filled = layout.inside | (layout.unit_of >= 0) | (layout.ground >= 0) | piece.held
    yield _Sign(GROUND, places[~filled & (piece.depth > 1)])
    seams = seams_of(layout)
    yield _Sign(_SEAM, seams.place[seams.halved])
    if piece.headside is not None:
        yield _Sign(_edging(piece.headside), places[piece.held], piece.headside.depth / 2 + 2.0)
    yield _Sign(_FOOTSIDE, places[edge_links(piece)[0]])
    if with_pins:
        yield _Sign(_PIN, places[~filled & (piece.depth > 1)], 1.0)


def _edging(headside: Headside) -> str:
    """Such as "fans in cloth stitch", however deep they are."""
    return f"{headside.kind}s" + (f" in {STITCHES[headside.stitch].words}" if headside.solid else "")


# --- drawing ----------------------------------------------------------------------------------------------


def height(held: Sequence[Sample], width: float) -> float:
    """What the legend takes above the lower margin of a page so wide, mm."""
    return _DOWN * len(_set(held, width)[0])


def draw(axes: Axes, held: Sequence[Sample], look: str, detailed: bool, width: float, tall: float) -> None:
    """The legend above the lower margin of a page so wide and tall, mm. look, detailed: how the samples are drawn.
    KeyError if the look is unknown."""
    lines, apart = _set(held, width)
    for number, line in enumerate(lines, 1):
        x, y = MARGIN, tall - MARGIN - len(lines) * _DOWN + number * _DOWN - _SAMPLE
        for sample in line:
            _cut_out(axes, sample, look, detailed, x, y)
            put_text(axes, x + _SAMPLE + _BESIDE, y + _SAMPLE / 2 + 1.0, sample.words, WORDS)
            x += _wide(sample) + apart


def _set(held: Sequence[Sample], width: float) -> tuple[list[list[Sample]], float]:
    """The samples in as few lines as a page so wide, mm, allows, and how far apart they stand in a line: no nearer than
    saves a line."""
    every = [(_lines(held, width - 2 * MARGIN, apart), apart) for apart in _APART]
    return min(every, key=lambda each: len(each[0]))


def _lines(held: Sequence[Sample], room: float, apart: float) -> list[list[Sample]]:
    lines: list[list[Sample]] = []
    used = room
    for sample in held:
        wide = _wide(sample)
        if not lines or used + wide > room:
            lines.append([])
            used = 0.0
        lines[-1].append(sample)
        used += wide + apart
    return lines


def _wide(sample: Sample) -> float:
    return _SAMPLE + _BESIDE + WORDS.width(sample.words)


def window(sample: Sample) -> FloatArray:
    """(2, 2) the lower and the upper corner of what a sample shows, in the units of the paths of its look."""
    centre = _drawn_at(sample, sample.design.piece())
    return np.stack([centre - sample.reach, centre + sample.reach])


def ink(pen: Pen, sample: Sample, look: str, detailed: bool | None) -> None:
    """What may be seen in the window of a sample, whole paths of it. KeyError if the look is unknown."""
    INKED[look](_Window(pen, window(sample)), sample.design, detailed)


def _cut_out(axes: Axes, sample: Sample, look: str, detailed: bool, x: float, y: float) -> None:
    seen = window(sample)
    centre = seen.mean(axis=0)
    scale = _SAMPLE / (2 * sample.reach)
    to_page = Affine2D().translate(*(-centre).tolist()).scale(scale).translate(x + _SAMPLE / 2, y + _SAMPLE / 2)
    corners = np.array([(x, y), (x + _SAMPLE, y), (x + _SAMPLE, y + _SAMPLE), (x, y + _SAMPLE)])
    frame = rings([corners])
    pen = _Window(Pencil(axes, to_page), seen, {"clip_path": TransformedPath(frame, axes.transData)})
    INKED[look](pen, sample.design, detailed)
    Pencil(axes).stroke(frame, 0.15, _RULE)


def _drawn_at(sample: Sample, piece: Piece) -> FloatArray:
    """Where the look draws the middle of a sample: headsides are curved and strips lie about their middle."""
    at: FloatArray = sample.middle[None]
    if piece.headside is not None:
        at = curved(piece, at)
    found: FloatArray = at[0] - middle(sample.design)
    return found


class _Window:
    """A pen that draws what lies within a window and nothing else. window: (2, 2) its lower and its upper corner, in
    the units of the paths; style: that of all its paths beside their own."""

    def __init__(self, pen: Pen, window: FloatArray, style: Mapping[str, Any] | None = None) -> None:
        self.points_per_unit = pen.points_per_unit
        self._pen, self._style = pen, style or {}
        self._low, self._high = window

    def stroke(self, path: Path, thickness: float, colour: str, **style: Any) -> None:
        self._pen.stroke(self._within(path, thickness), thickness, colour, **style, **self._style)

    def fill(self, path: Path, colour: str, **style: Any) -> None:
        self._pen.fill(self._within(path, 0.0), colour, **style, **self._style)

    def _within(self, path: Path, thickness: float) -> Path:
        """Those lines and rings of a path that may be seen in the window."""
        if empty(path):
            return path
        points, codes = np.asarray(path.vertices), np.asarray(path.codes)
        starts = np.flatnonzero(codes == Path.MOVETO)
        low, high = np.minimum.reduceat(points, starts), np.maximum.reduceat(points, starts)
        seen = ((high >= self._low - thickness) & (low <= self._high + thickness)).all(axis=1)
        kept = np.repeat(seen, np.diff([*starts.tolist(), len(points)]))
        return Path(points[kept], codes[kept])
