"""The readings of an old pricking as a small sheet: the blocks and figures that its pinholes allow.

Nothing here knows how a pricking is read: places come in as points in lattice units, column and row.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.design import Design
from constraints.fillings import UNITS
from constraints.lattice import FloatArray, Point, neighbour_table
from constraints.layout import components
from gallery.looks.bent import half_sides
from gallery.looks.blocks import outlines
from gallery.looks.named import LOOKS
from gallery.paper import paths
from gallery.paper.page import MM_PER_POINT, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil
from gallery.sheets.redraft import DOTS, HEAD, HEIGHT, INK, MARGIN, NOTE, WIDTH, heading

_BOLD = Type(8, bold=True)
_BLOCK, _EDGE = "#d9cbe6", "#6b4f86"
# A lattice unit on paper, mm: no larger and no smaller than these.
_LARGEST, _SMALLEST = 2.4, 1.0
_ROOM = 0.8  # round the pins, lattice units


@dataclass(frozen=True)
class ReadingPanel:
    """One reading. words: what it is, a line each. design: the strip it makes, drawn as lace; if there is none, blocks
    (places of each, laid out whole) and figures (centre and name) are drawn with the pins."""

    title: str
    words: Sequence[str]
    blocks: Sequence[frozenset[Point]]
    figures: Sequence[tuple[Point, str]]
    pinholes: FloatArray
    design: Design | None = None


def readings(panels: Sequence[ReadingPanel], *, title: str, facts: Sequence[str]) -> list[Figure]:
    """The readings side by side, likeliest first, as large as all of them fit one page; more pages if they do not."""
    with house_rules():
        across, down = np.max([_size(panel) for panel in panels], axis=0).tolist()
        head = HEAD + 4.0 * len(facts)
        words = 3.8 * max(len(panel.words) for panel in panels) + 9.0
        tall, wide = HEIGHT - 2 * MARGIN - head, WIDTH - 2 * MARGIN
        columns, unit = _grid(len(panels), across, down, wide, tall, words)
        lines = max(1, int(tall / (down * unit + words)))
        pages = []
        for start in range(0, len(panels), columns * lines):
            own = panels[start : start + columns * lines]
            rows = -(-len(own) // columns)
            figure, axes = new_page(WIDTH, 2 * MARGIN + head + rows * (down * unit + words), DOTS)
            heading(axes, title, facts)
            for number, panel in enumerate(own):
                row, column = divmod(number, columns)
                x = MARGIN + column * wide / columns
                y = MARGIN + head + row * (down * unit + words)
                _panel(axes, panel, (x, y), unit, wide / columns - 3.0, down)
            pages.append(figure)
        return pages


def _size(panel: ReadingPanel) -> FloatArray:
    """(2,) width and height of a panel, lattice units."""
    if panel.design is not None:
        return 2 * half_sides(panel.design)
    low, high = _bounds(panel)
    return high - low + 2 * _ROOM


def _bounds(panel: ReadingPanel) -> tuple[FloatArray, FloatArray]:
    points = [np.array(sorted(block), dtype=np.float64) for block in panel.blocks]
    every = np.concatenate([*points, panel.pinholes])
    return every.min(axis=0), every.max(axis=0)


def _grid(count: int, across: float, down: float, wide: float, tall: float, words: float) -> tuple[int, float]:
    """How many panels stand side by side, and how large a lattice unit is, so that as many as may be fit a page."""
    best = (1, _SMALLEST)
    for columns in range(1, min(count, 4) + 1):
        lines = -(-count // columns)
        unit = min(_LARGEST, (wide / columns - 3.0) / across, (tall / lines - words) / down)
        if unit >= best[1]:
            best = columns, unit
    if best[1] > _SMALLEST:
        return best
    columns = max(1, min(count, int(wide / (across * _SMALLEST + 3.0))))
    return columns, min(_SMALLEST, (wide / columns - 3.0) / across, (tall - words) / down)


def _panel(axes: Axes, panel: ReadingPanel, corner: tuple[float, float], unit: float, room: float, down: float) -> None:
    if panel.design is not None:
        middle = np.array(corner) + half_sides(panel.design) * unit
        LOOKS["drawing"](axes, panel.design, Affine2D().scale(unit).translate(*middle), None)
    else:
        low, _ = _bounds(panel)
        _pins(Pencil(axes, Affine2D().translate(*(_ROOM - low)).scale(unit).translate(*corner)), panel)
    line = corner[1] + down * unit + 3.5
    put_text(axes, corner[0], line, _BOLD.fitted(panel.title, room), _BOLD)
    for words in panel.words:
        line += 1.35 * NOTE.size * MM_PER_POINT
        put_text(axes, corner[0], line, NOTE.fitted(words, room), NOTE)


def _pins(pencil: Pencil, panel: ReadingPanel) -> None:
    """The blocks and figures, and the pins over them."""
    for block in panel.blocks:
        places = np.array(sorted(block, key=lambda place: (place[1], place[0])))
        neighbours = neighbour_table(places)
        group = components(neighbours, np.zeros(len(places), dtype=np.int64))
        area = paths.rings(outlines(places, neighbours, group))
        pencil.fill(area, _BLOCK)
        pencil.stroke(area, 0.12, _EDGE)
    for centre, name in panel.figures:
        _figure(pencil, centre, UNITS[name].size)
    pencil.stroke(paths.dots(panel.pinholes), 0.34, INK)


def _figure(pencil: Pencil, centre: Point, size: int) -> None:
    """Legs from the pin to the pinholes of its ring, and the pin."""
    x, y = centre[0], centre[1] - size + 1
    ends = []
    for i in range(size):
        ends += [(x + i + 1, y + i - 1), (x - i - 1, y + i - 1)]
        ends += [(x + size - i, y + size + i), (x - size + i, y + size + i)]
    middle = np.array(centre, dtype=np.float64)
    lines = np.array([[middle, end] for end in ends], dtype=np.float64)
    pencil.stroke(paths.lines(lines), 0.14, _EDGE)
    pencil.stroke(paths.dots(middle[None]), 0.5, _EDGE)
