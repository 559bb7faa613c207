"""A print on the grid at rising sizes: one line of it for each way of blocking, all at one scale, so that it grows.

Each square shows the print, what of it is asked of the blocks at that size, the blocks, and what they lose.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.path import Path
from matplotlib.transforms import Affine2D
from shapely.geometry import MultiPolygon, Polygon

from constraints.design import Design
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, STEPS
from constraints.layout import lay
from constraints.stamp import Stamp
from gallery.looks.bent import half_sides
from gallery.looks.blocks import block_outlines
from gallery.paper import paths
from gallery.paper.page import Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil
from gallery.sheets.grid import MARGIN
from gallery.sheets.heading import Heading

DOTS = 150
# The page is so wide, and a lattice unit on it one of these, mm.
_WIDE, _UNITS = 300.0, np.linspace(1.3, 0.7, 13)
# Between squares, and what words take, mm.
_APART, _LINE, _BELOW, _NAME = 7.0, 4.0, 5.0, 8.0
_TITLE, _WORDS, _BAND = Type(9, bold=True), Type(8.5, colour="#41464f", narrow=True), Type(10, family="serif")
_PRINT, _BLOCK, _EDGE, _KEPT, _LOST, _RINGED = "#c9ccd2", "#cdb6dd", "#5b3d7a", "#22252b", "#d3541f", "#1f7a5c"
_GROUND = "#b9bdc5"
# What each colour says, and whether it fills an area.
_KEY = (
    (_PRINT, "the print", True),
    (_KEPT, "what is asked of the blocks at that size", False),
    (_BLOCK, "blocks", True),
    (_LOST, "lost: no block shows it", True),
    (_RINGED, "the smallest size at which it is known", False),
)
_SWATCH, _HIGH = 5.0, 3.0
# How large a ring is beside its square.
_ROUND = 1.15


@dataclass(frozen=True, eq=False)
class RibbonPanel:
    """A print at one size. words: a line each. design: its blocks on the smallest square that holds them; shape: the
    whole print on it; kept: what of that is asked of the blocks; lost: what they do not show; lattice units. ringed:
    whether it is the size to take."""

    title: str
    words: Sequence[str]
    design: Design
    shape: MultiPolygon
    kept: MultiPolygon
    lost: Sequence[Polygon]
    ringed: bool


@dataclass(frozen=True, eq=False)
class Ribbon:
    """A print in one way of blocking. name: which, in words. panels: by size, pitches."""

    name: str
    panels: Mapping[float, RibbonPanel]


def ribbons(every: Sequence[Ribbon], *, title: str, note: str, stamp: Stamp) -> Figure:
    """A page with all of them, the same size in the same column; as large as all columns fit the page, or on further
    lines where there are very many."""
    with house_rules():
        heading = Heading(title, note, (stamp,))
        unit = next((float(each) for each in _UNITS if _wide(_columns(every, each)) <= _WIDE), _UNITS[-1])
        groups = list(_groups(_columns(every, unit)))
        lines = [(ribbon, columns) for columns in groups for ribbon in every]
        high = [_high(*line, unit) for line in lines]
        wide = max(map(_wide, groups)) + 2 * MARGIN
        top = MARGIN + heading.height(wide)
        figure, axes = new_page(wide, top + sum(high) + 2 * _LINE + MARGIN, DOTS)
        heading.draw(axes, wide)
        for (ribbon, columns), height in zip(lines, high, strict=True):
            _draw(axes, ribbon, columns, unit, top, height)
            top += height
        _key(axes, top + 2 * _LINE)
        return figure


def _columns(every: Sequence[Ribbon], unit: float) -> dict[float, float]:
    """The sizes, rising, and how wide the column of each is, mm."""
    wide: dict[float, float] = {}
    for ribbon in every:
        for size, panel in ribbon.panels.items():
            words = max([_TITLE.width(panel.title), *map(_WORDS.width, panel.words)])
            room = max(words, 2 * float(half_sides(panel.design)[0]) * unit * (_ROUND if panel.ringed else 1.0))
            wide[size] = max(wide.get(size, 0.0), room)
    return {size: wide[size] + _APART for size in sorted(wide)}


def _wide(columns: Mapping[float, float]) -> float:
    return sum(columns.values())


def _groups(columns: Mapping[float, float]) -> Iterator[dict[float, float]]:
    """As many columns at a time as fit the page."""
    group: dict[float, float] = {}
    for size, wide in columns.items():
        if group and _wide(group) + wide > _WIDE:
            yield group
            group = {}
        group[size] = wide
    yield group


def _high(ribbon: Ribbon, columns: Mapping[float, float], unit: float) -> float:
    """What a line of squares takes with its name and its words, mm; nothing if there are none."""
    panels = [panel for size, panel in ribbon.panels.items() if size in columns]
    if not panels:
        return 0.0
    tallest = max(_side(panel) for panel in panels) * unit
    return _NAME + tallest + _BELOW + _LINE * (1 + max(len(panel.words) for panel in panels))


def _side(panel: RibbonPanel) -> float:
    """How high a square is with its ring, lattice units."""
    return 2 * float(half_sides(panel.design)[1]) * (_ROUND if panel.ringed else 1.0)


def _draw(axes: Axes, ribbon: Ribbon, columns: Mapping[float, float], unit: float, top: float, height: float) -> None:
    """One line of squares, their lower edges level."""
    if not height:
        return
    put_text(axes, MARGIN, top + _LINE, ribbon.name, _BAND)
    words = max(len(panel.words) for size, panel in ribbon.panels.items() if size in columns)
    level = top + height - _LINE * (words + 1) - _BELOW
    left = MARGIN
    for size, wide in columns.items():
        panel = ribbon.panels.get(size)
        if panel is not None:
            middle = (left + (wide - _APART) / 2, level - _side(panel) * unit / 2)
            _picture(Pencil(axes, Affine2D().scale(unit).translate(*middle)), panel)
            put_text(axes, middle[0], level + _LINE, panel.title, _TITLE, "center")
            for number, line in enumerate(panel.words, 2):
                put_text(axes, middle[0], level + number * _LINE, line, _WORDS, "center")
        left += wide


def _picture(pencil: Pencil, panel: RibbonPanel) -> None:
    """A print, its blocks and what they lose, on the ground of its square."""
    layout = lay(panel.design)
    piece = layout.piece
    for step in (DOWN_RIGHT, DOWN_LEFT):
        begins = piece.pinholes[piece.neighbours[:, step] >= 0]
        pencil.stroke(paths.lines(paths.merged(begins, STEPS[step])), 0.06, _GROUND)
    pencil.fill(_path(panel.shape), _PRINT)
    blocks = paths.rings(block_outlines(layout, layout.inside))
    pencil.fill(blocks, _BLOCK, alpha=0.75)
    pencil.stroke(blocks, 0.1, _EDGE)
    pencil.stroke(_path(panel.kept), 0.2, _KEPT)
    for part in panel.lost:
        pencil.fill(_path(MultiPolygon([part])), _LOST)
    if panel.ringed:
        angles = np.linspace(0, 2 * np.pi, 90, endpoint=False)
        reach = float(np.abs(half_sides(panel.design)).max()) * _ROUND
        pencil.stroke(paths.rings([reach * np.stack([np.cos(angles), np.sin(angles)], axis=1)]), 0.5, _RINGED)


def _path(shape: MultiPolygon) -> Path:
    """Its outlines, which run so that holes stay open."""
    parts = shapely.get_parts(shapely.orient_polygons(shape))
    return paths.rings(
        [shapely.get_coordinates(ring)[:-1] for part in parts for ring in (part.exterior, *part.interiors)]
    )


def _key(axes: Axes, top: float) -> None:
    """What the colours say, on one line."""
    pencil, left = Pencil(axes), MARGIN
    for colour, words, filled in _KEY:
        box = paths.rings(
            [np.array([(left, top), (left + _SWATCH, top), (left + _SWATCH, top - 3.0), (left, top - 3.0)])]
        )
        if filled:
            pencil.fill(box, colour)
        else:
            pencil.stroke(box, 0.35, colour)
        put_text(axes, left + _SWATCH + 1.5, top - 0.3, words, _WORDS)
        left += _SWATCH + 1.5 + _WORDS.width(words) + 6.0
