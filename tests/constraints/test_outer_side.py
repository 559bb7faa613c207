"""The outer side of headsides, as it is pricked.

Its curve is by eye, as prickings look (common practice, no source).
"""

from __future__ import annotations

import numpy as np
import pytest

from constraints.edgings import Fan
from constraints.edgings.headside import offsets
from constraints.edgings.outer_side import curved, outer_pins
from constraints.forms import Square


@pytest.mark.parametrize("depth", [2, 3, 4, 5])
@pytest.mark.parametrize("half_size", [17, 18])
def test_a_corner_fan_is_one_round_bow_steepest_at_its_valleys(half_size: int, depth: int) -> None:
    for first in offsets(half_size, depth):
        piece = Square(half_size, Fan("cloth", depth, 2, first)).piece("round", "none")
        rim = np.concatenate([outer_pins(piece), piece.pinholes[piece.edge >= 0].astype(np.float64)])
        # From the middle of the square that its last valleys span, at the top left.
        radius = 2 * first + 1
        own = rim[(rim <= radius - half_size).all(axis=1)]
        out = half_size - radius + curved(piece, own)
        angle, far = np.arctan2(-out[:, 1], -out[:, 0]), np.hypot(*out.T)
        angle, far = angle[np.argsort(angle)], far[np.argsort(angle)]
        slope = np.diff(far) / np.diff(angle)
        assert (np.diff(slope) < 0).all()
        # Its ends stay in the valleys, its middle stands out by half its depth or, of a small fan, half its side.
        assert far[[0, -1]] == pytest.approx(radius)
        assert far.max() == pytest.approx(radius + min(depth, radius) / 2, abs=0.1)
