"""Headsides and blocks where a strip begins and ends: cut, but drawn whole up to the cut."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from designs import diamond, spiders
from strips import SCALLOP_OF_1886, strip

from constraints.edgings import Fan, Headside
from constraints.edgings.outer_side import outer_pins
from constraints.forms import Strip
from gallery.looks.cloth import quarters
from gallery.looks.fans import end_halves, fan_rings, fan_rows
from gallery.looks.marks import Marks
from gallery.looks.strands import Strands

# Depth 3, period 6: valleys fall on every row of the grid once as `first` goes on.
FAN = Fan("half", 3, 2, 0)
HEADSIDES = [SCALLOP_OF_1886, *(replace(FAN, first=first) for first in (0, 2, 4))]


def marked(headside: Headside, repeats: int = 3) -> Marks:
    columns = 9 if headside is not SCALLOP_OF_1886 else 5
    return Marks(strip(Strip(columns, 6, repeats, headside), passives=1))


@pytest.mark.parametrize("headside", HEADSIDES)
def test_every_row_of_a_headside_is_worked_within_its_area_also_where_the_strip_cuts_it(headside: Headside) -> None:
    marks = marked(headside)
    every = marks.piece.fan
    rings = fan_rings(marks, every)
    area = shapely.union_all([shapely.Polygon(ring) for ring in rings])
    ways = shapely.linestrings(fan_rows(marks, every))
    outside = [way for way in ways.tolist() if not area.buffer(1e-6).covers(way)]
    assert not outside
    assert area.buffer(1e-6).covers(shapely.multipoints(outer_pins(marks.piece)))


def test_the_scallop_of_a_strip_has_no_notches() -> None:
    # By hand: three lines across, one unit beyond the grid, so a row of the scallop is 2 wide at a valley pin, and by
    # one wider with every row for three rows; two rows that follow are a trapezium of height 1.
    (ring,) = fan_rings(marked(SCALLOP_OF_1886), marked(SCALLOP_OF_1886).piece.fan)
    rows = sorted({float(y) for y in ring[:, 1]})
    assert (rows[0], rows[-1]) == (0.0, 17.0)
    ways = fan_rows(marked(SCALLOP_OF_1886), marked(SCALLOP_OF_1886).piece.fan)
    level = {float(y): abs(float(a - b)) for (a, y), (b, below) in ways.tolist() if y == below}
    assert set(level) == set(map(float, range(18)))
    expected = sum((level[y] + level[y + 1]) / 2 for y in map(float, range(17)))
    assert shapely.Polygon(ring).area == pytest.approx(expected)


@pytest.mark.parametrize("headside", HEADSIDES)
def test_no_pair_hangs_out_of_the_outer_side_but_at_the_end_of_a_strip(headside: Headside) -> None:
    marks = marked(headside)
    edge = marks.piece.pinholes[:, 0].max()
    last = marks.piece.pinholes[:, 1].max()
    hanging = Strands(marks).loose().curves
    beside = hanging[np.abs(hanging[:, :, 0].mean(axis=1) - edge) < 1]
    rows = beside[:, :, 1].mean(axis=1)
    assert ((rows < 1.5) | (rows > last - 1.5)).all()


def test_a_block_that_the_ends_cut_is_closed_along_the_first_and_the_last_row() -> None:
    # By hand: a diamond of 3 places a side, its widest row (columns 4, 6, 8) the last of the strip, the row below
    # that (columns 5, 7) the first one.
    places = {(x, (y - 4) % 12) for x, y in diamond((6, 1), 3)}
    marks = Marks(strip(Strip(13, 12, 2), ("cloth", places), passives=1))
    own = marks.layout.inside
    halves = {tuple(map(tuple, half)) for half in end_halves(marks.piece, own).astype(int).tolist()}
    assert halves == {((5, 0), (6, 1), (7, 0)), ((4, 23), (5, 22), (6, 23)), ((6, 23), (7, 22), (8, 23))}
    woven = {(x, y) for x, y in quarters(marks.layout, own).centre.tolist()}
    assert {(6.0, 0.5), (5.5, 0.0), (5.0, 22.5), (7.0, 22.5)} <= woven


def test_no_thread_hangs_at_a_spider_that_the_end_cuts() -> None:
    # Its upper pinhole, column 5, is in the first row; its legs go to the pins round it.
    marks = Marks(strip(Strip(13, 12, 2), spiders({(5, 1)}, 8), passives=1))
    assert marks.bare_places[marks.piece.index[5, 0]]
    hanging = Strands(marks).loose().curves
    at = marks.piece.pinholes[marks.bare_places]
    near = np.abs(hanging.mean(axis=1)[:, None] - at).max(axis=2).min(axis=1)
    assert (near > 0.5).all()


@pytest.mark.parametrize("headside", HEADSIDES)
def test_no_quarter_of_a_headside_is_woven_twice(headside: Headside) -> None:
    marks = marked(headside)
    found = quarters(marks.layout, marks.piece.fan).centre
    assert len(found)
    assert len(np.unique(found, axis=0)) == len(found)
