"""Outlines: few vertices, valid, and safe to turn."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from reading_prints import agreement, glyph
from shapely.geometry import MultiPolygon, Point, Polygon, box

from explore.reading.outline import (
    LONGEST_OUTLINE,
    MOST_VERTICES,
    StampError,
    large_parts,
    longer_side,
    polygons,
    rounded,
    simplified,
)


@pytest.mark.parametrize("letter", "g8%&@")
def test_a_shape_is_simplified_to_a_four_hundredth_of_its_size(letter: str) -> None:
    fine = shapely.segmentize(glyph(letter), 0.5)
    plain, said = simplified(fine)
    assert shapely.get_num_coordinates(plain) <= MOST_VERTICES < shapely.get_num_coordinates(fine)
    assert shapely.hausdorff_distance(plain, fine) <= longer_side(fine) / 400 * 1.01
    assert said == []


def test_a_shape_of_too_many_details_keeps_the_largest() -> None:
    dots = [Point(x, y).buffer(1 + (x == y)) for x in range(0, 100, 5) for y in range(0, 100, 5)]
    plain, said = simplified(MultiPolygon(dots))
    assert shapely.get_num_coordinates(plain) <= MOST_VERTICES
    assert said == [f"the {400 - len(plain.geoms)} smallest details were left out"]
    # The twenty larger dots lie on the diagonal; all of them are kept.
    assert sum(part.area > 6 for part in plain.geoms) == 20


def band(windings: int) -> Polygon:
    """A band as wide as the gaps between its windings."""
    angle = np.linspace(0, 2 * np.pi * windings, 60 * windings)
    along = np.stack((np.cos(angle), np.sin(angle)), axis=1)
    return Polygon([*(along * (angle + 8)[:, None]), *(along * (angle + 5)[:, None])[::-1]])


def test_a_long_outline_is_read_and_an_endless_one_refused() -> None:
    plain, _ = simplified(band(20))
    assert MOST_VERTICES < shapely.get_num_coordinates(plain) <= LONGEST_OUTLINE
    with pytest.raises(StampError, match=f"corners even without its small bends, at most {LONGEST_OUTLINE} are read"):
        simplified(band(80))


def test_dust_is_dropped_without_a_word() -> None:
    plain, said = simplified(MultiPolygon([box(0, 0, 100, 100), box(150, 0, 150.1, 0.1)]))
    assert (len(plain.geoms), said) == (1, [])


def test_rounded_shapes_have_no_vertex_twice() -> None:
    # Two squares that touch in a point, and a hole that touches the outside.
    touching = MultiPolygon(
        [
            Polygon([(0, 0), (50, 0), (50, 50), (0, 50)], [[(0, 0), (20, 10), (10, 20)]]),
            box(50, 50, 90, 90),
        ]
    )
    plain = rounded(touching)
    corners = np.concatenate([ring for part in plain.geoms for ring in _corners(part)])
    assert len(np.unique(corners, axis=0)) == len(corners)
    assert plain.is_valid
    assert agreement(plain, touching) > 0.99


def _corners(part: Polygon) -> list[np.ndarray]:
    return [np.array(ring.coords[:-1]) for ring in (part.exterior, *part.interiors)]


def test_large_parts_leave_out_specks_far_away() -> None:
    parts = [box(0, 0, 10, 10), box(500, 500, 501, 501), box(20, 0, 25, 10)]
    assert large_parts(parts) == [parts[0], parts[2]]
    assert large_parts([]) == []


def test_polygons_are_found_in_any_geometry() -> None:
    bow_tie = Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    mixed = shapely.GeometryCollection([bow_tie, Point(3, 3)])
    assert sum(part.area for part in polygons(mixed)) == pytest.approx(50)
    assert all(part.is_valid for part in polygons(mixed))
