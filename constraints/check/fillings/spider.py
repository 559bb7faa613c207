"""The rule on spiders."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.check.fillings.parts import closed, of_filling
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.layout import Layout


def spider(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Spiders lie on open holes of a field, and no spider's pinhole stands in the ring of another."""
    spiders = of_filling(layout, "spider")
    yield from closed(layout, spiders, "a spider lies on a block or beside the edge")
    number = np.full(len(layout.piece) + 1, -1)
    first = 0
    for placed in spiders:
        number[placed.places] = first + np.arange(len(placed.places))[:, None]
        first += len(placed.places)
    beside = number[layout.piece.neighbours]
    here = number[:-1, None]
    touching = ((here >= 0) & (beside >= 0) & (beside != here)).any(axis=1)
    if touching.any():
        yield "spiders touch: a leg's pin cannot be part of another spider", layout.points(touching)
