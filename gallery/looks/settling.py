"""How the threads of a block settle: the worker's passages one after the other, and on each of them the passives.

Passives hang straight down side by side and share the width that the cloth has where the worker goes through them, as
the worker pulls them even (common practice, no source). A passage through a slanting trail joins a pin to the one
opposite, further on; the cloth between two such pins reaches out to both of its edges.
"""

from __future__ import annotations

from itertools import chain, pairwise

import numpy as np

from constraints.lattice import FloatArray, IntArray
from constraints.working.ledger import NOWHERE
from constraints.working.work import Work
from gallery.looks.blocks import whole_holes

# So often the passages of a block are moved halfway to the middle of their neighbours: even ones stay as they are.
_SETTLING = 16
# From passage to passage, lattice units: two of them for each row of pins.
_PASSAGE = 0.5
# By what share a passive lies in line with itself in the ways before and after, instead of evenly among the others, and
# how often it is moved there: until nothing moves that could be seen.
_IN_LINE, _LINING = 0.8, 24
# Passives lie no closer than this: where the cloth narrows to a point they push its edges out, lattice units.
_CLOSEST = 0.62
# So far beyond the cloth at its level a slanting passage may reach.
_BEYOND = 1.5
# How far a passive beside an eye comes aside, lattice units, and what share of that the next one does.
_PARTED, _GIVING = 0.36, 0.45
# From its top pinhole a hole lies downwards, from its right one to the left, and so on.
_INWARD = np.array([(0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0)])

# How far before and after a pin of their own two pairs meet.
_MEETING = 0.25


def meeting(work: Work, row: list[int], middle: FloatArray, along: FloatArray) -> bool:
    """Whether in a row, of these crossings, two pairs alone meet, go round a pin, and meet again; then they do so
    before and after it.

    middle: (k, 2) where crossings lie, which is changed; along: (2,) the working direction there.
    """
    taken, given = work.crossings.taken, work.crossings.given
    if len(row) != 2 or set(given[row[0]].tolist()) != set(taken[row[1]].tolist()):
        return False
    middle[row] += _MEETING * np.array([[-1.0], [1.0]]) * along
    return True


class Settling:
    """The passages of the workers of a work.

    passages: the crossings of each, in the order of work; of one crossing where none lies level. fixed: the crossings
    of those that stay where they lie, about a pin of two pairs or where rows turn. direction: (k, 2) the working
    direction at every crossing. middle: (k, 2) where the crossings lie, which is changed.
    """

    def __init__(
        self,
        work: Work,
        passages: list[list[int]],
        fixed: set[int],
        direction: FloatArray,
        middle: FloatArray,
    ) -> None:
        self._work, self._layout, self._passages, self._fixed = work, work.layout, passages, fixed
        self._direction, self._middle = direction, middle
        # (k,) how far apart passives lie at a crossing, lattice units; 0 where they have not been spread.
        self.apart: FloatArray = np.zeros(len(middle))
        self._chain = work.chains.number
        self._closed = whole_holes(work.layout)
        self._quarters_of: dict[tuple[int, int], FloatArray] = {}

    def settle(self) -> None:
        self._apart()
        self._evenly()
        self._line_up(self._spread())
        self._part_at_eyes()

    def _node(self, passage: list[int]) -> int:
        return int(self._work.order.nodes[self._work.crossings.step[passage[0]]])

    def _shift(self, passage: list[int], by: float) -> None:
        self._middle[passage] += by * self._direction[passage[0]]

    def _apart(self) -> None:
        """Of a row beside a split every passage lies by itself: the last one between its pins, those before it
        before."""
        rows: dict[int, list[list[int]]] = {}
        for passage in self._passages:
            if self._node(passage) not in self._chain and passage[0] not in self._fixed:
                rows.setdefault(int(self._work.crossings.step[passage[0]]), []).append(passage)
        for passages in rows.values():
            for number, passage in enumerate(reversed(passages)):
                self._shift(passage, -number * _PASSAGE)

    def _evenly(self) -> None:
        """Passages that lie unevenly, as beside a turn without a pin, settle between those before and after them.

        Only those of one worker in one quarter, row after row: arms of a block lie each by themselves, and the end of a
        trail round the middle that comes back to the quarter in which it was begun.
        """
        stretches: dict[int, list[list[list[int]]]] = {}
        zones: dict[int, int] = {}
        for passage in self._passages:
            if (node := self._node(passage)) in self._chain:
                number, zone = self._chain[node], self._zone(passage)
                own = stretches.setdefault(number, [])
                if zones.get(number) != zone:
                    zones[number] = zone
                    own.append([])
                if passage[0] in self._fixed:
                    own[-1].append(passage)
                    own.append([passage])
                elif len(passage) > 1:
                    own[-1].append(passage)
                else:  # passages fan out: what lies beyond settles by itself
                    own.append([])
        for passages in filter(None, chain.from_iterable(stretches.values())):
            along = self._layout.piece.directions[self._zone(passages[0])]
            level = np.array([(self._middle[passage] @ along).mean() for passage in passages])
            settled = level.copy()
            for _ in range(_SETTLING):
                settled[1:-1] = (settled[:-2] + 2 * settled[1:-1] + settled[2:]) / 4
            for passage, shift in zip(passages, settled - level, strict=True):
                self._shift(passage, shift)

    def _zone(self, passage: list[int]) -> int:
        return int(self._layout.piece.zone[self._pinhole(passage)])

    def _pinhole(self, passage: list[int]) -> int:
        return int(self._work.pinhole[self._work.crossings.step[passage[0]]])

    def _spread(self) -> list[list[int]]:
        """The passives of a passage share the width of the cloth there; the passages in which they do, from side to
        side."""
        found = []
        for passage in self._passages:
            if len(passage) < 2 or passage[0] in self._fixed:
                continue
            along = self._direction[passage[0]]
            sideways = np.array([along[1], -along[0]])
            place = self._middle[passage] @ sideways
            held = self._held(passage, along, sideways)
            if held is not None:
                apart = max((held[1] - held[0]) / len(passage), _CLOSEST)
                self.apart[passage] = apart
                even = np.empty(len(passage))
                even[np.argsort(place, kind="stable")] = (np.arange(len(passage)) - (len(passage) - 1) / 2) * apart
                even += sum(held) / 2
                self._middle[passage] += (even - place)[:, None] * sideways
                found.append([passage[at] for at in np.argsort(even, kind="stable")])
        return found

    def _held(self, passage: list[int], along: FloatArray, sideways: FloatArray) -> tuple[float, float] | None:
        """From where to where the cloth about a passage reaches, as `_width` tells it."""
        place = self._middle[passage] @ sideways
        pinhole = self._pinhole(passage)
        if self._layout.piece.fan[pinhole]:
            # Of a headside the cloth goes on to its outer pins, off the grid: it is as wide as the passage is long.
            half = float(np.ptp(place)) / (len(passage) - 1) / 2
            return float(place.min()) - half, float(place.max()) + half
        quarters = self._quarters(int(self._layout.block[pinhole]), self._zone(passage))
        return _width(quarters @ along - (self._middle[passage] @ along).mean(), quarters @ sideways, place)

    def _quarters(self, block: int, zone: int) -> FloatArray:
        """(q, 2) the middles of the quarters of holes that a block closes in one quarter of the piece."""
        if (block, zone) not in self._quarters_of:
            own = (self._layout.block[self._closed] == block) & (self._layout.piece.zone[self._closed] == zone)
            self._quarters_of[block, zone] = (self._layout.piece.pinholes[self._closed] + _INWARD / 2)[own]
        return self._quarters_of[block, zone]

    def _line_up(self, passages: list[list[int]]) -> None:
        """Passives hang straight on from passage to passage; where the edges do not let them, they come aside little by
        little.

        passages: those whose passives share the width, from side to side.
        """
        every = np.array(list(chain.from_iterable(passages)), dtype=np.int64)
        if not len(every):
            return
        sideways = np.stack([self._direction[every, 1], -self._direction[every, 0]], axis=1)
        even = place = (self._middle[every] * sideways).sum(axis=1)
        before, after = self._met_again(every)
        count = (before != NOWHERE).astype(int) + (after != NOWHERE)
        lined = count > 0
        for _ in range(_LINING):
            own = np.append(place, 0.0)  # the last one stands for none
            mean = (own[before] + own[after]) / np.maximum(count, 1)
            place = np.where(lined, _IN_LINE * mean + (1 - _IN_LINE) * even, even)
        starts = np.cumsum([0, *map(len, passages)])
        for first, last in pairwise(starts.tolist()):
            place[first:last] = _kept_apart(place[first:last])
        self._middle[every] += (place - even)[:, None] * sideways

    def _part_at_eyes(self) -> None:
        """Where the worker is twisted at an eye the passives beside it come apart, those next to them a little."""
        at = {crossing: (passage, number) for passage in self._passages for number, crossing in enumerate(passage)}
        for each in self._work.eyes:
            first, last = int(self._work.segments.tail[each.segment]), int(self._work.segments.head[each.segment])
            if first not in at or last not in at or at[first][0] is not at[last][0]:
                continue  # about a corner, where passages fan out, they lie as they are
            passage, number = at[first]
            away = self._middle[last] - self._middle[first]
            away = away / max(float(np.hypot(*away)), 1e-9)
            for place, crossing in enumerate(passage):
                off = number - place if place <= number else place - number - 1
                hand = -1.0 if place <= number else 1.0
                self._middle[crossing] += hand * _PARTED * _GIVING**off * away

    def _met_again(self, every: IntArray) -> tuple[IntArray, IntArray]:
        """Where among the crossings `every` the passive of each is met the time before and the time after in its part
        of the block; NOWHERE where it is not."""
        crossings, piece, layout = self._work.crossings, self._layout.piece, self._layout
        number = np.full(len(crossings), NOWHERE)
        number[every] = np.arange(len(every))
        worker = crossings.worker[every]
        known = worker != NOWHERE
        # The worker goes on where the passive was.
        going = crossings.given[every, np.where(known, worker, 0)]
        head = self._work.segments.head[going]
        after = np.where(known & (head != NOWHERE), number[head], NOWHERE)
        pinhole = self._work.pinhole[crossings.step[every]]
        part = np.stack([layout.block[pinhole], piece.zone[pinhole]])
        met = np.append(crossings.taken[every, 1 - np.where(known, worker, 0)], NOWHERE)
        after[(part[:, after] != part).any(axis=0) | (met[after] != going)] = NOWHERE
        before = np.full(len(every), NOWHERE)
        own = np.flatnonzero(after != NOWHERE)
        before[after[own]] = own
        return before, after


def _kept_apart(place: FloatArray) -> FloatArray:
    """The places (n,) of passives from side to side, moved from the middle outwards where they lie too close."""
    middle = len(place) // 2
    steps = np.arange(len(place)) * _CLOSEST
    right = np.maximum.accumulate(place[middle:] - steps[: len(place) - middle]) + steps[: len(place) - middle]
    left = np.minimum.accumulate((place[: middle + 1])[::-1] + steps[: middle + 1]) - steps[: middle + 1]
    return np.concatenate([left[:0:-1], right])


def _width(away: FloatArray, middle: FloatArray, place: FloatArray) -> tuple[float, float] | None:
    """From where to where cloth reaches about the places of a passage; None where there is none, or where the passage
    goes on into another arm.

    away, middle: (q,) of quarters of holes, diamonds of half a unit's reach, how far before or after the passage they
    lie and where across it.
    """
    reach = 0.5 - np.abs(away)
    held = reach > 1e-6
    low, high = middle[held] - reach[held], middle[held] + reach[held]
    order = np.argsort(low)
    low, high = low[order], high[order]
    if not len(low):
        return None
    furthest = np.maximum.accumulate(high)
    begins = np.flatnonzero(np.append(True, low[1:] > furthest[:-1] + 1e-6))
    runs = np.stack([low[begins], np.maximum.reduceat(high, begins)], axis=1)
    common = np.minimum(runs[:, 1], place.max()) - np.maximum(runs[:, 0], place.min())
    first, last = runs[common.argmax()].tolist()
    beyond = max(first - place.min(), place.max() - last)
    return (first, last) if common.max() > 0 and beyond <= _BEYOND else None
