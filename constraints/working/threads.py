"""The moves played on threads: which thread goes where, and who passes over whom, and how far each runs.

A pair is two threads. C, cross, takes the second of four threads over the third; T, twist, takes in each pair
the right thread over the left one. A segment's own twists are played after the crossing it comes from.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.working.ledger import NOWHERE
from constraints.working.work import Work


@dataclass(frozen=True, eq=False)
class Threads:
    """The threads of a piece, numbered from 0: two for every pair hung on, in the order of its segments.

    begin, end: (m, 2) the threads of each segment, left and right, where it begins and where it ends.
    crossing, over, under: (e,) every passing of one thread over another, in order; crossing NOWHERE where it
    is a twist of a segment of its own, and then segment says which; segment NOWHERE otherwise.
    """

    begin: IntArray
    end: IntArray
    crossing: IntArray
    segment: IntArray
    over: IntArray
    under: IntArray

    @property
    def count(self) -> int:
        return int(self.begin.max(initial=-1)) + 1

    def parted(self, work: Work) -> BoolArray:
        """(k,) whether at a crossing the threads of a pair part: a pair that leaves it is none that came."""
        came = np.sort(self.end[work.crossings.taken], axis=2)
        gone = np.sort(self.begin[work.crossings.given], axis=2)
        same = (came[:, :, None, :] == gone[:, None, :, :]).all(axis=3)
        parted: BoolArray = ~same.any(axis=1).all(axis=1)
        return parted


def play(work: Work) -> Threads:
    """Play every move of a piece."""
    segments, crossings = work.segments, work.crossings
    begin = np.full((len(segments), 2), NOWHERE)
    end = begin.copy()
    twists, moves = segments.twists.tolist(), crossings.moves.tolist()
    words = [word.replace(".", "") for word in crossings.words]
    passings: list[tuple[int, int, int, int]] = []
    held: dict[int, tuple[int, int]] = {}

    def start(segment: int, left: int, right: int) -> None:
        begin[segment] = left, right
        for _ in range(twists[segment]):
            passings.append((NOWHERE, segment, right, left))
            left, right = right, left
        end[segment] = left, right
        held[segment] = left, right

    for number, segment in enumerate(np.flatnonzero(segments.tail == NOWHERE).tolist()):
        start(segment, 2 * number, 2 * number + 1)
    for number, (taken, given) in enumerate(zip(crossings.taken.tolist(), crossings.given.tolist(), strict=True)):
        a, b = held.pop(taken[0])
        c, d = held.pop(taken[1])
        for move in words[moves[number]]:
            if move == "C":
                passings.append((number, NOWHERE, b, c))
                b, c = c, b
            else:
                passings += [(number, NOWHERE, b, a), (number, NOWHERE, d, c)]
                a, b, c, d = b, a, d, c
        start(given[0], a, b)
        start(given[1], c, d)
    table = np.array(passings, dtype=np.int64).reshape(-1, 4).T
    return Threads(begin, end, table[0], table[1], table[2], table[3])


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
