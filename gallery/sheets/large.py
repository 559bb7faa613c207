"""One square large, alone on its page: for a wall or a catalogue."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.square import Square
from constraints.working.work import Work
from gallery.looks import played
from gallery.looks.named import LOOKS, extent
from gallery.paper.page import Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil
from gallery.sheets.captions import wrapped

_MARGIN, _BELOW, _DOTS = 8.0, 14.0, 220
_WORDS = Type(8.5, colour="#5d626c")


def large(
    square: Square, look: str, side: float, told: Sequence[str], threads: tuple[Work, Mapping[int, str]] | None = None
) -> Figure:
    """A page with the square in a look. side: of the square, edge pair and all, mm. told: the facts below it.
    threads: how it is worked, and the colours of single threads: then every thread is drawn on its course.

    KeyError if the look is unknown.
    """
    below = _BELOW if told else 0.0
    with house_rules():
        figure, axes = new_page(side + 2 * _MARGIN, side + 2 * _MARGIN + below, _DOTS)
        middle = _MARGIN + side / 2
        to_page = Affine2D().scale(side / 2 / extent(square)).translate(middle, middle)
        if threads is None:
            LOOKS[look](axes, square, to_page, None)
        else:
            played.ink(Pencil(axes, to_page), *threads)
        for number, line in enumerate(wrapped(list(told), side, side, _WORDS.width)):
            put_text(axes, _MARGIN, side + _MARGIN + 7.0 + 4.2 * number, line, _WORDS)
    return figure
