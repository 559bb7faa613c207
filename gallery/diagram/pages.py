"""The papers of a working diagram: a page that explains it, then the diagram itself, in tiles if it is large."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from constraints.edging import FAN
from constraints.explain import measures, shown
from constraints.forms import Strip
from constraints.piece import ROUND
from constraints.square import Square
from constraints.stitches import CLOTH, HALF, STITCHES, WHOLE
from constraints.working import ledger
from constraints.working.habits import EXCHANGE, GROUND_MOVES, TURNING_STITCH
from constraints.working.work import Work
from gallery.diagram.drawn import (
    CLEAR_PITCH,
    GIMP,
    GIMP_COLOUR,
    INK,
    LEAST,
    LINE_COLOURS,
    MOST,
    PIN,
    RIGHT,
    RIM,
    START,
    TURN,
    TURNING,
    TWIST,
    WORKER,
    Diagram,
    size_of,
)
from gallery.diagram.drawn import PAIR as PAIR_WIDTH
from gallery.diagram.guides import GUIDE
from gallery.diagram.inking import FOOTSIDE, GROUND, ROSE, SPIDER
from gallery.order.edges import counted_from, footsides
from gallery.paper import paths
from gallery.paper.layers import Areas, Dots, Layer, Leaf, Lines, Mark, Words, gathered, moved
from gallery.paper.nearby import nearby
from gallery.paper.page import MM_PER_POINT, Type
from gallery.paper.tiling import SIZES, Tiling, cross_layer, crosses, page_map, tile, tiling

MARGIN, _FOOT, _GAP = 8.0, 7.0, 5.0
HEAD, FACT, SMALL = Type(15, family="serif"), Type(8.5), Type(7.5, colour="#4a4f58")
_SAMPLE, _LINE = 13.0, 6.6
# Of a strip that takes more pages only the first repeats are drawn.
_MOST_PAGES = 12
_SCALES = tuple(round(LEAST + 0.05 * step, 2) for step in range(round((MOST - LEAST) / 0.05) + 1))
# In the legend's samples one lattice unit is so many mm.
_UNIT = 7.5


@dataclass(frozen=True)
class Entry:
    """One line of the legend. marks: drawn from (0, 0) to (_SAMPLE, 0) mm, at half its height."""

    words: str
    marks: tuple[Mark, ...]


# --- legend ----------------------------------------------------------------------------------------------


def legend(diagram: Diagram) -> list[Entry]:
    """Every line and mark that this diagram uses, and no other."""
    sorts = {(each.sort, each.worker) for each in diagram.inking.inked}
    here = [(sort, words) for sort, words in _open(diagram.work) if (sort, False) in sorts]
    found = [Entry(words, (_line(LINE_COLOURS[sort], PAIR_WIDTH),)) for sort, words in here]
    if (diagram.work.crossings.kind == ledger.DOUBLE).any():
        found.append(Entry("double ground: CTCT, pin, CTCT", (_lozenge(), _dot(PIN, INK))))
    for stitch in (CLOTH, HALF, WHOLE):
        each, colour = STITCHES[stitch], LINE_COLOURS[stitch]
        if (stitch, False) in sorts:
            found.append(Entry(f"{each.words} ({each.moves}): passive pair", (_line(colour, PAIR_WIDTH),)))
        if (stitch, True) in sorts:
            found.append(Entry(f"{each.words}: the worker, from pin to pin", (_line(colour, WORKER),)))
    return [*found, *(make() for shown, make in _marks(diagram) if shown)]


def _open(work: Work) -> list[tuple[str, str]]:
    """Lines outside blocks, in words."""
    habits, plain = work.habits, footsides(work.square)
    name, count = plain[0] if plain else ("", 1)
    moves = GROUND_MOVES[habits.ground].replace(".", ", pin, ")
    passives = f"{count} {'passive' if count == 1 else 'passives'}"
    footside = f"{name} of cloth, {passives} (CTC) and edge pair ({EXCHANGE[:-1]}, pin inside)"
    if not plain:
        footside = f"valley pin between two fans: {moves}"
    elif work.layout.piece.headside is not None and work.layout.piece.headside.kind == FAN:
        footside += "; the same colour at valley pins"
    return [
        (GROUND, f"pair of the ground: {moves} where two meet at a pin"),
        (ROSE, "rose ground: as the ground at pins, CTCT at cross-overs without a pin"),
        (SPIDER, "leg of a spider: CTC with every pair of the other side, pin, CTC again"),
        (FOOTSIDE, footside if count else f"twisted {name}: edge pair and pair of the ground, {moves}"),
    ]


def _marks(diagram: Diagram) -> list[tuple[bool, Callable[[], Entry]]]:
    round_, near = diagram.work.square.worked == ROUND, counted_from(diagram.work.square)
    gimps = [str(gimp.called) for gimp in diagram.work.gimps]
    one = Words(_SAMPLE / 2, 0.9, "1", Type(7), "center")
    disc = (Dots(_middle(), 4.0, START), Dots(_middle(), 3.5, "#ffffff"), one)
    bar = np.array([[(_SAMPLE / 2, -1.0), (_SAMPLE / 2, 1.0)]])
    arrow = np.array([(12.0, 0.0), (9.6, -1.3), (9.6, 1.3)])
    arrows = (Lines(paths.lines(np.array([[(1.0, 0.0), (10.0, 0.0)]])), 0.5, GUIDE), Areas(paths.rings([arrow]), GUIDE))
    numbered = ", numbered as it is put up" if diagram.wanted.numbers else ""
    turned = "which way the work goes; bent: turn the pillow a quarter" if round_ else "which way the work goes"
    return [
        (len(diagram.twists) > 0, lambda: Entry(
            "a twist beside those of the stitch: one bar, one twist",
            (_line(LINE_COLOURS[GROUND], PAIR_WIDTH), Lines(paths.lines(bar), TWIST * _UNIT, INK, butt=True)),
        )),
        (bool(diagram.standing.turning.any()), lambda: Entry(
            f"turning stitch ({TURNING_STITCH}): worker and passive, no pin", (_dot(TURN, TURNING),)
        )),
        (len(gimps) > 0, lambda: Entry(
            f"gimp pair round block{'s' if len(gimps) > 1 else ''} {', '.join(gimps)}: the pairs it passes are twisted "
            "before it and after it", (_line(GIMP_COLOUR, GIMP),)
        )),
        (True, lambda: Entry(f"pin{numbered}", (_dot(PIN, INK),))),
        (round_, lambda: Entry("start line", (_line(START, 0.04, (2.2, 1.0)),))),
        (True, lambda: Entry(f"a pair hung on, counted from the {near}" if round_ else "a pair hung on", disc)),
        (round_, lambda: Entry("corner line", (_line(GUIDE, 0.033, (1.6, 1.2)),))),
        (True, lambda: Entry(turned, arrows)),
    ]  # fmt: skip


def _middle() -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.array([[_SAMPLE / 2, 0.0]])


def _line(colour: str, width: float, dash: tuple[float, ...] = ()) -> Lines:
    return Lines(paths.lines(np.array([[(0.0, 0.0), (_SAMPLE, 0.0)]])), width * _UNIT, colour, dash)


def _dot(width: float, colour: str) -> Dots:
    return Dots(_middle(), width * _UNIT, colour)


def _lozenge() -> Lines:
    corners = _SAMPLE / 2 * np.array([(1, 0)]) + 2.2 * np.array([(0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)])
    return Lines(paths.lines(corners[None]), PAIR_WIDTH * _UNIT, LINE_COLOURS[GROUND])


def _legend_layers(entries: list[Entry], x: float, y: float) -> tuple[Layer, ...]:
    layers: list[Layer] = []
    for number, entry in enumerate(entries):
        at = y + number * _LINE
        layers += moved((Layer("legend", entry.marks),), x, at)
        words = Words(x + _SAMPLE + 4.0, at + 0.36 * FACT.size * MM_PER_POINT, entry.words, FACT)
        layers.append(Layer("legend", (words,)))
    return gathered(layers)


# --- pages -----------------------------------------------------------------------------------------------


def facts(diagram: Diagram, repeats: int | None = None) -> list[str]:
    """What she must know of the diagram, line by line. repeats: so many of a strip are drawn; None if all."""
    square, hand = diagram.work.square, diagram.wanted.footside
    across, down = square.start.split("-")[::-1]
    if hand == RIGHT:
        across = {"left": "right", "right": "left"}[across]
    start = f"{down} {across} corner" if diagram.work.start_row is None else "horizontal start line"
    way = f"Worked round from the {start}, {counted_from(square)} on the {hand}"
    if square.worked != ROUND:
        way = f"Worked {'down from the top row' if isinstance(square.form, Strip) else 'across from the top edge'}"
    part = "" if repeats is None else f"; drawn are the first {repeats} of its repeats, the others are worked alike"
    return [
        f"Finished size {measures(square)}, pitch {shown(square.pitch_mm)} mm; {square.pairs} pairs",
        f"Drawn {diagram.scale:g} times as large as the lace{part}",
        f"{way}; ground by the {diagram.work.habits.ground} method",
        "Every line is a pair. C: cross, left over right; T: twist, right over left.",
    ]


def clear_scale(square: Square, paper: str) -> float:
    """The scale for a square: clear for its pitch, and as large as the same number of pages allows; for a strip the
    largest at which its pages lie one below the other."""
    least = min(MOST, max(LEAST, CLEAR_PITCH / square.pitch_mm))
    wanted = [least, *np.arange(np.ceil(least * 20) / 20, MOST + 0.01, 0.05).tolist()]
    in_one = [scale for scale in _SCALES if tiles_of(size_of(square, scale), paper).columns == 1]
    if isinstance(square.form, Strip) and in_one:
        return max(in_one)
    counts = [len(tiles_of(size_of(square, scale), paper)) for scale in wanted]
    return float(round(max(scale for scale, count in zip(wanted, counts, strict=True) if count == counts[0]), 2))


def tiles_of(size: tuple[float, float], paper: str) -> Tiling:
    """How a diagram so wide and high is cut into pages of a paper."""
    width, height = SIZES[paper]
    return tiling(*size, (width - 2 * MARGIN, height - 2 * MARGIN - _FOOT))


def pages(diagram: Diagram, name: str, paper: str) -> list[Leaf]:
    """The pages of the PDF. KeyError if the paper is unknown."""
    title = f"Working diagram {diagram.work.square.number:02d}, {name}"
    width, height = SIZES[paper]
    repeats, high = _shown(diagram, paper)
    tiled = tiles_of((diagram.size[0], high), paper)
    many = len(tiled) > 1
    layers = _head(diagram, title, width, repeats)
    entries = legend(diagram)
    top = MARGIN + 36.0
    layers += _legend_layers(entries, MARGIN, top)
    if many:
        below = top + len(entries) * _LINE + 4.0
        outline = np.minimum(diagram.outline, (np.inf, high))
        small, _, _ = page_map(tiled, range(2, len(tiled) + 2), outline, (95.0, height - below - 14.0))
        words = "The pages; they overlap by 10 mm: lay them cross on cross"
        layers += [Layer("text", (Words(MARGIN, below, words, FACT),)), *moved(small, MARGIN, below + 3.5)]
    found = [Leaf(width, height, gathered(layers), title)]
    drawn = list(diagram.layers)
    if many:
        drawn.append(cross_layer(crosses(tiled, diagram.pins)))
    for number, window in enumerate(tiled.windows, 2):
        at = (width - tiled.width) / 2, MARGIN
        placed = tile(nearby(drawn, window), window, at) if many else moved(drawn, *at)
        said = Words(MARGIN, height - MARGIN, SMALL.fitted(f"{title}, page {number} of {len(tiled) + 1}", 180.0), SMALL)
        found.append(Leaf(width, height, gathered([*placed, Layer("text", (said,))]), title))
    return found


def _shown(diagram: Diagram, paper: str) -> tuple[int | None, float]:
    """How many repeats of a long strip are drawn, None for all of a piece, and how high they are, mm."""
    form, high = diagram.work.square.form, diagram.size[1]
    if not isinstance(form, Strip) or len(tiles_of(diagram.size, paper)) <= _MOST_PAGES:
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
    title = f"Working diagram {diagram.work.square.number:02d}, {name}"
    entries = legend(diagram)
    wide, high = diagram.size
    width = max(wide + 2 * MARGIN, SIZES["a4"][0])
    layers = _head(diagram, title, width)
    top = MARGIN + 30.0
    layers += moved(diagram.layers, (width - wide) / 2, top)
    below = top + high + _GAP
    layers += _legend_layers(entries, MARGIN, below)
    return Leaf(width, below + len(entries) * _LINE + MARGIN, gathered(layers), title)
