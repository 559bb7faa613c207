"""Counts that mathematics knows: shapes of one-worker blocks, and two-coloured patterns up to symmetry.

The terms of the integer sequences are quoted from the OEIS beside each test.
"""

from __future__ import annotations

from itertools import product
from math import comb

import networkx
import numpy as np
import pytest
from every import Every

from constraints import rulebook
from constraints import symmetry as symmetries
from constraints.brief import Brief
from constraints.forms import Square
from constraints.lattice import IntArray
from constraints.restricting import restrict
from constraints.variables import Model

# --- one-worker blocks -----------------------------------------------------------------------------------

HALF_SIZE = 14
LOOSE = Brief.of(stitches=("cloth",), narrowest=1, narrowest_ground=1, margin=1, solid=(0.0, 1.0))


@pytest.fixture(scope="module", params=["round", "across"])
def model(request: pytest.FixtureRequest) -> Model:
    return rulebook.build(Square(HALF_SIZE).piece(request.param), LOOSE.rules)


def shapes(model: Model, right: int, left: int) -> int:
    """How many single blocks fill a box of right x left pinholes (counted down-right and down-left) side to side.

    All solutions of the model with everything outside the box open; the box lies in the left quarter.
    """
    x, y = -8 - (right - left) // 2, -((right + left) // 2)
    y += (x + y + 1) % 2
    places = np.array([[model.piece.index[x + i - j, y + i + j] for j in range(left)] for i in range(right)])
    assert len(np.unique(model.piece.zone[places])) == 1
    free = np.zeros(model.formula.size, dtype=bool)
    free[model.block[places]] = True
    nothing = model.formula.complete(np.zeros(model.formula.size, dtype=bool))
    small, kept = restrict(model.formula, nothing, free)
    new = {old: number for number, old in enumerate(kept.tolist())}
    literals = np.array([new[old] for old in model.block[places].ravel().tolist()])
    found = Every(small).ways(literals).reshape(-1, right, left)
    return sum(_from_side_to_side(shape) and _in_one_piece(shape) for shape in found)


def _from_side_to_side(shape: np.ndarray) -> bool:
    return all(edge.any() for edge in (shape[0], shape[-1], shape[:, 0], shape[:, -1]))


def _in_one_piece(shape: np.ndarray) -> bool:
    grid = networkx.grid_2d_graph(*shape.shape)
    return networkx.is_connected(grid.subgraph(map(tuple, np.argwhere(shape).tolist())))


# Rows of A001263: parallelogram polyominoes in boxes of n + 1 - k by k; the sums are A000108 for n = 1 to 6.
NARAYANA = [[1], [1, 1], [1, 3, 1], [1, 6, 6, 1], [1, 10, 20, 10, 1], [1, 15, 50, 50, 15, 1]]
CATALAN = [1, 2, 5, 14, 42, 132]


@pytest.mark.parametrize("n", range(1, 7))
def test_blocks_that_take_so_many_pairs_are_counted_by_narayana_and_catalan(model: Model, n: int) -> None:
    """A block takes one pair for each pinhole along both diagonals: n + 1 pairs in all."""
    row = [shapes(model, n + 1 - k, k) for k in range(1, n + 1)]
    assert row == NARAYANA[n - 1]
    assert sum(row) == CATALAN[n - 1]


def test_the_rows_quoted_are_those_of_the_formula_of_narayana() -> None:
    for n, row in enumerate(NARAYANA, 1):
        assert row == [comb(n, k) * comb(n, k - 1) // n for k in range(1, n + 1)]


# --- two-coloured patterns -------------------------------------------------------------------------------


def box(n: int) -> IntArray:
    """n x n points with their centre at the origin, two units apart so that even n fits the lattice too."""
    line = np.arange(n) * 2 - (n - 1)
    return np.array([(x, y) for x in line for y in line]).reshape(-1, 2)


def diamond(n: int) -> IntArray:
    """The points with |u| + |v| <= n."""
    span = range(-n, n + 1)
    return np.array([(u, v) for u in span for v in span if abs(u) + abs(v) <= n])


def fixed(points: IntArray, symmetry: str) -> int:
    """Two-colourings that a symmetry leaves as they are: one free choice for every orbit."""
    if not len(points):
        return 1
    orbit, representatives = symmetries.orbits(symmetries.images(points, symmetry))
    assert len(representatives) == orbit.max() + 1
    return int(2 ** len(representatives))


def up_to_turns(points: IntArray) -> int:
    """Burnside: the mean over the four turns. A turn and its opposite have the same orbits."""
    total = fixed(points, "none") + fixed(points, "half-turn") + 2 * fixed(points, "quarter-turn")
    return total // 4


def up_to_all(points: IntArray) -> int:
    """Burnside: the mean over the eight turns and reflections."""
    mirrors = 2 * fixed(points, "upright-mirror") + 2 * fixed(points, "diagonal-mirror")
    return (4 * up_to_turns(points) + mirrors) // 8


def test_square_boards_up_to_turns_and_reflections() -> None:
    assert [up_to_all(box(n)) for n in range(6)] == [1, 2, 6, 102, 8548, 4211744]  # A054247


def test_square_boards_up_to_turns() -> None:
    assert [up_to_turns(box(n)) for n in range(5)] == [1, 2, 6, 140, 16456]  # A047937


def test_diamonds_up_to_turns_and_reflections() -> None:
    assert [up_to_all(diamond(n)) for n in range(4)] == [2, 12, 1236, 4215840]  # A372198


def test_pinholes_of_a_square_up_to_turns_and_reflections_by_looking_at_all() -> None:
    """Every colouring of the 4 and the 12 pinholes of the two smallest squares, brought to one form."""
    for half_size in (1, 2):
        points = Square(half_size).piece("round").pinholes
        eight = symmetries.images(points, "full")
        forms = set()
        for colours in product((0, 1), repeat=len(points)):
            forms.add(min(tuple(np.array(colours)[image].tolist()) for image in eight))
        assert up_to_all(points) == len(forms)


@pytest.mark.parametrize("symmetry", symmetries.SYMMETRIES)
def test_orbits_are_as_many_as_the_mean_of_fixed_points(symmetry: str) -> None:
    """Burnside again, for every group and for pinholes and holes alike."""
    for half_size in (1, 2, 3, 6, 9):
        piece = Square(half_size).piece("across", symmetry)
        for points, orbits in (
            (piece.pinholes, len(piece.representatives)),
            (piece.hole_centres, len(np.unique(symmetries.orbits(piece.hole_images)[0]))),
        ):
            matrices = symmetries.matrices(symmetry)
            kept = sum(int((points @ matrix.T == points).all(axis=1).sum()) for matrix in matrices)
            assert orbits * len(matrices) == kept


def test_every_orbit_lies_within_one_of_the_full_symmetry() -> None:
    for half_size in (2, 5):
        full = Square(half_size).piece("round", "full").orbit
        for symmetry in symmetries.SYMMETRIES:
            own = Square(half_size).piece("round", symmetry).orbit
            together = {tuple(pair) for pair in np.stack([own, full], axis=1).tolist()}
            assert len(together) == own.max() + 1
