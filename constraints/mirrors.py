"""The mirror on a repeat: corners and turnovers of a strip, and how it lies in a frame made with them.

A frame's side is the strip with its right edge outside. At a corner the strip is reflected at 45 degrees: the corner
line begins at a row of the repeat and runs between the pinholes, and the side goes on from there either down the
repeat or, reversed, up it. In the middle of a side, at the turnover, the strip meets its own reverse. So all four
corners are alike, and both halves of every side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from constraints.edging import Headside
from constraints.forms import Frame, Square, Strip
from constraints.lattice import IntArray, Point
from constraints.layout import Layout, locate
from constraints.piece import LEFT, RIGHT, ROUND
from constraints.scallops import without_own
from constraints.stitches import STITCHES

_NAMES = list(STITCHES)


@dataclass(frozen=True)
class Corner:
    """row: of the repeat, at the outer end of the corner line. up: whether the side goes up the repeat from there."""

    row: int
    up: bool


@dataclass(frozen=True)
class Figure:
    """A unit of a filling. filling, legs: as a square lists it. centre: lattice units."""

    filling: str
    legs: int
    centre: Point


@dataclass(frozen=True, eq=False)
class Draft:
    """A frame as the strip falls on it, or a square as frame and middle do, whether it can be worked or not.

    stitch: (n,) of every place of its piece, as a number in STITCHES, -1 outside blocks. figures: those of the strip,
    cut or not.
    """

    form: Frame | Square
    stitch: IntArray
    figures: tuple[Figure, ...]


def corners(form: Strip) -> list[Corner]:
    """Every corner whose line runs between pinholes; the rows between them have it run through pinholes."""
    rows = [row for row in range(form.rows) if (form.columns - 1 + row) % 2 == 0]
    return [Corner(row, up) for row in rows for up in (False, True)]


def through_pinholes(form: Strip) -> list[int]:
    """The rows at which a corner line would run through pinholes: there a pair must be added and left out."""
    return [row for row in range(form.rows) if (form.columns - 1 + row) % 2 == 1]


def frame_of(form: Strip, corner: Corner, turnovers: tuple[int, int], repeats: tuple[int, int]) -> Frame | None:
    """The frame with a turnover, and so many whole repeats from corner to turnover, across and down.

    None if a fan of the headside would not be whole there, or the sides are too short for the band.
    """
    width, height = (
        to_turnover(form, corner, row) + form.rows * count for row, count in zip(turnovers, repeats, strict=True)
    )
    band = form.columns - 1
    if min(width, height) <= band:
        return None
    headside = form.headside
    if headside is not None:
        t = _to_first_valley(headside, corner)
        whole = all((row - headside.first) % headside.depth == 0 for row in turnovers)
        if t is None or form.both or 2 * t + 1 >= band or not whole:
            return None
        headside = replace(headside, first=t)
    return Frame(width, height, band, headside)


def to_turnover(form: Strip, corner: Corner, row: int) -> int:
    """Rows from a corner to the first turnover at a row of the repeat."""
    return (corner.row - row if corner.up else row - corner.row) % form.rows


def _to_first_valley(headside: Headside, corner: Corner) -> int | None:
    """t, where the valley next to a corner stands 2t + 1 units from it; None if none does."""
    way = corner.row - headside.first if corner.up else headside.first - corner.row
    # Without a corner fan the fans beside the corner would meet.
    return None if way % 2 == 0 else (way - 1) // 2 % headside.depth or headside.depth


def laid(repeat: Layout, frame: Frame, corner: Corner) -> Draft:
    """The strip laid round a frame. repeat: one repeat on the piece that meets itself."""
    form = repeat.square.form
    assert isinstance(form, Strip)
    piece = frame.piece(ROUND, "none")
    beyond = np.array([frame.half_width, frame.half_height]) - np.abs(piece.pinholes)
    sideways = np.isin(piece.zone, (LEFT, RIGHT))
    across = np.where(sideways, beyond[:, 0], beyond[:, 1])
    along = np.where(sideways, beyond[:, 1], beyond[:, 0])
    rows = corner.row - along if corner.up else corner.row + along
    here = locate(repeat.piece, np.stack([form.columns - 1 - across, rows], axis=1))
    stitch = repeat.stitch[here]
    if frame.headside is not None:
        strip_fan = repeat.piece.fan[here]
        stitch = np.where(strip_fan, -1, stitch)
        if frame.headside.solid:
            stitch[piece.fan] = _NAMES.index(frame.headside.stitch)
    figures = tuple(dict.fromkeys(_figures(repeat, form, frame, corner)))
    return Draft(frame, stitch, figures)


def _figures(repeat: Layout, form: Strip, frame: Frame, corner: Corner) -> Iterator[Figure]:
    """Every figure in every half of every side whose centre lies on that side of the corner line, or on the line."""
    for each in without_own(repeat.square.fillings, repeat.piece):
        for x, row in each.places:
            across = form.columns - 1 - x
            first = (corner.row - row if corner.up else row - corner.row) % form.rows
            for half, other, level in (
                (frame.half_height, frame.half_width, False),
                (frame.half_width, frame.half_height, True),
            ):
                for along in range(first, half + 1, form.rows):
                    if along < across:
                        continue
                    for sign_across in (-1, 1):
                        for sign_along in (-1, 1):
                            away, on = sign_across * (other - across), sign_along * (half - along)
                            yield Figure(each.filling, each.legs, (on, away) if level else (away, on))
