"""One square large, alone on its page: for a wall or a catalogue."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.design import Design
from constraints.working.work import Work
from gallery.looks import played
from gallery.looks.named import LOOKS, extent, proportions
from gallery.paper.page import Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil
from gallery.sheets.captions import wrapped

_MARGIN, _BELOW, _DOTS = 8.0, 14.0, 220
# Where the first line of words stands below the picture, and the next ones; a page with words is at least so wide, mm.
_FIRST, _LINE, _WORDY = 7.0, 4.2, 80.0
_WORDS = Type(8.5, colour="#5d626c")


def large(
    design: Design, look: str, side: float, told: Sequence[str], threads: tuple[Work, Mapping[int, str]] | None = None
) -> Figure:
    """A page with the square in a look, of the shape of the piece. side: the longer one, edge pair and all, mm. told:
    the facts below it. threads: how it is worked, and the colours of single threads: then every thread is drawn on its
    course.

    KeyError if the look is unknown.
    """
    wide, high = (side * share for share in proportions(design))
    if told:
        wide = max(wide, min(side, _WORDY))
    lines = wrapped(list(told), wide, wide, _WORDS.width) if told else []
    below = max(_BELOW, _FIRST + _LINE * len(lines)) if told else 0.0
    with house_rules():
        figure, axes = new_page(wide + 2 * _MARGIN, high + 2 * _MARGIN + below, _DOTS)
        to_page = Affine2D().scale(side / 2 / extent(design)).translate(_MARGIN + wide / 2, _MARGIN + high / 2)
        if threads is None:
            LOOKS[look](axes, design, to_page, None)
        else:
            played.ink(Pencil(axes, to_page), *threads)
        for number, line in enumerate(lines):
            put_text(axes, _MARGIN, high + _MARGIN + _FIRST + _LINE * number, line, _WORDS)
    return figure
