"""Whole prints keep clear of their own images, and symmetric ones lie on the axes (plane geometry; shapely)."""

import itertools

import pytest
import shapely
from shapely.geometry import MultiPolygon, Polygon

from constraints.stamp import Stamp
from constraints.symmetry import SYMMETRIES
from constraints.targets import images
from explore.search.laying.sectors import AIR, TurnedSector, turned_sectors

SIZES = [3.0, 4.0, 5.0, 6.0, 7.0, 8.0]
REACH = 17.0
EIGHTHS = tuple(45.0 * number for number in range(8))


def flag() -> Stamp:
    """No symmetry at all."""
    return Stamp("flag", MultiPolygon([Polygon([(0, 0), (9, 1), (2, 4), (2, 10), (0, 10)])]))


def arrow() -> Stamp:
    """One mirror axis, upright."""
    return Stamp("arrow", MultiPolygon([Polygon([(0, -5), (4, 1), (1, 1), (1, 6), (-1, 6), (-1, 1), (-4, 1)])]))


def square_print() -> Stamp:
    return Stamp("tile", MultiPolygon([shapely.box(-2, -2, 2, 2)]))


def distinct(shapes: list[MultiPolygon]) -> list[MultiPolygon]:
    kept: list[MultiPolygon] = []
    for shape in shapes:
        if all(shape.intersection(other).area < 0.8 * shape.area for other in kept):
            kept.append(shape)
    return kept


def some_places(way: TurnedSector) -> list[tuple[float, tuple[float, float]]]:
    size = way.largest(SIZES, REACH)
    if not size:
        return []
    centres = way.centres(size, REACH)
    return [(size, tuple(centre)) for centre in centres[:: max(1, len(centres) // 4)]]


@pytest.mark.parametrize("symmetry", SYMMETRIES)
@pytest.mark.parametrize("stamp", [flag(), arrow(), square_print()], ids=lambda stamp: stamp.name)
def test_copies_keep_clear_of_each_other_and_of_the_border(stamp: Stamp, symmetry: str) -> None:
    laid = 0
    for way in turned_sectors(stamp, symmetry):
        found = some_places(way)
        found += [(size, p.centre) for size, centre in found[:1] for p in way.near(size, centre, REACH)]
        for size, centre in found:
            copies = distinct(images(stamp.placed(size, way.turn, centre), symmetry))
            for one, other in itertools.combinations(copies, 2):
                assert one.distance(other) >= 2 * AIR - 1e-6
            assert max(abs(v) for v in shapely.union_all(copies).bounds) <= REACH + 1e-6
            laid += 1
    assert laid > 0


def test_a_print_without_symmetry_never_lies_on_a_mirror_line() -> None:
    assert {way.sector.name for way in turned_sectors(flag(), "full")} == {"eighth"}


def test_a_mirrored_print_may_lie_on_the_axes_either_way_round() -> None:
    turns = {(way.sector.name, way.turn) for way in turned_sectors(arrow(), "full", EIGHTHS) if way.sector.mirrored}
    assert turns == {("side", 270.0), ("side", 90.0), ("corner", 315.0), ("corner", 135.0)}


def test_unless_turns_are_asked_for_a_copy_stands_upright() -> None:
    turns = {(way.sector.name, way.turn) for way in turned_sectors(arrow(), "full") if way.sector.mirrored}
    assert turns == {("side", 270.0), ("side", 90.0)}
    assert {way.turn for way in turned_sectors(arrow(), "none")} == {0.0}


def test_only_a_print_with_the_whole_symmetry_lies_in_the_middle() -> None:
    assert not any(way.sector.centred for way in turned_sectors(arrow(), "full"))
    assert any(way.sector.centred for way in turned_sectors(square_print(), "full"))


def test_near_places_lie_between_the_units_and_on_the_same_axis() -> None:
    corner = next(way for way in turned_sectors(arrow(), "full", EIGHTHS) if way.sector.name == "corner")
    centre = tuple(corner.centres(5.0, REACH)[0])
    near = [place.centre for place in corner.near(5.0, centre, REACH)]
    assert centre in near
    assert all(x == y for x, y in near)
    assert any(x % 1 for x, _ in near)


def test_turns_that_are_asked_for_are_kept_to() -> None:
    assert {way.turn for way in turned_sectors(flag(), "none", (30.0,))} == {30.0}


def test_the_largest_size_fits_and_the_next_does_not() -> None:
    way = turned_sectors(flag(), "none")[0]
    sizes = [float(size) for size in range(1, 60)]
    largest = way.largest(sizes, REACH)
    assert len(way.centres(largest, REACH)) > 0
    assert len(way.centres(largest + 1, REACH)) == 0
