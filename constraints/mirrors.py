"""The mirror on a repeat: corners and turnovers of a strip, and how it lies in a frame made with them.

A frame's side is the strip with its right edge outside. At a corner the strip is reflected at 45 degrees: the corner
line begins at a row of the repeat and runs between the pinholes, and the side goes on from there either down the
repeat or, reversed, up it. In the middle of a side, at the turnover, the strip meets its own reverse. So all four
corners are alike, and both halves of every side.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from constraints.edgings import Headside
from constraints.forms import Form, Frame, Strip
from constraints.lattice import IntArray, Point, in_order
from constraints.layout import Layout, locate
from constraints.piece import LEFT_QUARTER, RIGHT_QUARTER, ROUND
from constraints.places import KIND_NUMBERS, PLAIN, map_without_headside
from constraints.stitches import STITCHES


@dataclass(frozen=True)
class Corner:
    """row: of the repeat, at the outer end of the corner line. up: whether the side goes up the repeat from there."""

    row: int
    up: bool


@dataclass(frozen=True, eq=False)
class FrameDraft:
    """A frame as the strip falls on it, or a square as frame and middle do, whether it can be worked or not.

    places: (n, 3) how every place of its piece is worked, as `map_places` tells it; among them what a mirror leaves of
    figures that it cuts. eyes: the pinholes that are eyes there.
    """

    form: Form
    places: IntArray
    eyes: tuple[Point, ...]

    @property
    def stitch(self) -> IntArray:
        """(n,) of every place, as a number in STITCHES, -1 outside blocks."""
        own = self.places[:, 0]
        return np.where(own < len(STITCHES), own, -1)


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
    along = corner.row - headside.first if corner.up else headside.first - corner.row
    # Without a corner fan the fans beside the corner would meet.
    return None if along % 2 == 0 else (along - 1) // 2 % headside.depth or headside.depth


def laid(repeat: Layout, frame: Frame, corner: Corner) -> FrameDraft:
    """The strip laid round a frame. repeat: one repeat on the piece that meets itself."""
    form = repeat.design.form
    piece = frame.piece(ROUND, "none")
    x, y = piece.pinholes.T
    sideways = np.isin(piece.zone, (LEFT_QUARTER, RIGHT_QUARTER))
    beside, below = frame.half_width - np.abs(x), frame.half_height - np.abs(y)
    across, along = np.where(sideways, beside, below), np.where(sideways, below, beside)
    rows = corner.row - along if corner.up else corner.row + along
    here = locate(repeat.piece, np.stack([form.width - across, rows], axis=1))
    found = map_without_headside(repeat)
    found[repeat.piece.fan, 0] = PLAIN
    found = found[here]
    eyes = repeat.eyes[here]
    # Outwards in the strip is outwards in the frame, down the strip is towards the turnover or away from it.
    _, outwards, down = found.T
    back = down if corner.up else -down
    to_right = np.where(sideways, outwards, back) * np.where(x < 0, -1, 1)
    to_bottom = np.where(sideways, back, outwards) * np.where(y < 0, -1, 1)
    found = np.stack([found[:, 0], to_right, to_bottom], axis=1)
    if frame.headside is not None and frame.headside.solid:
        found[piece.fan] = (KIND_NUMBERS[frame.headside.stitch], 0, 0)
    return FrameDraft(frame, found, in_order(piece.pinholes[eyes]))
