"""Broken ink is joined; what was carved stays open."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from reading_prints import agreement, counts, smooth_noise
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from explore.reading.mending import mended
from explore.reading.scan import traced

PAGE = 600
BLOCK = box(50, 50, 550, 550)


def printed(shape: shapely.Geometry, missing: float, seed: int) -> MultiPolygon:
    """The traced outlines of a print of which a share of the ink is missing in ragged patches."""
    rng = np.random.default_rng(seed)
    down, across = np.mgrid[0:PAGE, 0:PAGE] + 0.5
    ink = 1.0 * shapely.contains_xy(shape, across, down)
    patches = smooth_noise(rng, PAGE, 3) + 0.7 * smooth_noise(rng, PAGE, 40)
    return traced(ink * (patches <= np.quantile(patches, 1 - missing)))


def spiral(turns: float, inner: float, outer: float) -> LineString:
    angle = np.linspace(0, 2 * np.pi * turns, 200)
    radius = np.linspace(inner, outer, 200)
    return LineString(np.column_stack([300 + radius * np.cos(angle), 300 + radius * np.sin(angle)]))


@pytest.mark.parametrize("seed", range(4))
def test_ragged_patches_are_joined(seed: int) -> None:
    whole = mended(printed(BLOCK, 0.05, seed), 500)
    large_holes = [hole for part in whole.geoms for hole in part.interiors if Polygon(hole).area > 250]
    assert agreement(whole, BLOCK) > 0.98
    assert len(whole.geoms) == 1
    assert large_holes == []


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize(
    "cut",
    [
        LineString([(300, 150), (300, 600)]).buffer(5),  # a slit of a fiftieth of the print, open at the end
        LineString([(120, 480), (480, 120)]).buffer(8),  # a slanting one, closed
        spiral(2, 40, 160).buffer(9),  # a spiral groove
        Point(300, 300).buffer(90).boundary.buffer(6),  # a ring
    ],
    ids=["slit", "slant", "spiral", "ring"],
)
def test_carved_cuts_stay_open_in_broken_ink(cut: Polygon, seed: int) -> None:
    whole = mended(printed(BLOCK.difference(cut), 0.03, seed), 500)
    open_share = cut.intersection(BLOCK).difference(whole).area / cut.intersection(BLOCK).area
    assert open_share > 0.8
    assert agreement(whole, BLOCK.difference(cut)) > 0.96


def test_round_windows_and_narrow_corners_stay() -> None:
    windows = [Point(x, 300).buffer(14) for x in range(120, 500, 90)]
    wedge = Polygon([(300, 50), (340, 50), (320, 250)])
    carved = BLOCK.difference(shapely.union_all([*windows, wedge]))
    whole = mended(MultiPolygon([carved]), 500)
    assert counts(whole) == counts(MultiPolygon([carved]))
    assert agreement(whole, carved) > 0.99


def test_bumps_are_taken_off_and_points_stay_pointed() -> None:
    leaf = Polygon([(50, 300), (300, 200), (550, 300), (300, 400)])
    speck = Point(176, 248).buffer(3)
    whole = mended(MultiPolygon([leaf.union(speck)]), 500)
    assert agreement(whole, leaf) > 0.995
    assert whole.bounds[2] > 545
