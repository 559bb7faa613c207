"""Setting words of any length in a given room: smaller type first, then several lines, at last shortened."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from functools import partial

from matplotlib.axes import Axes

from gallery.paper.page import MM_PER_POINT, Type, put_text

# From one line to the next, as a multiple of the size of the type.
LEADING = 1.28


def leading(style: Type) -> float:
    """From one baseline to the next, mm."""
    return LEADING * style.size * MM_PER_POINT


def fit(words: str, style: Type, room: float, smallest: float, lines: int = 1) -> tuple[Type, list[str]]:
    """The words in lines no wider than `room` mm, in the largest type from the style's size down to `smallest`
    points that takes no more than so many lines; in the smallest type words too long for a line are broken, and what
    then is left over is cut off with an ellipsis."""
    words = " ".join(words.split())
    size = style.size
    while True:
        sized = replace(style, size=size)
        broken = broken_lines(words, sized, room)
        if len(broken) <= lines and all(sized.width(line) <= room for line in broken):
            return sized, broken
        if size <= smallest:
            # Better broken within a word than cut.
            broken = paragraph(words, sized, room)
            if len(broken) <= lines:
                return sized, broken
            return sized, [*broken[: lines - 1], sized.fitted(" ".join(broken[lines - 1 :]), room)]
        size = max(smallest, size - 0.5)


def broken_lines(words: str, style: Type, room: float) -> list[str]:
    """The words broken between words into lines no wider than `room` mm; a longer word stands alone."""
    return _lines_of(words.split(), style, room)


def paragraph(words: str, style: Type, room: float) -> list[str]:
    """The words broken into lines no wider than `room` mm, a word that is longer than a line where the line is full."""
    return _lines_of([piece for word in words.split() for piece in _pieces(word, style, room)], style, room)


def _lines_of(words: list[str], style: Type, room: float) -> list[str]:
    lines: list[str] = []
    for word in words:
        if lines and style.width(f"{lines[-1]} {word}") <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines or [""]


def _pieces(word: str, style: Type, room: float) -> list[str]:
    """A word in pieces no wider than `room` mm; a letter is never broken."""
    pieces: list[str] = []
    while style.width(word) > room and len(word) > 1:
        most = bisect_right(range(1, len(word)), room, key=partial(_width_of, style, word))
        pieces.append(word[: max(1, most)])
        word = word[max(1, most) :]
    return [*pieces, word]


def _width_of(style: Type, word: str, letters: int) -> float:
    return style.width(word[:letters])


def put_lines(axes: Axes, x: float, y: float, lines: list[str], style: Type, align: str = "left") -> float:
    """Write lines below each other, the first baseline at y; the baseline after the last."""
    for line in lines:
        put_text(axes, x, y, line, style, align)
        y += leading(style)
    return y
