"""The cover of a booklet: the square as lace, its title and the facts."""

from __future__ import annotations

from matplotlib.figure import Figure
from matplotlib.transforms import Affine2D

from constraints.design import Design
from gallery.looks import lace
from gallery.looks.excerpt import excerpt, shown
from gallery.looks.named import extent
from gallery.paper.page import PAPERS, Type, house_rules, new_page, put_text
from gallery.paper.setting import fit, put_lines
from gallery.sheets.captions import facts, wrapped

_SIDE, _TITLE, _WORDS = 150.0, Type(26, family="serif"), Type(10, colour="#5d626c")
# A strip up to so many times as long as it is wide is shown whole, a longer one so much of it.
_WHOLE, _TALL = 4.5, 2.5
_PARTS = Type(9, colour="#5d626c")


def cover(design: Design, title: str) -> Figure:
    """One page of A4."""
    width, height = PAPERS["a4"]
    left = (width - _SIDE) / 2
    with house_rules():
        figure, axes = new_page(width, height)
        style, lines = fit(title, _TITLE, _SIDE, 14.0, 2)
        put_lines(axes, width / 2, 40.0, lines, style, "center")
        tall = _TALL if shown(design, _WHOLE) else _WHOLE
        drawn, part = excerpt(design, tall), shown(design, tall)
        to_page = Affine2D().scale(_SIDE / 2 / extent(drawn)).translate(width / 2, 62.0 + _SIDE / 2)
        lace.draw(axes, drawn, to_page, None)
        told = wrapped([*facts(design), *([part] if part else [])], _SIDE, _SIDE, _WORDS.width)
        y = put_lines(axes, left, 62.0 + _SIDE + 10.0, told, _WORDS)
        put_text(axes, left, y + 6.0, "In this booklet: materials, pricking, working diagram, order of work", _PARTS)
    return figure
