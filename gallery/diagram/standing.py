"""Where crossings stand in a working diagram, so that every pair can be seen.

The work knows the pinhole, hole or row of a crossing; at a footside pin and in a figure several of its crossings
share a place. Here each gets its own, as a hand would draw it: a block's worker goes straight from pin to pin and
its crossings spread along the line, passives lie at their insets, pairs in a figure's body cross in two lattices.
All in lattice units, for the footside on the left.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cached_property

import numpy as np

from constraints.flow import ROW
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.moves import change_places
from constraints.piece import RIGHT_EDGE
from constraints.working.footside import corners_after
from constraints.working.habits import TURNING_STITCH
from constraints.working.ledger import BLOCK, BODY, FOOTSIDE, GROUND, NOWHERE
from constraints.working.work import Work
from gallery.diagram.spreading import spread
from gallery.looks.edges import passive_insets
from gallery.looks.threads import unit

# How far before and after its pin: pairs that go round it; the two of a block's tip.
LOZENGE, TIP = 0.28, 0.24
# Bodies, by the pairs of one side: from line to line of a lattice; and from the pin to the nearest crossing.
_LATTICE, _PIN_ROOM = {2: 0.28, 3: 0.24, 4: 0.22}, 0.34
# The exchange lies outside the edge pin; at corners passives are crossed this much steeper.
_OUTSIDE, _STEEP = 0.22, 0.3
# Turning stitches keep off the inner corner or the end of their row.
_OFF_PIN = 0.45
# Edge pair and passives round a corner pin: how far outside it the innermost runs, and the next ones.
_ROUND_PIN, _SIDE_BY_SIDE = 0.14, 0.1


def _goes_round(moves: str) -> bool:
    """Whether two pairs change places before their pin and again after it."""
    return "." in moves and all(map(change_places, moves.split(".")))


def _comes_back(moves: str) -> bool:
    """Whether each of two pairs leaves on the side on which it came."""
    return not change_places(moves)


class Standing:
    """Where the crossings of one work stand.

    come, go: (k, 2) where the two pairs of each crossing meet and part: two places only where pairs go round their
    pin. back: (k,) whether they do.
    turns: segment to the places round which it turns, in order. stays: (k,) whether a pair that comes from the left
    goes on to the left.
    """

    def __init__(self, work: Work) -> None:
        self.work, self.piece = work, work.arcs.piece
        crossings = work.crossings
        self.kind = crossings.kind
        turning = np.array([word == TURNING_STITCH for word in crossings.words], dtype=np.bool_)
        self.turning: BoolArray = turning[crossings.moves] & (self.kind == BLOCK)
        round_, stays = (np.array([rule(word) for word in crossings.words]) for rule in (_goes_round, _comes_back))
        at_pins = self.kind == GROUND
        self.back: BoolArray = at_pins & round_[crossings.moves]
        self.stays: BoolArray = self.turning | (at_pins & stays[crossings.moves])
        self.turns = self._turns()
        self.come: FloatArray = crossings.place.copy()
        self._first = np.searchsorted(crossings.step, np.arange(len(work.order.nodes) + 1))
        self.along, self.right = self._directions()
        self._footsides()
        self._bodies()
        self.tips = self._tips()
        self.runs = self._straight_runs()
        self._even_out()
        self.go: FloatArray = self.come.copy()
        self.go[self.back] += LOZENGE * self.along[self.back]
        self.come[self.back] -= LOZENGE * self.along[self.back]

    def _turns(self) -> dict[int, list[FloatArray]]:
        """The places round which each segment turns, in the order of work: its pins; round a pin of a corner the edge
        pair and its passives lie side by side, a little off it."""
        work, found = self.work, dict[int, list[FloatArray]]()
        corners = corners_after(self.piece).values() if work.habits.corner_pins else ()
        for segment, number, _ in work.turns:
            pin = work.pins[number]
            place = np.array(pin.place)
            if pin.place in corners:
                if work.segments.tail[segment] == NOWHERE:
                    continue  # it is hung on there
                beside = len(work.turned[number]) - 1 - work.turned[number].index(segment)
                place += np.sign(place) * (_ROUND_PIN + _SIDE_BY_SIDE * beside)
            found.setdefault(segment, []).append(place)
        return found

    def _directions(self) -> tuple[FloatArray, FloatArray]:
        """(k, 2) the working direction at each crossing, and the lacemaker's right."""
        along = self.piece.directions[self.piece.zone[self.work.pinhole[self.work.crossings.step]]].astype(np.float64)
        return along, np.stack([along[:, 1], -along[:, 0]], axis=1)

    def _of_kind(self, kind: int) -> Iterator[IntArray]:
        """The crossings of each step that has some of a kind."""
        for step in np.unique(self.work.crossings.step[self.kind == kind]).tolist():
            here = np.arange(self._first[step], self._first[step + 1])
            yield here[self.kind[here] == kind]

    # --- footside and figures ----------------------------------------------------------------------------

    def _footsides(self) -> None:
        after = self.piece.edge_next
        turning = (after >= 0) & (self.piece.zone[after] != self.piece.zone)
        turned = np.isin(np.arange(len(after)), after[turning])
        for here in self._of_kind(FOOTSIDE):
            pinhole = self.work.pinhole[self.work.crossings.step[here[0]]]
            along, right = self.along[here[0]], self.right[here[0]]
            # A valley pin of a headside has no passives, a footside has one crossing more than both ways through them.
            insets = np.array(passive_insets((len(here) - 1) // 2))
            if not len(insets):
                continue
            inward = -right if self.piece.edge[pinhole] == RIGHT_EDGE else right
            before = _STEEP if turned[pinhole] else 1.0
            beyond = _STEEP if turning[pinhole] else 1.0
            place = self.piece.pinholes[pinhole]
            out = insets[::-1, None] * (inward - before * along)
            back = insets[:, None] * (inward + beyond * along)
            self.come[here] = place + np.concatenate([out, [-_OUTSIDE * inward], back])

    def _bodies(self) -> None:
        for here in self._of_kind(BODY):
            half = round(np.sqrt(len(here) / 2))
            row, column = (each.ravel() for each in np.indices((half, half)))
            aside = _LATTICE[half] * (column - row)
            down = _LATTICE[half] * (row + column)
            centre = self.work.crossings.place[here].mean(axis=0)
            sides = np.append(aside, aside)[:, None] * self.right[here]
            rows = np.append(down - down.max() - _PIN_ROOM, down + _PIN_ROOM)[:, None] * self.along[here]
            self.come[here] = centre + sides + rows

    # --- blocks ------------------------------------------------------------------------------------------

    def _tips(self) -> BoolArray:
        """(k,) crossings of rows of two pairs: they meet before the one pin and after it."""
        tips = np.zeros(len(self.kind), dtype=np.bool_)
        for here in self._of_kind(BLOCK):
            if len(here) == 2 and np.array_equal(*self.work.crossings.place[here]):
                tips[here] = True
                self.come[here] += np.array([[-TIP], [TIP]]) * self.along[here]
                for given, hand in zip(self.work.crossings.given[here[0]].tolist(), (-1.0, 1.0), strict=True):
                    aside = self.work.crossings.place[here[0]] + hand * TIP * self.right[here[0]]
                    self.turns[given] = [aside]
        return tips

    @cached_property
    def worker(self) -> tuple[IntArray, IntArray]:
        """(k,) the segments by which the worker of a block comes to each crossing and goes on; -1 elsewhere."""
        crossings = self.work.crossings
        every, side = np.arange(len(crossings)), crossings.worker
        onward = np.where(self.turning, side, 1 - side)
        block = self.kind == BLOCK
        comes = np.where(block, crossings.taken[every, np.where(block, side, 0)], -1)
        return comes, np.where(block, crossings.given[every, np.where(block, onward, 0)], -1)

    def _straight_runs(self) -> list[list[int]]:
        """The crossings of each straight line of a worker, from turn to turn; tips aside."""
        comes, goes = self.worker
        side, tips, turning = self.work.crossings.worker.tolist(), self.tips.tolist(), self.turning.tolist()
        runs: list[list[int]] = []
        run_of: dict[int, list[int]] = {}
        for c in np.flatnonzero((self.kind == BLOCK) & ~self.tips).tolist():
            segment = int(comes[c])
            before = int(self.work.segments.tail[segment])
            goes_on = before in run_of and goes[before] == segment and segment not in self.turns and not turning[before]
            if goes_on and side[before] == side[c] and not tips[before]:
                run_of[c] = run_of[before]
                run_of[c].append(c)
            else:
                run_of[c] = [c]
                runs.append(run_of[c])
        return runs

    def _even_out(self) -> None:
        """Spread the crossings along their worker's lines so that passives run as straight as they can."""
        if not self.runs:
            return
        self._about_corners()
        ends = np.array([[self._begin(run), self._end(run)] for run in self.runs])
        crossings, segments = self.work.crossings, self.work.segments
        every, side = np.arange(len(crossings)), np.maximum(crossings.worker, 0)
        came = segments.tail[crossings.taken[every, 1 - side]]
        gone = segments.head[crossings.given[every, np.where(self.turning, 1 - side, side)]]
        beside = np.stack([np.where(each >= 0, each, every) for each in (came, gone)], axis=1)
        spread(self.come, self.runs, ends, ~self.turning, beside)

    def _about_corners(self) -> None:
        """A turning stitch lies a little off the inner corner or the end of its row, halfway between the pins its
        worker comes from and goes to."""
        coming = {int(self.worker[0][run[0]]): run for run in self.runs}
        turned = [run for run in self.runs if self.turning[run[-1]]]
        pins = [self.work.crossings.place[run[-1]] for run in turned]
        often = Counter(tuple(pin.tolist()) for pin in pins)
        directions = [
            self._between(run, coming.get(int(self.worker[1][run[-1]])), pin)
            for run, pin in zip(turned, pins, strict=True)
        ]
        for run, pin, direction in zip(turned, pins, directions, strict=True):
            self.come[run[-1]] = pin + min(1.5, max(_OFF_PIN, 0.07 * often[tuple(pin.tolist())])) * direction

    def _between(self, run: list[int], onward: list[int] | None, pin: FloatArray) -> FloatArray:
        """(2,) the unit direction from a pin, halfway between where a worker comes from and where it goes to."""
        before = unit(self._begin(run) - pin)
        return before if onward is None else unit(before + unit(self._end(onward) - pin))

    def _begin(self, run: list[int]) -> FloatArray:
        segment = int(self.worker[0][run[0]])
        before = int(self.work.segments.tail[segment])
        pins = self.turns.get(segment, [])[-1:]
        inside = before >= 0 and self.kind[before] == BLOCK and not self.tips[before]
        if not pins and inside and self.worker[1][before] != segment:
            return self._row_end(run[0], back=True)  # it was a passive before
        return self._turn_at(segment, before, pins)

    def _end(self, run: list[int]) -> FloatArray:
        if self.turning[run[-1]]:
            place: FloatArray = self.come[run[-1]]
            return place
        segment = int(self.worker[1][run[-1]])
        after = int(self.work.segments.head[segment])
        at = after if after >= 0 and self.tips[after] else run[-1]
        return self._turn_at(segment, at, self.turns.get(segment, [])[:1])

    def _turn_at(self, segment: int, crossing: int, pins: list[FloatArray]) -> FloatArray:
        place: FloatArray
        if pins:
            return pins[0]
        if crossing >= 0 and (self.tips[crossing] or self.turning[crossing]):
            place = self.come[crossing]
            return place
        if crossing >= 0 and self.kind[crossing] == BLOCK:
            return self._row_end(crossing)
        arc = int(self.work.on[segment])
        place = self.piece.pinholes[self.work.arcs.head[arc]].astype(np.float64)
        return place

    def _row_end(self, crossing: int, back: bool = False) -> FloatArray:
        """Where the row of a crossing ends, the direction its worker goes, or back where it came from."""
        node = self.work.order.nodes[int(self.work.crossings.step[crossing])]
        low, high = self._row_ends[node]
        end = low if (self.work.crossings.worker[crossing] == 1) != back else high
        place: FloatArray = self.piece.pinholes[end].astype(np.float64)
        return place

    @cached_property
    def _row_ends(self) -> dict[int, list[int]]:
        """The leftmost and the rightmost pinhole of every row of a block."""
        across = np.array([self.work.arcs.across(pinhole) for pinhole in range(len(self.piece))])
        node = self.work.flow.node
        order = np.lexsort([across, node])
        firsts = np.flatnonzero(np.append(True, np.diff(node[order]) != 0))
        lasts = np.append(firsts[1:], len(order)) - 1
        kept = self.work.flow.kind[node[order[firsts]]] == ROW
        low, high = order[firsts][kept], order[lasts][kept]
        return {name: ends for name, *ends in zip(node[low].tolist(), low.tolist(), high.tolist(), strict=True)}
