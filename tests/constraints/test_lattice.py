"""The lattice: diamonds of pinholes that lie wholly on a piece, points in order, places in groups."""

from __future__ import annotations

from itertools import groupby

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some

from constraints.forms import Square
from constraints.lattice import in_order, lattice_squares, places_in_groups


@pytest.mark.parametrize("size", [1, 2, 3, 5, 8, 9])
def test_they_are_all_that_lie_on_a_piece_in_order_of_their_tops(size: int) -> None:
    piece = Square(8).piece("round")
    on_piece = {(x, y) for x in range(-8, 9) for y in range(-8, 9) if (x + y) % 2}
    wanted = []
    for x, y in sorted(on_piece, key=lambda place: (place[1], place[0])):
        diamond = [(x + i - j, y + i + j) for i in range(size) for j in range(size)]
        if on_piece.issuperset(diamond):
            wanted.append(diamond)
    found = [[tuple(piece.pinholes[place]) for place in row] for row in lattice_squares(piece.neighbours, size)]
    assert found == wanted


def test_a_size_far_beyond_the_piece_has_none_and_takes_no_room() -> None:
    assert lattice_squares(Square(6).piece("round").neighbours, 10**5).shape == (0, 10**10)


@given(some.lists(some.integers(0, 5), max_size=8))
def test_members_of_groups_are_counted_from_nought_in_each(count: list[int]) -> None:
    by_hand = [place for members in count for place in range(members)]
    assert places_in_groups(np.array(count, dtype=np.int64)).tolist() == by_hand


def test_points_are_in_order_row_by_row_as_those_of_a_piece() -> None:
    points = [tuple(point) for point in Square(4).piece("round").pinholes.tolist()]
    assert in_order(points[::-1]) == in_order(np.array(points[::-1])) == tuple(points)
    assert [y for y, _ in groupby(points, key=lambda point: point[1])] == list(range(-4, 5))
