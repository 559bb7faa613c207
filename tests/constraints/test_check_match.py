"""The match of a stamp, recomputed: exact areas against shapely, matches counted by hand."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from designs import HALF, SAME, TURNS, blocks, diamond, diamond_print, made, spread
from hypothesis import given, settings
from hypothesis import strategies as some

from constraints.check import check
from constraints.check.coverage import covered, even_odd, near, printed
from constraints.design import Design, Ring
from constraints.forms import Square, Strip
from constraints.piece import Piece
from constraints.symmetry import SYMMETRIES


def cells(piece: Piece) -> np.ndarray:
    """The diamonds |dx| + |dy| <= 1 round the pinholes, as shapely polygons."""
    around = np.array([(1, 0), (0, 1), (-1, 0), (0, -1)])
    return shapely.polygons(piece.pinholes[:, None, :] + around[None, :, :])


def star(points: int, radius: float, centre: tuple[float, float], skip: int) -> Ring:
    """A star that crosses itself."""
    angle = 2 * np.pi * skip * np.arange(points) / points + 0.1
    x, y = centre[0] + radius * np.cos(angle), centre[1] + radius * np.sin(angle)
    return tuple((float(a), float(b)) for a, b in zip(x, y, strict=True))


def scribbles(seed: int) -> tuple[Ring, ...]:
    """One to three rings of random corners, which cross themselves and each other."""
    random = np.random.default_rng(seed)
    sizes = random.integers(3, 10, random.integers(1, 4))
    return tuple(tuple((x, y) for x, y in random.uniform(-9, 9, (size, 2)).tolist()) for size in sizes)


@settings(max_examples=60, deadline=None)
@given(rings=some.integers(0, 10**6).map(scribbles), symmetry=some.sampled_from(sorted(SYMMETRIES)))
def test_covered_areas_are_those_that_shapely_cuts_out(rings: tuple[Ring, ...], symmetry: str) -> None:
    """Reference: shapely's intersection with each cell, of rings joined by its symmetric difference."""
    piece = Square(6).piece("round")
    area = shapely.Polygon()
    for ring in rings:
        area = area.symmetric_difference(shapely.make_valid(shapely.Polygon(ring)))
    area = shapely.union_all([part for part in shapely.get_parts(area) if part.geom_type == "Polygon"])
    own = even_odd(rings)
    assert own.symmetric_difference(area).area < 1e-6
    whole = printed(rings, symmetry, 10.0)
    expected = shapely.area(shapely.intersection(cells(piece), whole))
    assert np.allclose(covered(whole, piece), expected, atol=1e-9)
    assert np.array_equal(near(whole, piece.pinholes), _distances(whole, piece) <= 2 + 1e-6)


def _distances(area: shapely.Geometry, piece: Piece) -> np.ndarray:
    far = np.full(len(piece), np.inf)
    return far if area.is_empty else shapely.distance(shapely.points(piece.pinholes), area)


@settings(max_examples=40, deadline=None)
@given(rings=some.integers(0, 10**6).map(scribbles), size=some.tuples(some.integers(2, 9), some.integers(1, 6)))
def test_covered_areas_of_a_strip_are_those_that_shapely_cuts_out(
    rings: tuple[Ring, ...], size: tuple[int, int]
) -> None:
    """A strip begins at its corner, not about its middle, so that outlines lie beyond it on every side."""
    piece = Strip(size[0], size[1], 2).piece("across")
    area = even_odd(rings)
    expected = shapely.area(shapely.intersection(cells(piece), area))
    assert np.allclose(covered(area, piece), expected, atol=1e-9)


def test_stars_are_filled_even_odd() -> None:
    """A pentagram's middle is open: area of its five points, (5 / 2) R^2 times a known constant."""
    radius = 4.0
    # With circumradius R the inner pentagon has circumradius R / phi^2; area of a pentagon: 5/2 r^2 sin 72.
    golden = (1 + 5**0.5) / 2
    inner = 2.5 * (radius / golden**2) ** 2 * np.sin(np.radians(72))
    # The whole star is 10 triangles with sides R and r at 36 degrees.
    whole = 5 * radius * (radius / golden**2) * np.sin(np.radians(36))
    area = even_odd((star(5, radius, (0, 0), 2),))
    assert area.area == pytest.approx(whole - inner)
    assert not area.contains(shapely.Point(0, 0))


def test_areas_hold_on_a_piece_of_even_pinholes_too() -> None:
    odd = Square(6).piece("round")
    even = Piece(
        worked="across",
        symmetry="none",
        parity=0,
        pinholes=odd.pinholes + np.array([0, 1]),
        neighbours=odd.neighbours,
        depth=odd.depth,
        zone=odd.zone,
        directions=odd.directions,
        edge=odd.edge,
        edge_next=odd.edge_next,
        free=odd.free,
        fan=odd.fan,
        held=odd.held,
    )
    area = even_odd((star(7, 5.3, (0.4, 0.2), 3),))
    assert np.allclose(covered(area, even), shapely.area(shapely.intersection(cells(even), area)))


@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_a_print_is_spread_by_the_symmetry_and_cut_off_at_the_piece(symmetry: str) -> None:
    ring = star(9, 2.0, (-6.1, 2.3), 1)
    area = printed((ring,), symmetry, 50.0)
    assert area.area == pytest.approx(len(SYMMETRIES[symmetry]) * shapely.Polygon(ring).area)
    cut = printed((ring, star(5, 1e5, (2e5, 0.0), 1)), symmetry, 50.0)
    assert np.abs(cut.bounds).max() <= 50.0


def told(design: Design) -> float:
    """The match that the check finds, from its complaint about one that cannot be."""
    [finding] = check(design)
    assert finding.rule == "match"
    return float(finding.message.split()[4].rstrip(";"))


@pytest.mark.parametrize(
    ("shape", "found"),
    [
        # The print is a diamond of 5 x 5 pinholes. By hand: places in it, of 25 and the places beside it.
        (diamond((-9, -4), 5), 25 / 25),
        (diamond((-9, -2), 3), 9 / 25),
        (diamond((-9, -4), 6), 25 / 36),
        (diamond((-8, -3), 5), 20 / 30),
        (diamond((-9, -8), 3), 1 / 28),
    ],
)
def test_matches_are_those_counted_by_hand(shape: set[tuple[int, int]], found: float) -> None:
    design = made(18, *blocks("cloth", shape), stamp=diamond_print((-9, 0), 5, match=0.0001))
    assert told(design) == pytest.approx(found, abs=1e-4)


@pytest.mark.parametrize("off", [-0.006, -0.0002, 0.0002, 0.006])
def test_a_match_told_wrongly_by_a_little_is_a_fault(off: float) -> None:
    """20 of 30 places, counted by hand above: 0.6667, as a file of four digits has it, and nothing else."""
    shape = blocks("cloth", diamond((-8, -3), 5))
    assert check(made(18, *shape, stamp=diamond_print((-9, 0), 5, match=0.6667))) == []
    wrong = made(18, *shape, stamp=diamond_print((-9, 0), 5, match=0.6667 + off))
    assert told(wrong) == pytest.approx(20 / 30, abs=1e-4)


def test_places_further_than_two_units_from_the_print_do_not_count() -> None:
    apart = diamond((-9, -4), 5) | diamond((-9, 8), 2)
    assert check(made(18, *blocks("cloth", apart), stamp=diamond_print((-9, 0), 5))) == []


def test_a_cell_half_covered_is_part_of_the_target() -> None:
    # Moved by half a step down-right the print covers half of 5 cells on one side and of 5 new ones.
    shape = diamond((-9, -4), 5)
    half = made(18, *blocks("cloth", shape), stamp=diamond_print((-8.5, 0.5), 5, match=0.0001))
    assert told(half) == pytest.approx(25 / 30, abs=1e-4)
    less = made(18, *blocks("cloth", shape), stamp=diamond_print((-8.51, 0.49), 5))
    assert check(less) == []


def test_every_image_of_the_print_counts() -> None:
    shape = spread(diamond((-9, -4), 5), [SAME, HALF])
    stamp = diamond_print((-9, 0), 5)
    assert check(made(18, *blocks("cloth", shape), symmetry="half-turn", stamp=stamp)) == []
    missing = made(18, *blocks("cloth", shape), symmetry="none", stamp=diamond_print((0, -9), 5, match=1.0))
    assert {f.rule for f in check(missing)} == {"match"}
    four = made(18, *blocks("cloth", spread(shape, TURNS)), symmetry="quarter-turn", stamp=stamp)
    assert check(four) == []
