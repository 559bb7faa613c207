"""The rule on spiders."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.check.fillings.parts import closed, of_filling
from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.check.shape import in_scallops
from constraints.layout import Layout, Placed


def spider(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Spiders lie on open holes of a field, and no spider's pinhole stands in the ring of another."""
    spiders = of_filling(layout, "spider")
    yield from closed(layout, _of_fields(layout, spiders), "a spider lies on a block or beside the edge")
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


def _of_fields(layout: Layout, placed: list[Placed]) -> list[Placed]:
    """The spiders but for those of ground scallops, which lie in no field."""
    own = in_scallops(layout)
    kept = [(each, ~own[each.places].any(axis=1)) for each in placed]
    return [Placed(each.unit, each.centres[here], each.places[here]) for each, here in kept]
