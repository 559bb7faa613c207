"""Marks of a pricking that tell how it is worked: where workers come in, and the cross-overs of figures.

All in lattice units, lines of shape (n, 2, 2).
"""

from __future__ import annotations

import numpy as np

from constraints.lattice import FloatArray
from constraints.layout import lay
from constraints.working import ledger
from constraints.working.arcs import OUTSIDE
from constraints.working.ledger import NOWHERE
from constraints.working.work import Work

# An arrow lies between two pins, well clear of both: how far its ends are from the pin it shows, along the path.
_TAIL, _HEAD, _BARB = 0.68, 0.28, 0.22
_CROSS = 0.2


def entries(work: Work) -> FloatArray:
    """Arrows, three lines each, where the worker of each block comes to its first pin."""
    block = lay(work.design).block
    found: list[FloatArray] = []
    seen: set[int] = set()
    first_of = {node: pinhole for pinhole, node in enumerate(work.flow.node.tolist())}
    for crossing in np.flatnonzero(work.crossings.kind == ledger.BLOCK).tolist():
        number = int(block[first_of[work.order.nodes[int(work.crossings.step[crossing])]]])
        side = int(work.crossings.worker[crossing])
        if number in seen or side == NOWHERE:
            continue
        seen.add(number)
        arc = int(work.on[work.crossings.taken[crossing, side]])
        if arc != OUTSIDE and work.arcs.head[arc] != OUTSIDE:
            found += _entry(work, arc)
    return np.array(found).reshape(-1, 2, 2)


def _entry(work: Work, arc: int) -> list[FloatArray]:
    piece, tail, head = work.arcs.piece, int(work.arcs.tail[arc]), int(work.arcs.head[arc])
    place = piece.pinholes[head].astype(np.float64)
    hung = tail == OUTSIDE
    back = np.sign(-piece.directions[piece.zone[head]] if hung else piece.pinholes[tail] - place)
    return arrow(place + _TAIL * back, place + _HEAD * back, _BARB)


def cross_overs(work: Work) -> FloatArray:
    """The two lines of a small slanting cross for each cross-over of figures."""
    places = work.crossings.place[work.crossings.kind == ledger.CROSS_OVER]
    arms = _CROSS * np.array([[[-1.0, -1.0], [1.0, 1.0]], [[-1.0, 1.0], [1.0, -1.0]]])
    found: FloatArray = (places[:, None, None] + arms).reshape(-1, 2, 2)
    return found


def arrow(tail: FloatArray, head: FloatArray, barb: float) -> list[FloatArray]:
    """Three lines (2, 2): shaft and two barbs."""
    along = (tail - head) / float(np.hypot(*(tail - head)))
    across = np.array([-along[1], along[0]])
    return [np.stack([tail, head]), *(np.stack([head + barb * (along + s * 0.5 * across), head]) for s in (-1, 1))]
