"""The halves of a print, told from letters of a font that are their own mirror images but for the wobble of ink."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from reading_prints import glyph
from shapely.geometry import MultiPolygon, Point

from explore.reading.halves import evened
from explore.reading.outline import longer_side, polygons
from explore.reading.upright import mirror_match

# Left and right, or top and bottom, are mirror images in these letters of DejaVu Sans.
UPRIGHT, LEVEL, NEITHER = "AMTVWYvw8", "D", "FGJLNPQRSZabdefghjkpqrsty24579&%?"


def wobbled(letter: str, share: float, seed: int = 1) -> MultiPolygon:
    """The letter with ink run out and ink missing along its outline, in drops of that share of its longer side."""
    shape, rng = glyph(letter), np.random.default_rng(seed)
    for more in (True, False) * 12:
        ring = shape.boundary
        drop = Point(ring.interpolate(rng.uniform(0, ring.length))).buffer(share / 2 * longer_side(shape))
        shape = MultiPolygon(polygons(shape.union(drop) if more else shape.difference(drop)))
    return shape


def common(one: MultiPolygon, other: MultiPolygon) -> float:
    return float(one.intersection(other).area / one.union(other).area)


@pytest.mark.parametrize("letter", UPRIGHT + LEVEL)
def test_halves_that_only_the_ink_made_differ_become_alike(letter: str) -> None:
    print_ = wobbled(letter, 0.02)
    even, changed = evened(print_)
    assert changed
    axis = 90.0 if letter in LEVEL else 0.0
    assert mirror_match(print_, axis) < 0.995
    assert mirror_match(even, axis) == pytest.approx(1.0, abs=1e-6)
    assert common(even, glyph(letter)) > 0.9


@pytest.mark.parametrize("letter", NEITHER)
def test_other_letters_stay_as_they_are(letter: str) -> None:
    shape = wobbled(letter, 0.02)
    assert evened(shape) == (shape, False)


@pytest.mark.parametrize("letter", "AMT")
def test_a_part_that_she_drew_on_one_side_alone_stays(letter: str) -> None:
    shape = glyph(letter)
    size = longer_side(shape)
    left, _, _, bottom = shape.bounds
    foot = MultiPolygon(polygons(shapely.union_all([shape, Point(left, bottom - size / 20).buffer(size / 20)])))
    assert evened(foot) == (foot, False)


def test_what_is_its_own_mirror_image_already_is_not_said_to_change() -> None:
    shape = MultiPolygon([shapely.box(0, 0, 4, 3), shapely.box(1, 5, 3, 6)])
    assert evened(shape) == (shape, False)
