"""Diamonds in the bays that other parts leave."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints.lattice import BoolArray, IntArray, lattice_squares
from constraints.layout import locate
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random

# How often a place for a further diamond is looked for.
_DIAMONDS = 10


def diamond(canvas: Canvas, middle: tuple[int, int], size: int) -> BoolArray:
    """A diamond of a size about a middle, moved down a row where the grid wants it; nothing off the piece."""
    x, y = middle
    top = (x, y - size + 1 if (x + y - size + 1) % 2 == canvas.piece.parity else y - size + 2)
    found = np.zeros(len(canvas.piece), dtype=np.bool_)
    place = int(locate(canvas.piece, np.array(top)))
    squares = lattice_squares(canvas.piece.neighbours, size)
    found[squares[squares[:, 0] == place]] = True
    return found


def fill_bays(canvas: Canvas, rng: Random, solid: tuple[float, float], orders: Sequence[str] = ()) -> None:
    """Diamonds where the most room is, until enough of the piece is solid. orders: see `add_in_order`."""
    own = ~canvas.piece.fan
    wanted = float(rng.uniform(solid[0], solid[0] + 0.6 * (solid[1] - solid[0])))
    for _ in range(_DIAMONDS):
        if canvas.block[own].mean() >= wanted:
            return
        room = canvas.clearance()
        far = int(room.max())
        if far < 3:
            return
        spots: IntArray = np.flatnonzero(room >= far - 1)
        spot = canvas.piece.pinholes[int(rng.choice(spots))]
        size = min(far - 1, 6, canvas.model.rules.widest)
        for less in range(size, 1, -1):
            places = diamond(canvas, (int(spot[0]), int(spot[1])), less)
            if not places.any():
                continue
            if add_in_order(canvas, "bay diamonds", places, orders) if orders else canvas.add("bay diamonds", places):
                break
        else:
            return


def add_in_order(canvas: Canvas, name: str, places: BoolArray, orders: Sequence[str]) -> bool:
    """Lay a part with its images under the first symmetry that has room for them all and runs none into another.

    So the ornament keeps its order where the stamp has little symmetry.
    """
    near = canvas.piece.widened(places, 2)
    for order in orders:
        images = canvas.piece.images_under(order)[:, places]
        if not all(bool(places[image].all()) or not near[image].any() for image in images):
            continue
        spread = np.zeros(len(places), dtype=np.bool_)
        spread[images] = True
        if canvas.add(name, spread):
            return True
    return False
