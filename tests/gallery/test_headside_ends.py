"""Fans and scallops where a strip begins and ends: cut, but drawn whole up to the cut."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

sys.path.append(str(Path(__file__).parents[1] / "constraints"))

from strips import SCALLOP_OF_1886, strip

from constraints.edging import Headside
from constraints.forms import Strip
from constraints.outer_side import outer_pins
from gallery.looks.cloth import quarters
from gallery.looks.fans import fan_rings, fan_rows
from gallery.looks.marks import Marks
from gallery.looks.strands import Strands

# Depth 3, period 6: valleys fall on every row of the grid once as `first` goes on.
FAN = Headside("fan", "half", 3, 2, 0)
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


@pytest.mark.parametrize("headside", HEADSIDES)
def test_no_quarter_of_a_headside_is_woven_twice(headside: Headside) -> None:
    marks = marked(headside)
    found = quarters(marks.layout, marks.piece.fan).centre
    assert len(found)
    assert len(np.unique(found, axis=0)) == len(found)
