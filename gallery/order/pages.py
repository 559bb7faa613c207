"""The order of work on paper: lines set one below the other, a box beside every step to tick, and a small map."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from constraints.lattice import FloatArray
from constraints.working.work import Work
from gallery.order.block_map import BlockMap
from gallery.order.words import HEADING, STEP, TEXT, TITLE, Telling, TextLine, order_lines
from gallery.paper.layers import Words, write_words
from gallery.paper.page import Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil, lines, rings
from gallery.paper.setting import fit, leading
from gallery.paper.tiling import SIZES

_MARGIN, _HEAD, _FOOT = 20.0, 24.0, 20.0
_MAP, _GAP = 66.0, 6.0
_NUMBER, _BOX, _APART = 14.0, 2.4, 1.6  # boxes to tick, and the gap between them
_SOFT, _RULE = "#5d626c", "#a9a294"
# Below a map too small for the numbers of the blocks.
_LARGER = "Blocks are numbered on the last page"
_TYPES = {TITLE: Type(17, family="serif"), HEADING: Type(12.5, family="serif"), TEXT: Type(9), STEP: Type(9)}
_BEFORE = {TITLE: 0.0, HEADING: 4.6, TEXT: 0.9, STEP: 0.9}
_SMALL, _COUNT = Type(7.5, colour=_SOFT), Type(9, colour=_SOFT)


def order_pages(work: Work, telling: Telling, paper: str) -> list[Figure]:
    """The pages of the order of work. paper: one of `tiling.SIZES`. KeyError if unknown."""
    width, height = SIZES[paper]
    with house_rules():
        setting = _Setting(width, height)
        small = BlockMap(work, telling.mirrored, (_MAP, _MAP), (width - _MARGIN - _MAP / 2, _HEAD + _MAP / 2 - 5.0))
        small.draw(setting.axes, not small.crowded, _LARGER if small.crowded else "")
        for number, line in enumerate(told := order_lines(work, telling)):
            setting.put(line, told[number + 1 : number + 2])
        setting.ink()
        if small.crowded:
            setting.pages.append(new_page(width, height))
            room = width - 2 * _MARGIN, height - _HEAD - _FOOT - 2 * _GAP
            BlockMap(work, telling.mirrored, room, (width / 2, (height - _FOOT + _HEAD) / 2 - _GAP)).draw(setting.axes)
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

    def put(self, line: TextLine, following: Sequence[TextLine]) -> None:
        """Set a line; a heading stays with what follows it."""
        style = _TYPES[line.kind]
        self.y += _BEFORE[line.kind] if self.y > _HEAD else 0.0
        words, style = self._broken(line, style)
        tall = len(words) * leading(style) + self._room_to_tick(line)
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
        for box in range(line.boxes):
            down, across = divmod(box, self._in_row)
            self._box(_MARGIN + across * (_BOX + _APART), self.y + down * (_BOX + _APART) + _APART / 3)
        self.y += self._room_to_tick(line)

    @property
    def _in_row(self) -> int:
        """How many boxes stand side by side."""
        return int((self.width - 2 * _MARGIN + _APART) / (_BOX + _APART))

    def _room_to_tick(self, line: TextLine) -> float:
        """What the boxes below a line take, mm."""
        return -(-line.boxes // self._in_row) * (_BOX + _APART)

    def _tall(self, line: TextLine) -> float:
        words, style = self._broken(line, _TYPES[line.kind])
        return _BEFORE[line.kind] + len(words) * leading(style) + self._room_to_tick(line)

    def _broken(self, line: TextLine, style: Type) -> tuple[list[str], Type]:
        room = self.width - 2 * _MARGIN - (_NUMBER if line.kind == STEP else 0.0)
        if len(self.pages) == 1 and self.y < _HEAD + _MAP:
            room -= _MAP + _GAP
        if line.kind == TITLE:
            style, words = fit(line.words, style, room, 10, 3)
            return words, style
        return _filled(line.words, style, room), style

    def _tick(self, number: int) -> None:
        """The box to tick and the number of a step."""
        self._box(_MARGIN, self.y)
        self._words.append(Words(_MARGIN + _NUMBER - 1.8, self.y, str(number), _COUNT, "right"))

    def _box(self, x: float, y: float) -> None:
        """A box on the line of letters at y."""
        corner = np.array([x, y - _BOX + 0.1])
        self._boxes.append(corner + np.array([(0.0, 0.0), (_BOX, 0.0), (_BOX, _BOX), (0.0, _BOX)]))

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
