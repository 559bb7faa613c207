"""A long outline takes more work at every place: fewer places are tried in the same effort, on every machine alike."""

from __future__ import annotations

import shapely
from shapely.geometry import Point

from constraints.brief import Brief
from constraints.square_sizes import sizes
from constraints.stamp import Stamp
from explore.reading.outline import MOST_VERTICES
from explore.search.squares.placing import Placing


def places_for(vertices: int) -> int:
    """How many places are tried for a disc whose outline has so many vertices."""
    disc = Point(0, 0).buffer(10, quad_segs=vertices // 4)
    shape = shapely.MultiPolygon([disc])
    brief = Brief.of(stamp="disc", half_size=(16, 16), pairs=22)
    return len(Placing(brief, Stamp("disc", shape, (), 0.0), sizes(brief)[0]).places)


def test_the_longer_an_outline_the_fewer_places_are_tried() -> None:
    usual = places_for(MOST_VERTICES // 2)
    assert places_for(MOST_VERTICES) == usual
    assert usual / 3 < places_for(2 * MOST_VERTICES) < usual * 2 / 3
    assert usual / 6 < places_for(4 * MOST_VERTICES) < usual / 3
