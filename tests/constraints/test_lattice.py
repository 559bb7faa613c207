"""Lattice squares: the diamonds of pinholes that lie wholly on a piece."""

from __future__ import annotations

import pytest

from constraints.forms import Square
from constraints.lattice import lattice_squares


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
