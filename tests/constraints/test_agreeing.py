"""Fillings that meet in one field: one kind stays, and the symmetry."""

from __future__ import annotations

import numpy as np

from constraints.agreeing import agreed
from constraints.design import FieldFilling
from constraints.forms import Square, Strip

ROSES = FieldFilling("rose", ((-2, -5), (2, -5)))
SPIDER = FieldFilling("spider-8", ((0, 5),))


def test_of_two_fillings_in_one_field_the_more_frequent_stays() -> None:
    piece = Square(12).piece("round", "none")
    nothing = np.zeros(len(piece), dtype=np.bool_)
    assert agreed(piece, nothing, (ROSES, SPIDER)) == (ROSES,)
    # Unless the other was there before.
    assert agreed(piece, nothing, (SPIDER,), (ROSES,)) == (SPIDER,)


def test_in_fields_apart_both_stay() -> None:
    piece = Square(12).piece("round", "none")
    across = np.abs(piece.pinholes[:, 1]) <= 1
    assert agreed(piece, across, (ROSES, SPIDER)) == (ROSES, SPIDER)


def test_roses_of_one_field_line_up_afterwards() -> None:
    """Every second hole along both diagonals: those that stand between them go."""
    piece = Square(12).piece("round", "none")
    stray = FieldFilling("rose", (*ROSES.places, (0, -1)))
    assert agreed(piece, np.zeros(len(piece), dtype=np.bool_), (stray,)) == (ROSES,)


def test_what_stays_has_the_symmetry_of_the_piece() -> None:
    """Two roses that a mirror takes to each other and that do not line up cannot both stay, so that neither does."""
    piece = Square(12).piece("round", "upright-mirror")
    apart = FieldFilling("rose", ((-3, -6), (3, -6)))
    assert len({((x + y) // 2 % 2, (y - x) // 2 % 2) for x, y in apart.places}) == 2
    assert agreed(piece, np.zeros(len(piece), dtype=np.bool_), (apart,)) == ()


def test_roses_in_line_over_the_seam_of_a_repeat_all_stay() -> None:
    """Ten rows are five holes along either diagonal: over the seam an even hole is in line with an odd one."""
    piece = Strip(13, 10, 2).repeat()
    over_the_strip = piece.pinholes[:, 1] == 5
    roses = FieldFilling("rose", ((6, 2), (6, 8)))
    assert agreed(piece, over_the_strip, (roses,)) == (roses,)
    stray = FieldFilling("rose", ((6, 2), (6, 8), (4, 8)))
    assert agreed(piece, over_the_strip, (stray,)) == (roses,)
    # Without the wall each would stand beside itself, a repeat further on, out of line.
    assert agreed(piece, over_the_strip & False, (roses,)) == ()


def test_of_roses_that_are_as_many_the_same_stay_in_every_image_of_a_field() -> None:
    """A mirror takes one diagonal to the other, so that numbers along them name other roses on the other side."""
    piece = Square(12).piece("round", "upright-mirror")
    wall = np.abs(piece.pinholes[:, 0]) <= 1
    both = FieldFilling("rose", ((-7, 1), (7, 1), (-7, 7), (7, 7)))
    assert agreed(piece, wall, (both,)) == (FieldFilling("rose", ((-7, 1), (7, 1))),)
