"""How far every thread of a piece runs, in lattice units: from crossing to crossing along its route."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, FloatArray
from constraints.working.ledger import NOWHERE
from constraints.working.threads import Threads
from constraints.working.work import Work


@dataclass(frozen=True, eq=False)
class ThreadLengths:
    """The threads of a piece, by number: two for each pair hung on.

    units: (t,) how far each runs, lattice units. worker: (t,) whether it is ever the worker of a block.
    passive: (t,) whether it is hung on as a passive of the edge.
    """

    units: FloatArray
    worker: BoolArray
    passive: BoolArray


def thread_lengths(work: Work, threads: Threads) -> ThreadLengths:
    """Measured straight from crossing to crossing, as a thread lies taut; a pair that goes straight on through
    ground runs sqrt(2) times the length worked. Take-up is the reader's to add."""
    segments, place = work.segments, work.crossings.place
    both = (segments.tail != NOWHERE) & (segments.head != NOWHERE)
    far = np.zeros(len(segments))
    far[both] = np.hypot(*(place[segments.head[both]] - place[segments.tail[both]]).T)
    units = np.zeros(threads.count)
    for side in (0, 1):
        np.add.at(units, threads.begin[:, side], far)
    worker = np.zeros(threads.count, dtype=np.bool_)
    turning = [turn.segment for turn in work.turns]
    worker[threads.begin[turning].ravel()] = True
    passive = np.zeros(threads.count, dtype=np.bool_)
    passive[threads.begin[list(work.passives_hung)].ravel()] = True
    return ThreadLengths(units, worker, passive)
