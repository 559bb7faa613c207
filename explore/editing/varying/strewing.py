"""Motifs laid wherever the square has room for them: those that were taken out, and small diamonds and bars."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints.lattice import IntArray
from constraints.layout import components, locate
from explore.search.compose import parts
from explore.search.compose.canvas import Canvas
from explore.search.compose.ornaments import Proportions, lay_each
from explore.search.compose.parts import Random

# Places tried for one motif.
_PLACES = 40


def moved(canvas: Canvas, out: Sequence[IntArray], manner: Proportions, rng: Random) -> bool:
    """Lay a block that was taken out in another place, with its images."""
    if not out:
        return False
    places = out[int(rng.integers(len(out)))]
    chosen = np.zeros(len(canvas.block), dtype=np.bool_)
    chosen[places] = True
    numbers = components(canvas.piece.neighbours, np.where(chosen, 0, -1))
    one = canvas.piece.unfolded(np.flatnonzero(numbers == int(rng.choice(np.unique(numbers[chosen])))))
    for spot in _spots(canvas, rng):
        # Both ends are pinholes, so that the shape comes to lie on pinholes again.
        found = locate(canvas.piece, one + canvas.piece.pinholes[spot] - one[len(one) // 2])
        shape = np.zeros(len(canvas.block), dtype=np.bool_)
        shape[found[found >= 0]] = True
        if (found >= 0).all() and lay_each(canvas, "moved motif", shape, manner):
            return True
    return False


def strewn(canvas: Canvas, manner: Proportions, rng: Random) -> bool:
    """Lay a diamond, or now and then a bar, of a size that suits the square, with its images."""
    least = canvas.model.rules.narrowest
    size = max(least, manner.size + int(rng.integers(-1, 2)))
    other = size if rng.random() < 0.7 else size + int(rng.integers(1, 4))
    falling, rising = (size, other) if rng.random() < 0.5 else (other, size)
    for spot in _spots(canvas, rng):
        x, y = canvas.piece.pinholes[spot].tolist()
        beside = 1 - canvas.piece.parity
        centre = parts.centre_for(falling, rising, x + beside, y)
        places = parts.bar_places(canvas.piece, (centre[0] - beside, centre[1]), falling, rising)
        if places is None:
            continue
        shape = np.zeros(len(canvas.block), dtype=np.bool_)
        shape[places] = True
        if lay_each(canvas, "motif", shape, manner):
            return True
    return False


def _spots(canvas: Canvas, rng: Random) -> list[int]:
    """Some open pinholes in a random order, those far from all blocks first."""
    room = canvas.clearance()
    free = np.flatnonzero(room > 1)
    spots = rng.permutation(free)[: 2 * _PLACES]
    return [int(spot) for spot in spots[np.argsort(-room[spots], kind="stable")][:_PLACES]]
