"""The papers of a working diagram: a page that explains it, then the diagram itself, in tiles if it is large."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

import numpy as np

from constraints.design import Design
from constraints.lattice import FloatArray
from constraints.piece import ROUND
from constraints.wording import measures, shown
from gallery import hands
from gallery.diagram.drawn import (
    CLEAR_PITCH,
    LEAST,
    MOST,
    RIM,
    Diagram,
    size_of,
)
from gallery.diagram.legend import FACT, LINE, legend, legend_layers
from gallery.order.edges import counted_from
from gallery.paper.layers import BoxMm, Layer, Leaf, Words, gathered, moved
from gallery.paper.nearby import nearby
from gallery.paper.page import Type
from gallery.paper.tiling import SIZES, Tiling, cross_layer, crosses, page_map, tile, tiling

MARGIN, _FOOT, _GAP = 8.0, 7.0, 5.0
HEAD, SMALL = Type(15, family="serif"), Type(7.5, colour="#4a4f58")
# Of a strip that takes more pages only the first repeats are drawn.
_MOST_PAGES = 12
# A frame that takes fewer pages by a third, or fewer still, is drawn so that a pitch is only so many mm.
_CLOSE_PITCH, _THIRD = 12.0, 1 / 3
_SCALES = tuple(round(LEAST + 0.05 * step, 2) for step in range(round((MOST - LEAST) / 0.05) + 1))


def facts(diagram: Diagram, repeats: int | None = None) -> list[str]:
    """What she must know of the diagram, line by line. repeats: so many of a strip are drawn; None if all."""
    design, hand = diagram.work.design, diagram.wanted.footside
    corner = hands.corner(design.start, hands.sides(hand)).replace("-", " ")
    start = f"{corner} corner" if diagram.work.start_row is None else "horizontal start line"
    begins = f"Worked round from the {start}, {counted_from(design)} on the {hand}"
    if design.worked != ROUND:
        phrases = design.form.phrases
        begins = f"Worked {phrases.way} from {phrases.first}"
    part = "" if repeats is None else f"; drawn are the first {repeats} of its repeats, the others are worked alike"
    return [
        f"Finished size {measures(design)}, pitch {shown(design.pitch_mm)} mm; {design.pairs} pairs",
        f"Drawn {diagram.scale:g} times as large as the lace{part}",
        f"{begins}; ground by the {diagram.work.habits.ground} method",
        "Every line is a pair. C: cross, left over right; T: twist, right over left.",
    ]


def clear_scale(design: Design, paper: str) -> float:
    """The scale for a design: clear for its pitch, and as large as the same number of pages allows; for a strip the
    largest at which its pages lie one below the other. A frame is drawn smaller where that saves many pages."""
    least = min(MOST, max(LEAST, CLEAR_PITCH / design.pitch_mm))
    if design.form.has_opening:
        return _frame_scale(design, least, paper)
    wanted = [least, *np.arange(np.ceil(least * 20) / 20, MOST + 0.01, 0.05).tolist()]
    in_one = [scale for scale in _SCALES if tiles_of(size_of(design, scale), paper).columns == 1]
    if design.form.repeating and in_one:
        return max(in_one)
    counts = [len(tiles_of(size_of(design, scale), paper)) for scale in wanted]
    return float(round(max(scale for scale, count in zip(wanted, counts, strict=True) if count == counts[0]), 2))


def _frame_scale(design: Design, clear: float, paper: str) -> float:
    """The scale for a frame: a band that goes on one page side by side takes far fewer pages than a wider one."""
    closest = min(MOST, max(LEAST, _CLOSE_PITCH / design.pitch_mm))
    offers = {clear, *(scale for scale in _SCALES if scale >= closest)}
    count = {scale: _pages_taken(design, scale, paper) for scale in offers}
    fewest = min(count.values())
    most = fewest if fewest <= (1 - _THIRD) * count[clear] else count[clear]
    return float(round(max(scale for scale in offers if count[scale] == most), 2))


def _pages_taken(design: Design, scale: float, paper: str) -> int:
    """How many pages a frame takes, those left out that would lie in its opening."""
    size = np.array(size_of(design, scale))
    at = design.piece().pinholes * (design.pitch_mm / 2 * scale) + size / 2
    windows = tiles_of((float(size[0]), float(size[1])), paper).windows
    return sum(_used(windows, at))


def _used(windows: Sequence[BoxMm], points: FloatArray) -> list[bool]:
    """Which of the windows hold any of the points (n, 2), mm."""
    return [
        bool(((points >= (left, top)) & (points <= (right, bottom))).all(axis=1).any())
        for left, top, right, bottom in windows
    ]


def tiles_of(size: tuple[float, float], paper: str) -> Tiling:
    """How a diagram so wide and high is cut into pages of a paper."""
    width, height = SIZES[paper]
    return tiling(*size, (width - 2 * MARGIN, height - 2 * MARGIN - _FOOT))


def pages(diagram: Diagram, name: str, paper: str) -> list[Leaf]:
    """The pages of the PDF. KeyError if the paper is unknown."""
    title = f"Working diagram {diagram.work.design.number:02d}, {name}"
    width, height = SIZES[paper]
    repeats, high = _shown(diagram, paper)
    tiled = tiles_of((diagram.size[0], high), paper)
    many = len(tiled) > 1
    numbers = _numbers(diagram, tiled)
    layers = _head(diagram, title, width, repeats)
    entries = legend(diagram)
    top = MARGIN + 36.0
    layers += legend_layers(entries, MARGIN, top)
    if many:
        below = top + len(entries) * LINE + 4.0
        outline = np.minimum(diagram.outline, (np.inf, high))
        small, _, _ = page_map(tiled, numbers, outline, (95.0, height - below - 14.0))
        words = "The pages; they overlap by 10 mm: lay them cross on cross"
        layers += [Layer("text", (Words(MARGIN, below, words, FACT),)), *moved(small, MARGIN, below + 3.5)]
    found = [Leaf(width, height, gathered(layers), title)]
    drawn = list(diagram.layers)
    if many:
        drawn.append(cross_layer(crosses(tiled, diagram.pins)))
    for number, window in zip(numbers, tiled.windows, strict=True):
        if not number:
            continue
        at = (width - tiled.width) / 2, MARGIN
        placed = tile(nearby(drawn, window), window, at) if many else moved(drawn, *at)
        said = Words(MARGIN, height - MARGIN, SMALL.fitted(f"{title}, page {number} of {max(numbers)}", 180.0), SMALL)
        found.append(Leaf(width, height, gathered([*placed, Layer("text", (said,))]), title))
    return found


def _numbers(diagram: Diagram, tiled: Tiling) -> list[int]:
    """The page of every window, 0 for one with nothing to draw, as in the opening of a frame."""
    points = np.concatenate([diagram.pins, diagram.lace(diagram.lines.curves.points).reshape(-1, 2)])
    used = _used(tiled.windows, points)
    return [1 + count if own else 0 for own, count in zip(used, accumulate(used), strict=True)]


def _shown(diagram: Diagram, paper: str) -> tuple[int | None, float]:
    """How many repeats of a long strip are drawn, None for all of a piece, and how high they are, mm."""
    form, high = diagram.work.design.form.repeating, diagram.size[1]
    if form is None or len(tiles_of(diagram.size, paper)) <= _MOST_PAGES:
        return None, high
    heights = [(RIM + form.rows * repeats) * diagram.unit for repeats in range(2, form.repeats)]
    fitting = [each for each in heights if len(tiles_of((diagram.size[0], each), paper)) <= _MOST_PAGES]
    return max(2, len(fitting) + 1), max(fitting, default=heights[0])


def _head(diagram: Diagram, title: str, width: float, repeats: int | None = None) -> list[Layer]:
    room = width - 2 * MARGIN
    words = [Words(MARGIN, MARGIN + 6.0, HEAD.fitted(title, room), HEAD)]
    words += [Words(MARGIN, MARGIN + 12.0 + 4.4 * i, each, FACT) for i, each in enumerate(facts(diagram, repeats))]
    return [Layer("text", tuple(words))]


def leaf_of_all(diagram: Diagram, name: str) -> Leaf:
    """The whole diagram and its legend on one paper as large as they need: for the SVG."""
    title = f"Working diagram {diagram.work.design.number:02d}, {name}"
    entries = legend(diagram)
    wide, high = diagram.size
    width = max(wide + 2 * MARGIN, SIZES["a4"][0])
    layers = _head(diagram, title, width)
    top = MARGIN + 30.0
    layers += moved(diagram.layers, (width - wide) / 2, top)
    below = top + high + _GAP
    layers += legend_layers(entries, MARGIN, below)
    return Leaf(width, below + len(entries) * LINE + MARGIN, gathered(layers), title)
