"""What stands beside a drawing at true size: title, facts, measures to check the print by. Knows nothing of lace."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gallery.paper.layers import Layer, Lines, Mark, Words, gathered, moved
from gallery.paper.page import Type
from gallery.paper.paths import lines, rings

# How far all keeps from the border of the paper, mm.
MARGIN = 7.0
# The strip at the foot of a page without the title block, with a bar of its own.
STRIP = 11.0
HEAD, FACT, SMALL = Type(14, family="serif"), Type(8), Type(7, colour="#4a4f58")
_LINE = 4.3
BAR, SIDE = 100.0, 50.0
MEASURE = "Measure the bar (100 mm) and the square (50 mm) before pricking."
PRINT = "Print at 100 % (actual size), not fitted to the page."


@dataclass(frozen=True)
class Inset:
    """Layers with their own corner at (0, 0), and the room they take, mm."""

    layers: tuple[Layer, ...]
    width: float
    height: float


@dataclass(frozen=True)
class TitleText:
    """What the title block says. title: one line; facts: lines."""

    title: str
    facts: tuple[str, ...]


def measures() -> tuple[Inset, Inset]:
    """The bar of 100 mm with a tick every 10 mm, and the square of 50 mm."""
    ticks = [[[x, -1.5 if x % 50 == 0 else -0.9], [x, 0.0]] for x in np.arange(0.0, BAR + 1, 10.0).tolist()]
    bar = Layer("measures", (Lines(lines(np.array([[[0.0, 0.0], [BAR, 0.0]], *ticks])), 0.2, butt=True),))
    corners = np.array([[0.0, 0.0], [SIDE, 0.0], [SIDE, SIDE], [0.0, SIDE]])
    label = Words(SIDE / 2, SIDE / 2, "50 mm", SMALL, "center")
    square = (Layer("measures", (Lines(rings([corners]), 0.2),)), Layer("text", (label,)))
    return Inset((bar,), BAR, 0.0), Inset(square, SIDE, SIDE)


def title_block(said: TitleText, wide: bool, room: float) -> Inset:
    """Title, facts and measures, side by side (wide) or one below the other. room: mm across."""
    bar, square = measures()
    left = SIDE + 6.0 if wide else 0.0
    rest = room - left
    marks: list[Mark] = [Words(left, 4.6, HEAD.fitted(said.title, rest), HEAD)]
    layers = [*moved(bar.layers, left, 10.5)]
    y = 14.5
    for words, style in [
        *((each, SMALL) for each in _set([MEASURE, PRINT], rest, SMALL)),
        *((each, FACT) for each in _set(said.facts, rest, FACT)),
    ]:
        marks.append(Words(left, y, words, style))
        y += _LINE
    layers += moved(square.layers, 0.1, 0.1 if wide else y)
    layers.append(Layer("text", tuple(marks)))
    high = max(y, SIDE + 0.2) if wide else y + SIDE + 0.2
    return Inset(gathered(layers), max(room if wide else 0.0, left + BAR), high)


def _set(told: Sequence[str], room: float, style: Type) -> list[str]:
    """Words in lines of at most `room` mm."""
    found = []
    for each in told:
        line = ""
        for word in each.split():
            longer = f"{line} {word}".strip()
            if line and style.width(longer) > room:
                found.append(line)
                line = word
            else:
                line = longer
        found.append(line)
    return found


def foot(width: float, height: float, words: str) -> tuple[Layer, ...]:
    """The strip at the foot of a page: what page it is, and a bar."""
    bar, _ = measures()
    y = height - MARGIN - 4.0
    room = width - 2 * MARGIN - BAR - 4.0
    label = Layer("text", (
        Words(MARGIN, y, SMALL.fitted(words, room), SMALL),
        Words(width - MARGIN, y + 3.4, "100 mm", SMALL, "right"),
    ))  # fmt: skip
    return gathered([*moved(bar.layers, width - MARGIN - BAR, y), label])
