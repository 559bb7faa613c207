"""What an eye notices of a print: cells half covered say nothing, what stands out says most."""

import numpy as np
import pytest
from shapely.geometry import MultiPolygon, Polygon, box

from constraints.forms import Square
from constraints.lattice import IntArray
from constraints.piece import ROUND
from constraints.ruleset import Rules
from constraints.targets import target
from explore.search.laying.noticed import FULL, noticed
from explore.search.laying.simplified import simplified

PIECE = Square(20).piece(ROUND)


def worth_of(shape: Polygon, reverse: bool = False) -> IntArray:
    printed = MultiPolygon([shape])
    return noticed(PIECE, target(PIECE, printed, reverse), simplified(printed, Rules()))


def at(worth: IntArray, x: int, y: int) -> int:
    return int(worth[PIECE.index[x, y]])


def test_cells_deep_inside_count_in_full_and_those_far_off_nothing() -> None:
    worth = worth_of(box(-12.0, -12.0, 12.0, 12.0))
    assert at(worth, 0, 1) == pytest.approx(FULL, abs=1)
    assert at(worth, 0, 17) == 0


def test_a_cell_that_is_half_covered_costs_and_gains_little() -> None:
    worth = worth_of(box(-12.0, -12.0, 12.0, 12.0))
    assert abs(at(worth, 12, 1)) < FULL / 10
    assert at(worth, 11, 0) > FULL / 2 > -FULL / 2 > at(worth, 13, 0)


def test_a_limb_counts_more_than_a_body_and_a_gap_more_than_the_ground_about() -> None:
    """A limb three lines wide beside a body of 24, and the same as a gap."""
    limb = worth_of(Polygon([(-12, 0), (12, 0), (12, 12), (-12, 12), (-12, 0)]).union(box(-1.5, -12, 1.5, 0)))
    assert at(limb, 0, -7) > 1.2 * at(limb, 0, 5) > 0
    gap = worth_of(box(-12, -12, 12, 12).difference(box(-1.5, -12.5, 1.5, 4)))
    beside = worth_of(box(-12, -12, 12, 12))
    assert at(gap, 0, -7) < 1.1 * at(beside, 14, 1) < 0


def test_a_corner_counts_more_than_a_side() -> None:
    worth = worth_of(box(-12, -12, 12, 12))
    assert at(worth, 11, 10) > at(worth, 11, 0)


def test_left_open_the_same_cells_count_the_other_way() -> None:
    shape = box(-8.0, -8.0, 8.0, 8.0)
    aim = target(PIECE, MultiPolygon([shape]))
    touched = aim.touched(len(PIECE))
    solid, left_open = worth_of(shape), worth_of(shape, reverse=True)
    assert (solid[touched] == -left_open[touched]).all()
    assert (left_open[~touched] < 0).all()


def test_thin_inner_lines_are_not_asked_for() -> None:
    """A line one pitch wide asks for no ground, one of three pitches does."""
    thin = worth_of(box(-12, -12, 12, 12).difference(box(-6, -1, 6, 1)))
    wide = worth_of(box(-12, -12, 12, 12).difference(box(-6, -3, 6, 3)))
    assert (thin == worth_of(box(-12, -12, 12, 12))).all()
    assert at(wide, 0, 1) < 0


def test_worth_is_the_same_for_all_images_under_a_symmetry() -> None:
    piece = Square(16).piece(ROUND, "full")
    printed = MultiPolygon([Polygon([(3.1, -2.2), (12.3, -1.0), (8.0, 4.7)])])
    worth = noticed(piece, target(piece, printed), simplified(printed, Rules()))
    for image in piece.images:
        assert (worth[image] == worth).all()
    assert np.ptp(worth) > FULL
