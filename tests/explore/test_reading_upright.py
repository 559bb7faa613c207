"""The tilt of a print, told from letters of a font that are their own mirror images, and from others."""

from __future__ import annotations

import pytest
import shapely.affinity
from reading_prints import glyph
from shapely.geometry import MultiPolygon, Point, Polygon, box

from explore.reading.upright import lean, mirror_match

# Left and right, or top and bottom, are mirror images in these letters of DejaVu Sans.
UPRIGHT, LEVEL, NEITHER = "AMTVWYvw8", "ED", "FGJLNPQRSZabdefghjkpqrsty24579&%?"


@pytest.mark.parametrize("degrees", [-11.0, -4.3, 1.7, 7.0])
@pytest.mark.parametrize("letter", UPRIGHT)
def test_the_lean_of_a_symmetric_letter_is_found(letter: str, degrees: float) -> None:
    # y down: shapely's positive angles turn clockwise on the page.
    leaning = shapely.affinity.rotate(glyph(letter), degrees)
    assert lean(leaning) == pytest.approx(degrees, abs=0.6)


@pytest.mark.parametrize("degrees", [-8.0, 4.0])
@pytest.mark.parametrize("letter", LEVEL)
def test_the_lean_of_a_letter_with_a_level_axis_is_found(letter: str, degrees: float) -> None:
    assert lean(shapely.affinity.rotate(glyph(letter), degrees)) == pytest.approx(degrees, abs=0.6)


@pytest.mark.parametrize("letter", UPRIGHT + LEVEL + NEITHER + "BC3XOx0IHio")
def test_no_lean_is_invented_for_an_upright_letter(letter: str) -> None:
    assert lean(glyph(letter)) == 0


@pytest.mark.parametrize("letter", NEITHER)
def test_letters_without_a_mirror_axis_are_left_as_they_lean(letter: str) -> None:
    assert lean(shapely.affinity.rotate(glyph(letter), 5)) == 0


@pytest.mark.parametrize("degrees", [-45, -30, 30, 45, 60])
def test_a_shape_meant_to_lie_aslant_is_left_alone(degrees: float) -> None:
    leaf = Point(0, 0).buffer(100).intersection(Point(0, 150).buffer(100))
    assert lean(MultiPolygon([shapely.affinity.rotate(leaf, degrees)])) == 0


def test_a_disc_does_not_lean() -> None:
    assert lean(MultiPolygon([Point(3, 4).buffer(50)])) == 0


def test_a_flower_of_eight_petals_leans_to_its_nearest_axis() -> None:
    petal = Polygon([(0, -20), (14, -60), (0, -100), (-14, -60)])
    flower = shapely.union_all([shapely.affinity.rotate(petal, 45 * i, origin=(0, 0)) for i in range(8)])
    assert lean(MultiPolygon([*shapely.affinity.rotate(flower, 6).geoms])) == pytest.approx(6, abs=0.2)


def test_mirror_match_is_the_common_over_the_joint_area() -> None:
    # A square with a bar on one side only: 100 in common, 20 on each side alone.
    shape = MultiPolygon([box(0, 0, 10, 10)])
    assert mirror_match(shape, 0) == pytest.approx(1)
    assert mirror_match(shape, 45) == pytest.approx(1)
    # A square turned by 45 degrees over itself: a regular octagon, 2 (sqrt(2) - 1) of its area.
    octagon = 2 * (2**0.5 - 1)
    assert mirror_match(shape, 22.5) == pytest.approx(octagon / (2 - octagon))
