"""A paper in layers: what is drawn, kind by kind, in millimetres, whatever file it becomes.

One description, two writers. `figure` gives a page for `page.write` (PDF, PNG); `layers_svg.svg` gives an SVG in
real units, one labelled group for each layer. A `Leaf` is one side of paper; its layers lie one on the other, the
first at the bottom. All measures are mm from the top left corner of the leaf, y down, and every mark is exact: what
is drawn 100 mm long is 100 mm long in both files.

    pins = Layer("pinholes", (Dots(places, 0.5),))
    leaf = Leaf(210, 297, (pins, Layer("text", (Words(15, 20, "Tulip", Type(12)),))), title="Pricking 7")
    page.write([figure(leaf)], Path("07-pricking.pdf"))
    write_whole(Path("07-pricking.svg"), svg(leaf))

Paths are made by `paths.lines`, `paths.curves`, `paths.rings`. What is too large for one page is cut into several
with `cutting.cut`; `tiling` says where.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.backend_bases import RendererBase
from matplotlib.figure import Figure
from matplotlib.path import Path
from matplotlib.textpath import text_to_path
from matplotlib.transforms import Transform

from constraints.lattice import FloatArray
from gallery.paper.letters import miss
from gallery.paper.page import MM_PER_POINT, Type, house_rules, new_page
from gallery.paper.paths import Pencil, dots, empty

BLACK = "#000000"
BoxMm = tuple[float, float, float, float]
_SHARE = {"left": 0.0, "center": 0.5, "right": 1.0}


@dataclass(frozen=True, eq=False)
class Lines:
    """Lines of a path. width: mm. dash: mm drawn and left out in turn; empty for a whole line. butt: square ends."""

    path: Path
    width: float
    colour: str = BLACK
    dash: tuple[float, ...] = ()
    butt: bool = False


@dataclass(frozen=True, eq=False)
class Areas:
    """The area of a path, its rings combined by the way they run (nonzero). alpha: 1 covers what lies below."""

    path: Path
    colour: str
    alpha: float = 1.0


@dataclass(frozen=True, eq=False)
class Dots:
    """Round dots. centres: (n, 2) mm."""

    centres: FloatArray
    diameter: float
    colour: str = BLACK


@dataclass(frozen=True)
class Words:
    """One line of text. x, y: mm, its baseline at y. align: which end stands at x: left, center or right."""

    x: float
    y: float
    text: str
    style: Type
    align: str = "left"

    @property
    def box(self) -> BoxMm:
        """Left, top, right and bottom of the room it takes, mm."""
        # Figures are all as wide and high as each other: one of a thousand numbers is measured.
        width, rise, fall = _extent(self.style, "8" * len(self.text) if self.text.isdecimal() else self.text)
        left = self.x - width * _SHARE[self.align]
        return left, self.y - rise, left + width, self.y + fall

    @property
    def left(self) -> float:
        """Where it begins, mm."""
        share = _SHARE[self.align]
        return self.x - share * self.style.width(self.text) if share else self.x


@lru_cache(maxsize=1024)
def _extent(style: Type, words: str) -> tuple[float, float, float]:
    """How wide words are, and how far they reach above and below their baseline, mm."""
    _, height, below = text_to_path.get_text_width_height_descent(words, style.font, False)
    return style.width(words), float(height - below) * MM_PER_POINT, float(below) * MM_PER_POINT


Mark = Lines | Areas | Dots | Words


@dataclass(frozen=True)
class Layer:
    """Marks of one kind. name: what the kind is called, such as "pinholes"; also the id of its group."""

    name: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class Leaf:
    """One side of paper. width, height: mm. Layers of one name are drawn where the first of them stands."""

    width: float
    height: float
    layers: tuple[Layer, ...]
    title: str = ""


def gathered(layers: Iterable[Layer]) -> tuple[Layer, ...]:
    """Layers of one name joined, in the order in which the names first come; without those that are empty."""
    found: dict[str, tuple[Mark, ...]] = {}
    for layer in layers:
        found[layer.name] = (*found.get(layer.name, ()), *layer.marks)
    return tuple(Layer(name, marks) for name, marks in found.items() if marks)


def moved(layers: Iterable[Layer], across: float, down: float) -> tuple[Layer, ...]:
    """The layers somewhere else on the paper, mm."""
    by = np.array([across, down])

    def shift(mark: Mark) -> Mark:
        match mark:
            case Words():
                return replace(mark, x=mark.x + across, y=mark.y + down)
            case Dots():
                return replace(mark, centres=mark.centres + by)
            case _:
                path = mark.path if empty(mark.path) else Path(np.asarray(mark.path.vertices) + by, mark.path.codes)
                return replace(mark, path=path)

    return tuple(Layer(layer.name, tuple(map(shift, layer.marks))) for layer in layers)


def figure(leaf: Leaf, dots_per_inch: float = 200) -> Figure:
    """The leaf as a page for `page.write`. dots_per_inch: only for PNG."""
    with house_rules():
        made, axes = new_page(leaf.width, leaf.height, dots_per_inch)
        pencil = Pencil(axes)
        for layer in gathered(leaf.layers):
            for mark in layer.marks:
                match mark:
                    case Dots():
                        pencil.stroke(dots(mark.centres), mark.diameter, mark.colour)
                    case Areas():
                        pencil.fill(mark.path, mark.colour, alpha=mark.alpha)
                    case Lines():
                        # Dashes are counted in widths of the line.
                        dash = (0, tuple(each / mark.width for each in mark.dash)) if mark.dash else "solid"
                        ends = "butt" if mark.butt or mark.dash else "round"
                        pencil.stroke(mark.path, mark.width, mark.colour, linestyle=dash, capstyle=ends)
            write_words(axes, [mark for mark in layer.marks if isinstance(mark, Words)])
    return made


def write_words(axes: Axes, said: Sequence[Words]) -> None:
    """Write words on a page in millimetres, all of one style together."""
    for style in dict.fromkeys(words.style for words in said):
        alike = [words for words in said if words.style == style]
        miss(style.lacking("".join(words.text for words in alike)))
        axes.add_artist(_Written(alike, style, axes.transData))


class _Written(Artist):
    """Many words of one style, written one by one: some thousand numbers take a fraction of the time that as many
    texts of matplotlib would."""

    zorder = 1  # as paths have: layers lie as they are listed

    def __init__(self, words: Sequence[Words], style: Type, to_page: Transform) -> None:
        super().__init__()
        self.words, self.style, self.to_page = words, style, to_page

    def draw(self, renderer: RendererBase) -> None:
        starts = [(each.left, each.y) for each in self.words]
        places = self.to_page.transform(np.array(starts))
        if renderer.flipy():
            places[:, 1] = renderer.get_canvas_width_height()[1] - places[:, 1]
        font, context = self.style.font, renderer.new_gc()
        context.set_foreground(self.style.colour)
        for (x, y), words in zip(places.tolist(), self.words, strict=True):
            renderer.draw_text(context, x, y, words.text, font, 0.0)
        context.restore()
