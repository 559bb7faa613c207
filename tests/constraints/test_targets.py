"""The pinholes a stamp asks for are those whose cells the check finds covered, ties included."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPolygon, Polygon, box

from constraints import piece as pieces
from constraints.check import coverage
from constraints.forms import Square
from constraints.stamp import outlines, shape_of
from constraints.symmetry import SYMMETRIES
from constraints.targets import Target, target

HALF_SIZE = 8
Ring = list[tuple[float, float]]


def asked(target: Target, size: int) -> tuple[set[int], set[int]]:
    assert not set(target.inside.tolist()) & set(target.near.tolist())
    assert len(target.inside) + len(target.near) <= size
    return set(target.inside.tolist()), set(target.near.tolist())


def by_the_check(piece: pieces.Piece, rings: tuple[Ring, ...]) -> tuple[set[int], set[int]]:
    area = coverage.printed(tuple(tuple(ring) for ring in rings), piece.symmetry, HALF_SIZE + 4.0)
    inside = coverage.covered(area, piece) >= 1 - coverage.SLACK
    close = coverage.near(area, piece.pinholes)
    return set(np.flatnonzero(inside).tolist()), set(np.flatnonzero(close & ~inside).tolist())


def agree(rings: tuple[Ring, ...], symmetry: str, worked: str = "round") -> tuple[set[int], set[int]]:
    piece = Square(HALF_SIZE).piece(worked, symmetry)
    found = asked(target(piece, shape_of(tuple(tuple(ring) for ring in rings))), len(piece))
    assert found == by_the_check(piece, rings)
    return found


whole = st.integers(-7, 7).map(float)
halves = st.integers(-14, 14).map(lambda n: n / 2)
thousandths = st.integers(-7000, 7000).map(lambda n: n / 1000)


def rings(numbers: st.SearchStrategy[float]) -> st.SearchStrategy[Ring]:
    return st.lists(st.tuples(numbers, numbers), min_size=3, max_size=7, unique=True)


def usable(ring: Ring) -> bool:
    """A ring round some area that runs along no line twice, as outlines of prints do."""
    edges = [LineString(pair) for pair in zip(ring, ring[1:] + ring[:1], strict=True)]
    once = shapely.union_all(edges).length
    return not shape_of((tuple(ring),)).is_empty and once == pytest.approx(sum(edge.length for edge in edges))


@given(
    st.sampled_from((whole, halves, thousandths)).flatmap(
        lambda numbers: st.lists(rings(numbers), min_size=1, max_size=2)
    ),
    st.sampled_from(sorted(SYMMETRIES)),
)
@example([[(0.0, -2.0), (4.0, 2.0), (-4.5, 0.0)]], "diagonal-mirror")  # a cell that the outline only touches
@settings(max_examples=120, deadline=None)
def test_random_outlines_ask_for_what_the_check_finds_covered(each: list[Ring], symmetry: str) -> None:
    """Whole and half coordinates cover many cells by exactly a half; rings may cross themselves."""
    kept = tuple(ring for ring in each if usable(ring))
    assume(not shape_of(tuple(map(tuple, kept))).is_empty)
    agree(kept, symmetry)


def spiral(vertices: int, windings: float) -> Ring:
    """One long ring that winds inwards, to thousandths: its two sides half a unit apart or more."""

    def side(start: float) -> Ring:
        along = np.linspace(0, 1, vertices // 2)
        angle, reach = 2 * np.pi * windings * along, start - (start - 1) * along
        places = np.stack((np.cos(angle), np.sin(angle)), axis=1) * reach[:, None]
        return [(float(x), float(y)) for x, y in places.round(3)]

    return side(7.4) + side(6.6)[::-1]


@pytest.mark.parametrize("symmetry", ["none", "half-turn", "full"])
@pytest.mark.parametrize("worked", ["round", "across"])
def test_a_long_outline_asks_for_what_the_check_finds_covered(symmetry: str, worked: str) -> None:
    if (symmetry, worked) != ("full", "across"):
        agree((spiral(600, 4),), symmetry, worked)


def test_a_long_outline_is_not_walked_once_for_every_cell(monkeypatch: pytest.MonkeyPatch) -> None:
    """Vertices that overlays of cells meet, counted: whole, an outline of 1600 is walked for each of its 200 cells."""
    ring = spiral(1600, 4)
    walked = 0
    plainly = shapely.intersection

    def counted(cells: np.ndarray, shape: shapely.Geometry, **how: float) -> object:
        nonlocal walked
        walked += int(np.size(cells)) * int(shapely.get_num_coordinates(shape))
        return plainly(cells, shape, **how)

    monkeypatch.setattr(shapely, "intersection", counted)
    target(Square(HALF_SIZE).piece("round"), shape_of((tuple(ring),)))
    assert 0 < walked < 20 * len(ring)


@given(st.integers(-5, 5), st.integers(1, 6), st.sampled_from(sorted(SYMMETRIES)))
@settings(max_examples=60, deadline=None)
def test_upright_boxes_cover_half_of_every_cell_their_sides_run_through(left: int, width: int, symmetry: str) -> None:
    """A side along x = whole number halves the cells of the pinholes on it: a tie, which counts as covered."""
    ring = [(left, -3.0), (left + width, -3.0), (left + width, 3.0), (left, 3.0)]
    inside, _ = agree(([(float(x), y) for x, y in ring],), symmetry)
    piece = Square(HALF_SIZE).piece("round", symmetry)
    x, y = piece.pinholes.T
    corner = ((x == left) | (x == left + width)) & (np.abs(y) == 3)
    own = (x >= left) & (x <= left + width) & (np.abs(y) <= 3) & ~corner  # a corner covers a quarter
    assert set(np.flatnonzero(own).tolist()) <= inside
    if symmetry == "none":
        assert set(np.flatnonzero(own).tolist()) == inside


@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_halves_on_a_mirror_or_corner_line_are_the_same_on_either_side(symmetry: str) -> None:
    """A print that ends on an axis or corner line, so that images meet there cell by cell."""
    for ring in (
        [(0.0, -5.0), (4.0, -5.0), (4.0, -1.0), (0.0, -1.0)],
        [(1.0, 1.0), (5.0, 5.0), (5.0, 1.0)],
        [(1.0, -1.0), (5.0, -5.0), (5.0, -1.0)],
        [(0.0, 0.0), (3.3, 3.3), (0.0, 6.6), (-3.3, 3.3)],
    ):
        inside, near = agree((ring,), symmetry)
        piece = Square(HALF_SIZE).piece("round", symmetry)
        for image in piece.images:
            assert set(image[sorted(inside)].tolist()) == inside
            assert set(image[sorted(near)].tolist()) == near


def test_near_is_within_two_units_of_the_outline() -> None:
    # Round the square from -1 to 1: pinholes at 2 units straight off are near, those at (3, 2) are further.
    piece = Square(HALF_SIZE).piece("round")
    aim = target(piece, MultiPolygon([box(-1, -1, 1, 1)]))
    x, y = piece.pinholes.T
    far = np.hypot(np.maximum(np.abs(x) - 1, 0), np.maximum(np.abs(y) - 1, 0))
    inside = np.abs(x) + np.abs(y) == 1
    assert set(aim.inside.tolist()) == set(np.flatnonzero(inside).tolist())
    assert set(aim.near.tolist()) == set(np.flatnonzero((far <= 2) & ~inside).tolist())


def test_a_gap_in_the_print_is_near_and_not_inside() -> None:
    ring = Polygon([(-6, -6), (6, -6), (6, 6), (-6, 6)], [[(-3, -3), (3, -3), (3, 3), (-3, 3)]])
    inside, near = agree(tuple(map(list, outlines(MultiPolygon([ring])))), "full")
    middle = Square(HALF_SIZE).piece("round").index[0, 1]
    assert middle in near
    assert middle not in inside


def test_the_match_counts_target_places_shown_and_strays_nearby() -> None:
    piece = Square(HALF_SIZE).piece("round")
    shape = MultiPolygon([Polygon([(-4, 0), (0, 4), (4, 0), (0, -4)])])
    area = coverage.printed(outlines(shape), "none", HALF_SIZE + 4.0)
    inside = coverage.covered(area, piece) >= 1 - coverage.SLACK
    close = coverage.near(area, piece.pinholes)
    random = np.random.default_rng(3)
    for share in (0.1, 0.5, 0.9):
        block = random.random(len(piece)) < share
        assert target(piece, shape).match(block) == coverage_match(inside, close, block)
        assert target(piece, shape, True).match(block) == coverage_match(inside, close, ~block)
    assert shapely.area(shape) == 32.0


def coverage_match(inside: np.ndarray, close: np.ndarray, shown: np.ndarray) -> float:
    """match = |target and block| / |target or (block and near)|"""
    return float((inside & shown).sum() / (inside | (shown & close)).sum())
