"""How much of a print's limbs and gaps blocks show."""

import numpy as np
import pytest
import shapely
from shapely.geometry import MultiPolygon

from explore.search.laying.detail import shown_detail


def test_detail_is_whole_when_limbs_are_filled_and_gaps_open() -> None:
    comb = shapely.union_all([shapely.box(0, 0, 40, 20), *(shapely.box(x, 20, x + 4, 34) for x in (0, 12, 24, 36))])
    shape = MultiPolygon([comb])
    span = np.arange(-1, 45)
    x, y = (axis.ravel() for axis in np.meshgrid(span, span))
    grid = np.stack([x, y], axis=1)[(x + y) % 2 != 0]
    inked = grid[shapely.contains_xy(shape, *grid.T.astype(float))]
    body_only = inked[inked[:, 1] < 20]
    assert shown_detail(shape, inked) > 0.65
    assert shown_detail(shape, body_only) < shown_detail(shape, inked) - 0.2
    assert shown_detail(shape, inked, reverse=True) == pytest.approx(1 - shown_detail(shape, inked))
