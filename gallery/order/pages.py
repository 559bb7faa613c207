"""The order of work on paper: lines set one below the other, a box beside every step to tick, and a small map."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patheffects import AbstractPathEffect, withStroke
from matplotlib.transforms import Affine2D

from constraints.lattice import FloatArray
from constraints.outer_side import curved
from constraints.piece import ROUND
from constraints.working.ends import start_line
from constraints.working.steps import steps_of
from constraints.working.work import Work
from gallery.looks import drawing
from gallery.looks.bent import middle
from gallery.looks.excerpt import excerpt
from gallery.looks.excerpt import shown as what_is_shown
from gallery.looks.named import extent
from gallery.order.called import block_numbers
from gallery.order.words import HEADING, STEP, TEXT, TITLE, Line, Telling, order_lines
from gallery.paper.layers import Words, write_words
from gallery.paper.page import MM_PER_POINT, Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines, rings
from gallery.paper.setting import fit, leading
from gallery.paper.tiling import SIZES

_MARGIN, _HEAD, _FOOT = 20.0, 24.0, 20.0
_MAP, _GAP = 66.0, 6.0
_TALL = 3.0  # a strip on the map, of its width
_NUMBER, _BOX = 14.0, 2.4
_SOFT, _RULE, _START = "#5d626c", "#a9a294", "#b35a00"
_TYPES = {TITLE: Type(17, family="serif"), HEADING: Type(12.5, family="serif"), TEXT: Type(9), STEP: Type(9)}
_BEFORE = {TITLE: 0.0, HEADING: 4.6, TEXT: 0.9, STEP: 0.9}
_SMALL, _COUNT = Type(7.5, colour=_SOFT), Type(9, colour=_SOFT)


def order_pages(work: Work, telling: Telling, paper: str) -> list[Figure]:
    """The pages of the order of work. paper: one of `tiling.SIZES`. KeyError if unknown."""
    width, height = SIZES[paper]
    with house_rules():
        setting = _Setting(width, height)
        _map(setting.axes, work, telling, width - _MARGIN - _MAP / 2, _HEAD + _MAP / 2 - 5.0)
        for number, line in enumerate(told := order_lines(work, telling)):
            setting.put(line, told[number + 1 : number + 2])
        setting.ink()
        for number, (_, axes) in enumerate(setting.pages, 1):
            _foot(axes, width, height, telling.name, f"{number} of {len(setting.pages)}")
    return [figure for figure, _ in setting.pages]


class _Setting:
    """Pages as they are filled, the map in the upper right corner of the first."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self.pages = [new_page(width, height)]
        self.y = _HEAD
        self._boxes: list[FloatArray] = []
        self._words: list[Words] = []

    @property
    def axes(self) -> Axes:
        return self.pages[-1][1]

    def put(self, line: Line, following: Sequence[Line]) -> None:
        """Set a line; a heading stays with what follows it."""
        style = _TYPES[line.kind]
        self.y += _BEFORE[line.kind] if self.y > _HEAD else 0.0
        words, style = self._broken(line, style)
        tall = len(words) * leading(style)
        rest = sum(self._tall(each) for each in following) if line.kind == HEADING else 0.0
        if self.y + tall + rest > self.height - _FOOT:
            self.ink()
            self.pages.append(new_page(self.width, self.height))
            self.y = _HEAD
            words, style = self._broken(line, style)
        x = _MARGIN
        if line.kind == STEP:
            x += _NUMBER
            self._tick(line.number)
        for each in words:
            self._words.append(Words(x, self.y, each, style))
            self.y += leading(style)

    def _tall(self, line: Line) -> float:
        words, style = self._broken(line, _TYPES[line.kind])
        return _BEFORE[line.kind] + len(words) * leading(style)

    def _broken(self, line: Line, style: Type) -> tuple[list[str], Type]:
        room = self.width - 2 * _MARGIN - (_NUMBER if line.kind == STEP else 0.0)
        if len(self.pages) == 1 and self.y < _HEAD + _MAP:
            room -= _MAP + _GAP
        if line.kind == TITLE:
            style, words = fit(line.words, style, room, 10, 3)
            return words, style
        return _filled(line.words, style, room), style

    def _tick(self, number: int) -> None:
        """The box to tick and the number of a step."""
        corner = np.array([_MARGIN, self.y - _BOX + 0.1])
        self._boxes.append(corner + np.array([(0.0, 0.0), (_BOX, 0.0), (_BOX, _BOX), (0.0, _BOX)]))
        self._words.append(Words(_MARGIN + _NUMBER - 1.8, self.y, str(number), _COUNT, "right"))

    def ink(self) -> None:
        """All boxes and words of a page at once, when it is full."""
        Pencil(self.axes).stroke(rings(self._boxes), 0.15, _SOFT)
        write_words(self.axes, self._words)
        self._boxes, self._words = [], []


def _filled(words: str, style: Type, room: float) -> list[str]:
    """The words in lines no wider than `room` mm. Each word is measured once: orders of work are long."""
    found: list[list[str]] = [[]]
    space, used = style.width("x x") - style.width("xx"), 0.0
    for word in words.split():
        width = style.width(word)
        if found[-1] and used + space + width > room:
            found.append([])
        used = width if not found[-1] else used + space + width
        found[-1].append(word)
    return [" ".join(line) for line in found]


def _foot(axes: Axes, width: float, height: float, name: str, pages: str) -> None:
    rule = lines(np.array([[(_MARGIN, height - 14.0), (width - _MARGIN, height - 14.0)]]))
    Pencil(axes).stroke(rule, 0.15, _RULE)
    room = width - 2 * _MARGIN - 22.0
    put_text(axes, _MARGIN, height - 9.8, _SMALL.fitted(name, room), _SMALL)
    put_text(axes, width - _MARGIN, height - 9.8, pages, _SMALL, "right")


def _map(axes: Axes, work: Work, telling: Telling, x: float, y: float) -> None:
    """The square with its start and the numbers of its blocks."""
    half = _MAP / 2
    shown = excerpt(work.square, _TALL)
    scale = half / extent(shown)
    to_page = Affine2D().scale(-scale if telling.mirrored else scale, scale).translate(x, y)
    drawing.draw(axes, shown, to_page, False)
    if work.square.worked == ROUND:
        points = start_line(work)
        Pencil(axes, to_page).stroke(lines(np.stack([points[:-1], points[1:]], axis=1)), 0.55 / scale, _START)
    size = min(6.5, max(3.5, 1.6 * scale / MM_PER_POINT))
    halo: list[AbstractPathEffect] = [withStroke(linewidth=1.4, foreground="white")]
    piece = work.layout.piece
    for block, number in block_numbers(steps_of(work)).items():
        places = np.array(work.square.blocks[block].pinholes, dtype=np.float64)
        place = places[np.argmin(np.abs(places - places.mean(axis=0)).sum(axis=1))]
        if place[1] > shown.form.box[3]:
            continue  # beyond the repeats that are drawn
        px, py = to_page.transform(curved(piece, place[None])[0] - middle(shown)).tolist()
        text = put_text(axes, px, py + 0.35 * size * MM_PER_POINT, str(number), Type(size, bold=True), "center")
        text.set_path_effects(halo)
    start = "; the thick line is the start" if work.square.worked == ROUND else ""
    blocks = "Numbers of the blocks" if work.square.blocks else f"The {work.square.form.name}"
    part = f"; {words}" if (words := what_is_shown(work.square, _TALL)) else ""
    put_text(axes, x, y + half + 2.0, blocks + start + part, _SMALL, "center")
