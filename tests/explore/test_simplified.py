"""What of a print is asked for at its size, and what of it is lost: shapes whose lines and limbs are known.

The narrowest ground of two lines of pinholes is two square roots of two units wide, 1.41 pitches.
"""

import numpy as np
import pytest
import shapely
from shapely.geometry import MultiPolygon, Point, Polygon, box

from constraints.forms import Square
from constraints.piece import ROUND
from constraints.ruleset import Rules
from explore.search.laying.simplified import lost, simplified, whereabouts

RULES = Rules()
BODY = box(-12, -12, 12, 12)


def print_of(shape: shapely.Geometry) -> MultiPolygon:
    return MultiPolygon([shape]) if isinstance(shape, Polygon) else shape


@pytest.mark.parametrize(("width", "stays"), [(1.0, False), (2.7, False), (3.0, True)])
def test_an_inner_line_is_left_out_whole_until_ground_has_room_in_it(width: float, stays: bool) -> None:
    line = box(-5, -width / 2, 5, width / 2)
    plain = simplified(print_of(BODY.difference(line)), RULES)
    assert plain.kept.area == pytest.approx(BODY.area - (line.area if stays else 0), abs=1e-6)
    assert sum(part.area for part in plain.closed) == pytest.approx(0 if stays else line.area, abs=1e-6)


def test_wider_ground_asks_for_wider_lines() -> None:
    carved = print_of(BODY.difference(box(-5, -1.5, 5, 1.5)))
    assert not simplified(carved, RULES).closed
    assert simplified(carved, Rules(narrowest_ground=3)).closed


def test_lines_that_are_the_pattern_of_a_print_stay() -> None:
    """A ring of ground that takes a good part of the print is no mark in it."""
    ring = Point(0, 0).buffer(8).difference(Point(0, 0).buffer(6))
    carved = BODY.difference(ring)
    assert simplified(print_of(carved), RULES).kept.area == pytest.approx(carved.area)


@pytest.mark.parametrize(("width", "stays"), [(0.8, False), (2.0, True)])
def test_a_gap_between_two_legs_stays_unless_widening_it_takes_more_than_it_shows(width: float, stays: bool) -> None:
    legs = print_of(BODY.difference(box(-width / 2, 0, width / 2, 13)))
    plain = simplified(legs, RULES)
    assert bool(plain.closed) is not stays
    middle = Point(0, 6)
    assert plain.kept.contains(middle) is not stays


def test_what_no_block_shows_is_lost_and_told_where() -> None:
    shaft = box(-0.4, 4, 0.4, 18)
    umbrella = print_of(shapely.union_all([box(-10, -8, 10, 4), shaft]))
    piece = Square(24).piece(ROUND)
    blocks = piece.pinholes[(np.abs(piece.pinholes - (0, -2)) <= (10, 6)).all(axis=1)]
    parts = lost(umbrella, blocks)
    assert len(parts) == 1
    assert parts[0].intersection(shaft).area > 0.8 * shaft.area
    assert whereabouts(parts[0], umbrella) == "at the bottom"
    handle = piece.pinholes[(np.abs(piece.pinholes[:, 0]) <= 1) & (np.abs(piece.pinholes[:, 1] - 10) <= 8)]
    assert lost(umbrella, np.concatenate([blocks, handle])) == ()


@pytest.mark.parametrize(
    ("spot", "words"), [((-9, -9), "at the top left"), ((0, 0), "in the middle"), ((9, 1), "at the right")]
)
def test_whereabouts_are_thirds_of_the_print(spot: tuple[float, float], words: str) -> None:
    assert whereabouts(Point(spot).buffer(1), print_of(BODY)) == words
