"""A gimp pair round a block: a thicker thread on either side of it, that every pair passes on its way in and out.

The pair is laid in above the block's first pin, one thread to the left and one to the right. A pair of the lace is
twisted, the gimp thread goes between its two threads, and it is twisted again. Below the last pin the two meet, cross
and end (common practice, no source). A gimp makes no crossing of two pairs: it is kept apart from the flow.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from constraints.flow import ROW, Flow
from constraints.lattice import IntArray, Place
from constraints.layout import Layout
from constraints.working.arcs import Arcs
from constraints.working.order import Order


class Passing(NamedTuple):
    """A thread of gimp passes a pair. arc: the pair's, one of `arcs`. inwards: whether the pair comes into the block.
    step: of the row that it comes to or leaves, as in `Crossings.step`. place: the middle of its arc, lattice units."""

    arc: int
    inwards: bool
    step: int
    place: Place


@dataclass(frozen=True)
class Gimp:
    """The gimp pair of one block. block: its number in the square; called: in the order in which blocks are begun.
    begin, end: the middles of the holes where it is laid in and where it ends. left, right: what each thread passes.
    lines: the places and holes through which either runs, lattice units."""

    block: int
    called: int
    begin: Place
    end: Place
    left: tuple[Passing, ...]
    right: tuple[Passing, ...]
    lines: tuple[tuple[Place, ...], tuple[Place, ...]]


def blocks_called(layout: Layout, flow: Flow, order: Order) -> dict[int, int]:
    """The numbers by which blocks are called, from 1 in the order in which they are begun, to those in the square."""
    begun = dict.fromkeys(int(layout.block[flow.pinhole[node]]) for node in order.nodes if flow.kind[node] == ROW)
    return dict(enumerate(begun, 1))


def gimps_round(
    layout: Layout, flow: Flow, arcs: Arcs, order: Order, pins: Iterable[Place], called: Iterable[int]
) -> tuple[Gimp, ...]:
    """The gimp pairs round blocks called so. pins: in the order in which they are put up. ValueError if there is no
    such block, or none can go round it."""
    blocks = blocks_called(layout, flow, order)
    border = _Border(layout, flow, arcs, order, pins)
    found = []
    for number in called:
        if number not in blocks:
            allowed = f"blocks are numbered 1 to {len(blocks)}" if blocks else "there are no blocks"
            raise ValueError(f"no block {number} to lay a gimp round: {allowed}")
        gimp = border.gimp(blocks[number], number)
        if gimp is None:
            fit = ", ".join(str(each) for each, block in blocks.items() if border.gimp(block, each))
            raise ValueError(
                f"block {number} is not worked in one go from a first pin to a last one, so no gimp goes round it; "
                + (f"one goes round {fit}" if fit else "nor does one round any other")
            )
        found.append(gimp)
    return tuple(found)


def segment_passed(on: IntArray, passing: Passing) -> int:
    """The segment that a thread of gimp passes: along its arc the one next to the block. on: see `Work`."""
    return int(np.flatnonzero(on == passing.arc)[-1 if passing.inwards else 0])


class _Border:
    """The borders of the blocks of one work."""

    def __init__(self, layout: Layout, flow: Flow, arcs: Arcs, order: Order, pins: Iterable[Place]) -> None:
        self.piece, self.arcs, self.block = layout.piece, arcs, np.append(layout.block, -1)
        step = np.empty(len(flow.kind), dtype=np.int64)
        step[list(order.nodes)] = np.arange(len(step))
        self.step = step[flow.node]
        self.put_up = {place: number for number, place in enumerate(pins)}

    def gimp(self, block: int, called: int) -> Gimp | None:
        """The gimp pair of a block; None if its border is not one line that two threads follow as it is worked."""
        tails, heads = self.block[self.arcs.tail] == block, self.block[self.arcs.head] == block
        if (tails & heads & self.arcs.over).any():
            return None  # the start line cuts it: it has no first pin
        passings = [self._passing(arc, bool(heads[arc])) for arc in np.flatnonzero(tails != heads).tolist()]
        places = np.flatnonzero(self.block[:-1] == block)
        if (self.piece.neighbours[places] < 0).any():
            return None
        # Where a block begins or ends with a row of several pins the gimp does so beside the first or last of them.
        steps, pins = self.step[places], self._put_up(places)
        first = int(places[np.lexsort([np.where(pins < 0, pins.max(), pins), steps])[0]])
        last = int(places[np.lexsort([pins, steps])[-1]])
        begin, end = self._beside(first, -1), self._beside(last, 1)
        beside = self._holes(passings)
        if any(len(beside.get(hole, ())) != 2 for hole in (begin, end)):
            return None
        sides = [self._along(each, begin, end, beside) for each in beside[begin]]
        if sum(len(side) for side, _ in sides) != len(passings) or not all(_as_worked(side) for side, _ in sides):
            return None
        left, right = sorted(sides, key=lambda each: int(self.arcs.from_side[each[0][0].arc]))
        return Gimp(block, called, begin, end, tuple(left[0]), tuple(right[0]), (tuple(left[1]), tuple(right[1])))

    def _put_up(self, places: IntArray) -> IntArray:
        """When the pin of each pinhole is put up, -1 where a pin on a corner line serves its row."""
        return np.array([self.put_up.get((float(x), float(y)), -1) for x, y in self.piece.pinholes[places].tolist()])

    def _passing(self, arc: int, inwards: bool) -> Passing:
        ends = [int(self.arcs.head[arc]), int(self.arcs.tail[arc])]
        x, y = self.piece.pinholes[ends].mean(axis=0).tolist()
        return Passing(arc, inwards, int(self.step[ends[0 if inwards else 1]]), (x, y))

    def _holes(self, passings: Iterable[Passing]) -> dict[Place, list[Passing]]:
        """The middle of each hole along a border to what is passed on the arc from it to the next holes."""
        found: dict[Place, list[Passing]] = {}
        for passing in passings:
            for hole in self._either_side(passing):
                found.setdefault(hole, []).append(passing)
        return found

    def _either_side(self, passing: Passing) -> list[Place]:
        """The middles of the two holes between which a pair's arc lies."""
        (ax, ay), (bx, by) = self.piece.pinholes[[self.arcs.tail[passing.arc], self.arcs.head[passing.arc]]].tolist()
        return [(float(ax), float(by)), (float(bx), float(ay))]

    def _along(
        self, passing: Passing, begin: Place, end: Place, beside: dict[Place, list[Passing]]
    ) -> tuple[list[Passing], list[Place]]:
        """What a thread passes from one hole to another, first a certain pair, and where it runs."""
        found, hole = [passing], self._beyond(passing, begin)
        line = [begin, passing.place, hole]
        while hole != end and len(found) <= len(beside):
            # Where two parts of the border meet, either way leaves passings out or goes back against the work.
            found.append(next(each for each in beside[hole] if each != found[-1]))
            hole = self._beyond(found[-1], hole)
            line += [found[-1].place, hole]
        return found, line

    def _beyond(self, passing: Passing, hole: Place) -> Place:
        return next(each for each in self._either_side(passing) if each != hole)

    def _beside(self, pinhole: int, hand: int) -> Place:
        """The middle of the hole before (-1) or after a pinhole in its working direction."""
        x, y = (self.piece.pinholes[pinhole] + hand * self.piece.directions[self.piece.zone[pinhole]]).tolist()
        return (float(x), float(y))


def _as_worked(side: list[Passing]) -> bool:
    """Whether a thread passes its pairs in the order in which they come and go."""
    return all((a.step, not a.inwards) <= (b.step, not b.inwards) for a, b in pairwise(side))
