"""Fillings that meet in one field: one kind stays, and the symmetry."""

from __future__ import annotations

import numpy as np

from constraints.agreeing import agreed
from constraints.forms import Square
from constraints.square import FieldFilling

ROSES = FieldFilling("rose ground", ((-2, -5), (2, -5)))
SPIDER = FieldFilling("spider", ((0, 5),), 8)



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
    stray = FieldFilling("rose ground", (*ROSES.places, (0, -1)))
    assert agreed(piece, np.zeros(len(piece), dtype=np.bool_), (stray,)) == (ROSES,)


def test_what_stays_has_the_symmetry_of_the_piece() -> None:
    """Two roses that a mirror takes to each other and that do not line up cannot both stay, so that neither does."""
    piece = Square(12).piece("round", "upright-mirror")
    apart = FieldFilling("rose ground", ((-3, -6), (3, -6)))
    assert len({((x + y) // 2 % 2, (y - x) // 2 % 2) for x, y in apart.places}) == 2
    assert agreed(piece, np.zeros(len(piece), dtype=np.bool_), (apart,)) == ()
