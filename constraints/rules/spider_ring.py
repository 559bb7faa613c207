"""Spider's ring: the pinholes round a spider are pinned, so none of them belongs to another spider.

A ground pinhole, the border of a block and a rose have pins of their own; a spider pinhole has none.

Common practice, no source.
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, IntArray
from constraints.rules.units import exclusive
from constraints.variables import Model, Sites

NAME = "spider's ring"


def spider_ring(model: Model) -> None:
    """Two spiders never lie on both ends of one neighbour step."""
    spiders = [s for s in model.sites.values() if s.unit.ring_free and len(s.pinholes)]
    if not spiders:
        return
    # Overlaps are already excluded, so only a last row of one can meet the first row of another.
    for step in (DOWN_RIGHT, DOWN_LEFT):
        owner, literal = [], []
        for sites in spiders:
            for places, at_start in ((_side(sites, step, last=True), True), (_side(sites, step, last=False), False)):
                number = places if at_start else model.piece.neighbours[places, step - 2]
                flat, chosen = number.reshape(-1), np.repeat(sites.chosen, number.shape[1])
                owner.append(flat[flat >= 0])
                literal.append(chosen[flat >= 0])
        exclusive(model, NAME, np.concatenate(owner), np.concatenate(literal))


def _side(sites: Sites, step: int, last: bool) -> IntArray:
    """The pinholes of each site on its last (or first) side along a step: (s, size)."""
    size = sites.unit.size
    grid = sites.pinholes.reshape(-1, size, size)
    line = size - 1 if last else 0
    return grid[:, line, :] if step == DOWN_RIGHT else grid[:, :, line]
