"""The line of every pair in a working diagram: one or more cubic curves for every segment of the work.

A pair flows smoothly through a crossing: its line is tangent there to the line from the place before to the place
after, so ground stays straight, passives bend gently and only workers turn sharply, at their pins. All in lattice
units, for the footside on the left.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray, places_in_groups
from constraints.piece import LEFT_EDGE, RIGHT_EDGE, ROUND
from constraints.working.arcs import OUTSIDE
from constraints.working.ends import start_line
from constraints.working.ledger import BLOCK, CROSS_OVER
from constraints.working.work import Work
from gallery.diagram.standing import Standing
from gallery.looks.edges import passive_insets
from gallery.looks.threads import unit

# Where no start line cuts the pairs, they begin and end so far from the edge; how far apart two at one pin.
_TAIL, _APART = 1.1, 0.35
# At the start line's corner, from the line of the two edge pins: the edge pair outside, a pair of the ground inside.
_BEYOND, _WITHIN = 0.3, 0.27
# Outside a corner pin, what hangs round it.
_HUNG = 0.42
# How far the edge pair bows outside from pin to pin.
_BOW = 0.12
_EASE = 1 / 3
# How far inside the edge the passives of a scallop are hung on; in a round, so much farther in than its corner.
_SCALLOP, _CORNER = 0.9, 0.5


@dataclass(frozen=True, eq=False)
class Curves:
    """points: (c, 4, 2) cubic curves; segment: (c,) the segment that each is part of, in order along it."""

    points: FloatArray
    segment: IntArray

    @cached_property
    def place(self) -> IntArray:
        """(c,) the place of each along its segment, from 0."""
        begins = np.flatnonzero(np.append(True, self.segment[1:] != self.segment[:-1]))
        return places_in_groups(np.diff(np.append(begins, len(self.segment))))


class PairLines:
    """The lines of one work. first, last: (m, 2) where each segment begins and ends."""

    def __init__(self, work: Work, standing: Standing | None = None) -> None:
        self.work, self.standing = work, standing or Standing(work)
        self.piece = work.arcs.piece
        self.pinholes: FloatArray = self.piece.pinholes.astype(np.float64)
        tail, head = work.segments.tail, work.segments.head
        self.first: FloatArray = self.standing.go[np.maximum(tail, 0)]
        self.last: FloatArray = self.standing.come[np.maximum(head, 0)]
        self._loose_ends()

    @cached_property
    def along(self) -> FloatArray:
        """(n, 2) the working direction at each pinhole."""
        along: FloatArray = self.piece.directions[self.piece.zone].astype(np.float64)
        return along

    @property
    def _level(self) -> bool:
        """Whether the start line is horizontal."""
        return self.work.start_row is not None

    @property
    def _pinned_corner(self) -> bool:
        """Whether the edge pair and its passives are hung round a corner pin."""
        return self.work.habits.corner_pins and not self._level

    # --- where pairs are hung and finished ---------------------------------------------------------------

    def _loose_ends(self) -> None:
        work = self.work
        for arc, segment in work.hung.items():
            over = bool(work.arcs.over[arc])
            self.first[segment] = self._over(arc) if over else self._tail(int(work.arcs.head[arc]), arc, -1)
        for arc, segment in work.finished.items():
            over = bool(work.arcs.over[arc])
            self.last[segment] = self._over(arc) if over else self._tail(int(work.arcs.tail[arc]), arc, 1)
        counts = work.design.form.passives(work.design.worked, work.design.passives)
        places = [(edge, inset) for edge, count in enumerate(counts) for inset in self._insets(edge, count)]
        ends = zip(places, work.passives_hung, work.passives_finished, strict=True)
        for (edge, inset), begun, ended in ends:
            self.first[begun] = self._passive_tail(inset, edge, False)
            self.last[ended] = self._passive_tail(inset, edge, True)

    def _insets(self, edge: int, count: int) -> list[float]:
        """How far inside an edge its passives are hung on; those of a scallop side by side within the edge pair."""
        if edge not in self.piece.fan_edges:
            return passive_insets(count)
        return [_SCALLOP * (place + 1) / (count + 1) for place in range(count)]

    def _over(self, arc: int) -> FloatArray:
        """Where an arc meets the start line: at its middle, before a cross-over that may lie there."""
        arcs = self.work.arcs
        tail, head = self.pinholes[arcs.tail[arc]], self.pinholes[arcs.head[arc]]
        middle: FloatArray = (tail + head) / 2
        if self._level and arcs.edge[arc]:
            # The edge pair's arc is longer than the others', the line cuts it beside them.
            along = self.along[arcs.head[arc]]
            middle += (start_line(self.work)[0] - middle) @ along * along
        reached = int(self.work.segments.head[self.work.hung[arc]])
        if reached >= 0 and self.standing.kind[reached] == CROSS_OVER:
            middle = (tail + self.standing.come[reached]) / 2
        if self._at_corner(arc) and arcs.edge[arc] and self._pinned_corner:
            middle = start_line(self.work)[0] * 1.0
            middle += np.sign(middle) * _HUNG
        elif self._at_corner(arc):
            # At the corner the edge pair lies outside the passives, the pair that goes in and out inside them.
            middle += np.sign(middle) * (_BEYOND if arcs.edge[arc] else -_WITHIN)
        return middle

    def _tail(self, pinhole: int, arc: int, hand: int) -> FloatArray:
        """Where a pair is hung before a pinhole (hand -1) or finished after it (1) on an edge."""
        side = int((self.work.arcs.to_side if hand > 0 else self.work.arcs.from_side)[arc])
        along = self.along[pinhole]
        right = np.array([along[1], -along[0]])
        end: FloatArray = self.pinholes[pinhole] + hand * _TAIL * along + _APART * np.sign(side) * right
        return end

    def _passive_tail(self, inset: float, edge: int, ended: bool) -> FloatArray:
        if self.piece.worked == ROUND:
            line = start_line(self.work)[:: -1 if edge == RIGHT_EDGE else 1]
            inwards = np.sign(np.round(line[1] - line[0], 6))
            if self._pinned_corner and edge == LEFT_EDGE:
                return np.asarray(line[0] - _HUNG * inwards)
            if edge in self.piece.fan_edges and not self._level:
                return np.asarray(line[0] + (_CORNER + inset) * inwards)
            return np.asarray(line[0] + (inset if self._level else 0.25 + 0.75 * inset) * inwards)
        left, top, right, bottom = self.work.design.form.box
        x = right - inset if edge == RIGHT_EDGE else left + inset
        return np.array([x, bottom + _TAIL if ended else top - _TAIL])

    # --- lines -------------------------------------------------------------------------------------------

    @cached_property
    def _via(self) -> dict[int, list[FloatArray]]:
        return self.standing.turns

    @cached_property
    def tangents(self) -> tuple[FloatArray, FloatArray]:
        """(m, 2) the unit directions in which each segment leaves its first place and reaches its last."""
        work = self.work
        after, before = self.last.copy(), self.first.copy()
        for segment, places in self._via.items():
            after[segment], before[segment] = places[0], places[-1]
        leave, arrive = unit(after - self.first), unit(self.last - before)
        stays, double = self.standing.stays, (self.standing.come != self.standing.go).any(axis=1)
        for side in (0, 1):
            came = work.crossings.taken[:, side]
            gone = np.where(stays, work.crossings.given[:, side], work.crossings.given[:, 1 - side])
            direction = unit(after[gone] - before[came])
            smooth = ~double & ~self._sharp(came)
            arrive[came[smooth]], leave[gone[smooth]] = direction[smooth], direction[smooth]
        if self.piece.worked == ROUND:
            leave[list(self._begun)] = arrive[list(self._ended)] = self._across_start
        return leave, arrive

    @cached_property
    def _begun(self) -> tuple[int, ...]:
        """What begins at the corner of the start line: the edge pair, passives, the pair inside them."""
        hung = self.work.hung.items()
        return (*(segment for arc, segment in hung if self._at_corner(arc)), *self.work.passives_hung)

    def _at_corner(self, arc: int) -> bool:
        """Whether an arc leads from one edge pin to another, past the corner at which the start line ends."""
        edge, arcs = self.piece.edge, self.work.arcs
        if self._level or not arcs.over[arc] or LEFT_EDGE in self.piece.fan_edges:
            return False
        return bool(edge[arcs.tail[arc]] == edge[arcs.head[arc]] == LEFT_EDGE)

    @cached_property
    def _ended(self) -> tuple[int, ...]:
        finished = self.work.finished.items()
        return (*(segment for arc, segment in finished if self._at_corner(arc)), *self.work.passives_finished)

    @cached_property
    def _across_start(self) -> FloatArray:
        """(2,) the unit direction over the start line."""
        if self._level:
            level: FloatArray = self.along[self.work.arcs.head[next(iter(self.work.hung))]]
            return level
        arc = int(np.flatnonzero(self.work.arcs.over)[0])
        across: FloatArray = unit(self.pinholes[self.work.arcs.head[arc]] - self.pinholes[self.work.arcs.tail[arc]])
        return across

    def _sharp(self, came: IntArray) -> BoolArray:
        """(k,) crossings through which a pair goes as a worker, straight from pin to pin."""
        crossings = self.work.crossings
        worker = crossings.taken[np.arange(len(came)), np.maximum(crossings.worker, 0)] == came
        turns: BoolArray = (self.standing.kind == BLOCK) & worker & ~self.standing.tips
        return turns

    @cached_property
    def curves(self) -> Curves:
        """Every segment of the work, once."""
        leave, arrive = self.tangents
        turned = np.zeros(len(self.first), dtype=np.bool_)
        turned[list(self._via)] = True
        plain = np.flatnonzero(~turned)
        first, last = self.first[plain], self.last[plain]
        reach = _EASE * np.hypot(*(last - first).T)[:, None]
        points = np.stack([first, first + reach * leave[plain], last - reach * arrive[plain], last], axis=1)
        edge = self._edge[plain]
        points[edge, 1:3] = self._bowed(plain[edge])
        bent = [self._bent(segment, leave[segment], arrive[segment]) for segment in np.flatnonzero(turned).tolist()]
        of = np.concatenate([plain, np.repeat(np.flatnonzero(turned), [len(each) for each in bent])])
        order = np.argsort(of, kind="stable")
        return Curves(np.concatenate([points, *bent])[order], of[order])

    @cached_property
    def _edge(self) -> BoolArray:
        """(m,) segments of the edge pair from pin to pin."""
        on = self.work.on
        edge: BoolArray = (on != OUTSIDE) & self.work.arcs.edge[on]
        return edge

    def _bowed(self, segments: IntArray) -> FloatArray:
        """(k, 2, 2) controls that let the edge pair bow outside."""
        arcs, on = self.work.arcs, self.work.on[segments]
        made = []
        for pinhole, place, hand in (
            (arcs.tail[on], self.first[segments], 1),
            (arcs.head[on], self.last[segments], -1),
        ):
            along = self.along[pinhole]
            outward = np.stack([along[:, 1], -along[:, 0]], axis=1)
            outward *= np.where(self.piece.edge[pinhole] == RIGHT_EDGE, 1, -1)[:, None]
            reach = np.hypot(*(self.last[segments] - self.first[segments]).T)[:, None] * _EASE
            loose = np.isin(segments, self._begun if hand > 0 else self._ended)[:, None] & (self.piece.worked == ROUND)
            swung = hand * reach * along + _BOW * outward * np.minimum(1.0, reach * 1.5)
            made.append(place + np.where(loose, hand * reach * (self._across_start if loose.any() else 0.0), swung))
        return np.stack(made, axis=1)

    def _bent(self, segment: int, leave: FloatArray, arrive: FloatArray) -> FloatArray:
        """(c, 4, 2) a segment that turns round pins: smooth at its ends, sharp at the pins."""
        stops = np.array([self.first[segment], *self._via[segment], self.last[segment]])
        steps = np.diff(stops, axis=0)
        points = np.stack([stops[:-1], stops[:-1] + steps / 3, stops[1:] - steps / 3, stops[1:]], axis=1)
        reach = np.hypot(*steps.T) / 3
        points[0, 1] = stops[0] + reach[0] * leave
        points[-1, 2] = stops[-1] - reach[-1] * arrive
        return points
