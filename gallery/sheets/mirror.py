"""Corners and turnovers of a strip side by side, each with its mirror line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.transforms import Affine2D

from constraints.design import Design
from constraints.forms import Form
from constraints.lattice import FloatArray
from gallery.looks.bent import middle
from gallery.looks.named import LOOKS
from gallery.paper import paths
from gallery.paper.page import Type, house_rules, new_page, put_text
from gallery.paper.paths import Pencil

_WIDTH, _HEIGHT, _MARGIN, _DOTS = 210.0, 297.0, 10.0, 150
_CELL, _GAP, _WORDS, _HEAD = 44.0, 4.0, 12.0, 14.0
_TITLE, _BOLD, _SMALL = Type(14, family="serif"), Type(8, bold=True), Type(8, colour="#5d626c")
MIRROR = "#c2571a"
# Units of the frame seen beyond its band.
_BEYOND = 6.0


@dataclass(frozen=True)
class MirrorPanel:
    """One of the offers. frame: that shows it. corner: whether it is a corner, else a turnover."""

    name: str
    told: str
    frame: Design
    corner: bool


def sheet(title: str, pieces: Sequence[MirrorPanel]) -> list[Figure]:
    """The pages of the sheet."""
    columns = int((_WIDTH - 2 * _MARGIN + _GAP) // (_CELL + _GAP))
    lines = int((_HEIGHT - 2 * _MARGIN - _HEAD) // (_CELL + _WORDS))
    pages = []
    with house_rules():
        for start in range(0, len(pieces), columns * lines):
            own = pieces[start : start + columns * lines]
            rows = -(-len(own) // columns)
            figure, axes = new_page(_WIDTH, 2 * _MARGIN + _HEAD + rows * (_CELL + _WORDS), _DOTS)
            put_text(axes, _MARGIN, _MARGIN + 6.0, title, _TITLE)
            for place, piece in enumerate(own):
                x = _MARGIN + place % columns * (_CELL + _GAP)
                y = _MARGIN + _HEAD + place // columns * (_CELL + _WORDS)
                _draw(axes, piece, x, y)
                put_text(axes, x, y + _CELL + 4.0, piece.name, _BOLD)
                put_text(axes, x, y + _CELL + 8.0, piece.told, _SMALL)
            pages.append(figure)
    return pages


def window(form: Form, corner: bool) -> tuple[float, float, float]:
    """What of a frame is seen, the bottom left corner or the middle of its left side: left, top and side of a square,
    lattice units."""
    outer_left, _, _, outer_bottom = form.box
    side = form.deep + 2 * _BEYOND
    return outer_left - _BEYOND, outer_bottom + _BEYOND - side if corner else -side / 2, side


def mirror_line(form: Form, corner: bool) -> FloatArray:
    """(2, 2) the ends of the mirror across it."""
    outer_left, _, _, outer_bottom = form.box
    if corner:
        outer, away = np.array([outer_left, outer_bottom], dtype=np.float64), np.array([-1.0, 1.0])
        return np.stack([outer + _BEYOND * away, outer - (form.deep + _BEYOND) * away])
    left, _, side = window(form, corner)
    return np.array([[left, 0.0], [left + side, 0.0]])


def _draw(axes: Axes, piece: MirrorPanel, x: float, y: float) -> None:
    """The part of a frame that shows an offer, in a cell of the page."""
    form = piece.frame.form
    left, top, side = window(form, piece.corner)
    scale = _CELL / side
    to_page = Affine2D().translate(*(middle(piece.frame) - (left, top))).scale(scale).translate(x, y)
    before = set(axes.get_children())
    LOOKS["drawing"](axes, piece.frame, to_page, True)
    pencil = Pencil(axes, Affine2D().translate(-left, -top).scale(scale).translate(x, y))
    pencil.stroke(paths.lines(mirror_line(form, piece.corner)[None]), 0.25, MIRROR)
    cell = Rectangle((x, y), _CELL, _CELL, transform=axes.transData)
    for artist in axes.get_children():
        if artist not in before:
            artist.set_clip_path(cell)
