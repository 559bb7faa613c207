"""The pairs on the pillow as a piece is worked, node by node: what is taken, crossed and given on."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints.fillings import FIGURES, GROUNDS, NAMES, NUMBERS
from constraints.flow import ROW, UNIT, Flow
from constraints.lattice import Place
from constraints.layout import Layout
from constraints.piece import LEFT_EDGE, NO_EDGE
from constraints.seams import seams_of
from constraints.stitches import CLOTH
from constraints.working import footside
from constraints.working.arcs import OUTSIDE, Arcs
from constraints.working.blocks import Chains
from constraints.working.figures import FigureHands
from constraints.working.habits import GROUND_MOVES, OPEN, Habits
from constraints.working.ledger import CROSS_OVER, GROUND, NOWHERE, Ledger
from constraints.working.order import work_order
from constraints.working.rows import LEFT, RIGHT, Row, Stack


class Pillow:
    """The pairs as they hang on the pillow: a segment on every arc that has been reached."""

    def __init__(self, layout: Layout, flow: Flow, habits: Habits, row: int | None) -> None:
        design = layout.design
        self.design, self.layout, self.piece, self.flow, self.habits = design, layout, layout.piece, flow, habits
        self.start_row = row
        self.arcs = Arcs(self.piece, design.start, row)
        self.ledger = Ledger()
        self.crossed: set[int] = set()
        self.over_crosses = self.arcs.crossing_over(layout)
        self.into = self.arcs.into(flow.node, len(flow.kind))
        self.out_of = self.arcs.out_of(flow.node, len(flow.kind))
        every = np.arange(len(self.piece))
        self.into_pinhole = self.arcs.into(every, len(every))
        self.out_of_pinhole = self.arcs.out_of(every, len(every))
        self.single = dict(zip(flow.node.tolist(), every.tolist(), strict=True))
        self.order = work_order(layout, flow)
        self.seams = seams_of(layout, habits.seam == OPEN)
        self.chains = Chains(layout, flow, self.arcs, self.seams)
        self.stacks: dict[int, Stack] = {}
        # Workers of rows that make no chain: the side at which each turned last, None where it met another at a pin.
        self.workers: dict[int, int | None] = {}
        self.finished: dict[int, int] = {}
        cut = self.arcs.over | (self.arcs.tail == OUTSIDE)
        begin = np.flatnonzero(cut & (self.arcs.head != OUTSIDE)).tolist()
        self.on = {arc: self.ledger.hang() for arc in begin}
        self.hung = dict(self.on)
        self.runs = {segment: arc for arc, segment in self.on.items()}
        counts = design.form.passives(design.worked, design.passives)
        self.passives = [[self.ledger.hang() for _ in range(count)] for count in counts]
        self.passives_hung = self.all_passives
        self.corners = footside.corners_after(self.piece) if habits.corner_pins else {}
        for arc in begin:
            # The pairs hung on at a corner hang round its pin.
            if self.arcs.edge[arc] and (corner := self.corners.pop(int(self.arcs.tail[arc]), None)):
                self.ledger.step = 0
                self._turn(self.on[arc], corner)

    @property
    def all_passives(self) -> tuple[int, ...]:
        """The segments of the passives, edge by edge, from the edge inwards."""
        return tuple(segment for edge in self.passives for segment in edge)

    def work(self) -> None:
        """Work every node in its order."""
        for step, node in enumerate(self.order.nodes):
            self.ledger.step = step
            kind = int(self.flow.kind[node])
            if kind == ROW:
                self._row(node)
            elif kind == UNIT:
                self._figure(node)
            else:
                self.pinhole(self.single[node])

    # --- segments on arcs ---------------------------------------------------------------------------------

    def take(self, arcs: Sequence[int]) -> list[int]:
        """The segments that come by arcs, through their cross-overs first."""
        for arc in arcs:
            if arc in self.over_crosses and arc not in self.crossed:
                left, right, unit = self.over_crosses[arc]
                self.crossed |= {left, right}
                given = self.ledger.cross(
                    self.on[left], self.on[right], unit.cross_over, self._between(left, right), CROSS_OVER,
                    filling=NUMBERS[unit.filling],
                )  # fmt: skip
                self.on[left], self.on[right] = given
                self.runs.update(zip(given, (left, right), strict=True))
        return [self.on.pop(arc) for arc in arcs]

    def give(self, arcs: Sequence[int], segments: Sequence[int]) -> None:
        self.runs.update(zip(segments, arcs, strict=True))
        for arc, segment in zip(arcs, segments, strict=True):
            if self.arcs.over[arc] or self.arcs.head[arc] == OUTSIDE:
                self.finished[arc] = segment
            else:
                self.on[arc] = segment

    def _between(self, left: int, right: int) -> Place:
        """The middle of the hole that two arcs pass side by side."""
        ends = np.concatenate([self.arcs.head[[left, right]], self.arcs.tail[[left, right]]])
        x, y = self.piece.pinholes[ends].mean(axis=0).tolist()
        return (x, y)

    def _place(self, pinhole: int) -> Place:
        x, y = self.piece.pinholes[pinhole].tolist()
        return (float(x), float(y))

    # --- what is worked at a node ------------------------------------------------------------------------

    def pinhole(self, pinhole: int, filling: int = NOWHERE) -> None:
        """Two pairs round a pin; filling: the number of that which the pin is part of."""
        coming = self.arcs.ordered(self.into_pinhole[pinhole], coming=True)
        going = self.arcs.ordered(self.out_of_pinhole[pinhole], coming=False)
        pairs, place = self.take(coming), self._place(pinhole)
        edge_number = int(self.piece.edge[pinhole])
        if edge_number != NO_EDGE:
            left = edge_number == LEFT_EDGE
            edge, ground = pairs if left else pairs[::-1]
            passives = self.passives[edge_number]
            given = footside.edge_pin(self.ledger, edge, ground, passives, place, left, self.habits)
            if pinhole in self.corners:
                self._turn(given[0], self.corners[pinhole])
            self.give(going, given if left else given[::-1])
            return
        moves, ground = GROUND_MOVES[self.habits.ground], int(self.layout.ground[pinhole])
        if filling == NOWHERE and ground >= 0:
            x, y = self.piece.pinholes[pinhole].tolist()
            moves, filling = GROUNDS[NAMES[ground]].moves_at((x, y)), ground
        one, other = pairs
        self.give(going, self.ledger.cross(one, other, moves, place, GROUND, filling=filling))

    def _turn(self, edge: int, corner: Place) -> None:
        """The edge pair and its passives turn round the pin of a corner."""
        for segment in (edge, *self.passives[LEFT_EDGE]):
            self.ledger.turn(segment, corner)

    def _figure(self, node: int) -> None:
        """A figure, as its filling says."""
        figure = self.layout.figures[int(self.layout.unit_of[self.flow.node == node][0])]
        FIGURES[figure.unit.filling].work(FigureHands(self, node, NUMBERS[figure.unit.filling]), figure)

    def arcs_of(self, node: int) -> tuple[list[int], list[int]]:
        """The arcs into a node and out of it, from left to right."""
        inner = set(self.into[node]) & set(self.out_of[node])
        coming = [arc for arc in self.into[node] if arc not in inner or self.arcs.over[arc]]
        going = [arc for arc in self.out_of[node] if arc not in inner or self.arcs.over[arc]]
        return self.arcs.ordered(coming, coming=True), self.arcs.ordered(going, coming=False)

    def _row(self, node: int) -> None:
        coming, going = self.arcs_of(node)
        row = self.chains.row(node, coming, going)
        chain = self.chains.number.get(node)
        if chain is None:
            self._lone_row(row, coming, going)
        else:
            self._next_row(chain, node, row, coming, going)
        for place in self.chains.other_pins(node, row):
            self.ledger.stand(place)

    def _next_row(self, chain: int, node: int, row: Row, coming: Sequence[int], going: Sequence[int]) -> None:
        """The next row of a chain."""
        if node in self.chains.first:
            self.stacks[chain] = self._stack(row, coming[0], self._with_passives(node, self.take(coming)))
        else:
            for side, arc in ((LEFT, coming[0]), (RIGHT, coming[-1])):
                if not self.chains.within(arc):
                    self.stacks[chain].join(side, self.take([arc])[0])
        stack = self.stacks[chain]
        stack.work(row)
        if row.last:
            self._leave(going, self._without_passives(node, stack.pairs), stack.stitch)
            return
        for side, arc in ((LEFT, going[0]), (RIGHT, going[-1])):
            if row.leaving[side]:
                self._leave([arc], [stack.leave(side)], stack.stitch)

    def _with_passives(self, node: int, pairs: list[int]) -> list[int]:
        """The pairs of a block's first row; in a scallop the passives lie beside the edge pair, which is outermost."""
        edge = self.chains.headside(node)
        if edge == NO_EDGE:
            return pairs
        at = 1 if edge == LEFT_EDGE else len(pairs) - 1
        return [*pairs[:at], *_from_left(self.passives[edge], edge), *pairs[at:]]

    def _without_passives(self, node: int, pairs: list[int]) -> list[int]:
        edge = self.chains.headside(node)
        if edge == NO_EDGE:
            return pairs
        count = len(self.passives[edge])
        at = 1 if edge == LEFT_EDGE else len(pairs) - 1 - count
        self.passives[edge] = _from_left(pairs[at : at + count], edge)
        return [*pairs[:at], *pairs[at + count :]]

    def _lone_row(self, row: Row, coming: Sequence[int], going: Sequence[int]) -> None:
        """A row of a block that splits or merges: its worker comes by one of its arcs, or is found anew among the pairs
        that are in the block."""
        pairs = self.take(coming)
        stack = self._stack(row, coming[0], pairs)
        within = [place for place, arc in enumerate(coming) if self.chains.within(arc)]
        known = [place for place in within if pairs[place] in self.workers]
        workers = known or within
        if workers:
            stack.worker = workers[0] if stack.near == LEFT else workers[-1]
        stack.work(row, self.workers.get(pairs[stack.worker]) if known else None)
        self.workers[stack.pairs[stack.worker]] = stack.turned
        self._leave(going, stack.pairs, stack.stitch)

    def _stack(self, row: Row, arc: int, pairs: list[int]) -> Stack:
        block = self.design.blocks[self.layout.block[self.arcs.head[arc]]]
        near = row.order[0] if row.order else LEFT
        return Stack(self.ledger, block.stitch, self.habits, near, pairs)

    def _leave(self, arcs: Sequence[int], segments: Sequence[int], stitch: str) -> None:
        """Give segments out of a block's row; those that leave the block are twisted."""
        for arc, segment in zip(arcs, segments, strict=True):
            if stitch == CLOTH and self.chains.leaves(arc):
                self.ledger.twist(segment, self.habits.leaving)
        self.give(arcs, segments)


def _from_left(passives: list[int], edge: int) -> list[int]:
    """Passives told from their edge inwards, from left to right; and the other way round."""
    return passives if edge == LEFT_EDGE else passives[::-1]
