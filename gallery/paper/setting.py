"""Setting words of any length in a given room: smaller type first, then several lines, at last shortened."""

from __future__ import annotations

from dataclasses import replace

from matplotlib.axes import Axes

from gallery.paper.page import MM_PER_POINT, Type, put_text

# From one line to the next, as a multiple of the size of the type.
LEADING = 1.28


def leading(style: Type) -> float:
    """From one baseline to the next, mm."""
    return LEADING * style.size * MM_PER_POINT


def fit(words: str, style: Type, room: float, smallest: float, lines: int = 1) -> tuple[Type, list[str]]:
    """The words in lines no wider than `room` mm, in the largest type from the style's size down to `smallest`
    points that takes no more than so many lines; in the smallest type the rest is cut off with an ellipsis."""
    words = " ".join(words.split())
    size = style.size
    while True:
        sized = replace(style, size=size)
        broken = broken_lines(words, sized, room)
        if len(broken) <= lines and all(sized.width(line) <= room for line in broken):
            return sized, broken
        if size <= smallest:
            kept = [sized.fitted(line, room) for line in broken[: lines - 1]]
            return sized, [*kept, sized.fitted(" ".join(broken[lines - 1 :]), room)]
        size = max(smallest, size - 0.5)


def broken_lines(words: str, style: Type, room: float) -> list[str]:
    """The words broken between words into lines no wider than `room` mm; a longer word stands alone."""
    lines: list[str] = []
    for word in words.split():
        if lines and style.width(f"{lines[-1]} {word}") <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines or [""]


def paragraph(words: str, style: Type, room: float) -> list[str]:
    """The words broken into lines no wider than `room` mm, a word that is longer than a line shortened."""
    return [style.fitted(line, room) for line in broken_lines(words, style, room)]


def put_lines(axes: Axes, x: float, y: float, lines: list[str], style: Type, align: str = "left") -> float:
    """Write lines below each other, the first baseline at y; the baseline after the last."""
    for line in lines:
        put_text(axes, x, y, line, style, align)
        y += leading(style)
    return y
