"""A design worked from the first pair hung on to the last one finished."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from constraints.design import Design
from constraints.flow import Flow, flow_of
from constraints.lattice import IntArray
from constraints.layout import Layout, lay
from constraints.nodes import nodes_of
from constraints.seams import Seams
from constraints.working import footside
from constraints.working.arcs import OUTSIDE, Arcs
from constraints.working.blocks import Chains
from constraints.working.gimp import Gimp, gimps_round, segment_passed
from constraints.working.habits import Habits
from constraints.working.ledger import Crossings, Opening, Pin, Segments, Turn
from constraints.working.order import Order
from constraints.working.pillow import Pillow
from constraints.working.start import start_row


@dataclass(frozen=True, eq=False)
class Work:
    """How a design is worked.

    order: the nodes of `flow` as they are worked; `crossings.step` counts through it. hung, finished: arc of `arcs`
    to the segment that is hung or finished on it. on: (m,) the arc that each segment runs along, OUTSIDE for those
    within a row or figure and for passives. turns: of workers round pins, in the order of work. eyes: twists of
    workers at eyes, so too. start_row: see
    `flow.over_start`. passives_hung, passives_finished: segments of the passives, edge by edge, from the edge
    inwards.
    """

    design: Design
    layout: Layout
    habits: Habits
    flow: Flow
    arcs: Arcs
    seams: Seams
    chains: Chains
    order: Order
    start_row: int | None
    gimps: tuple[Gimp, ...]
    crossings: Crossings
    segments: Segments
    pins: tuple[Pin, ...]
    turns: tuple[Turn, ...]
    eyes: tuple[Opening, ...]
    hung: dict[int, int]
    finished: dict[int, int]
    passives_hung: tuple[int, ...]
    passives_finished: tuple[int, ...]
    on: IntArray

    @cached_property
    def pinhole(self) -> IntArray:
        """(steps,) a pinhole of what each step of `order` works."""
        found: IntArray = self.flow.pinhole[list(self.order.nodes)]
        return found

    @cached_property
    def turned(self) -> tuple[tuple[int, ...], ...]:
        """For every pin the segments of workers that turn round it, in the order of work; more at an inner corner."""
        found: list[list[int]] = [[] for _ in self.pins]
        for turn in self.turns:
            found[turn.pin].append(turn.segment)
        return tuple(map(tuple, found))

    @property
    def pinned_otherwise(self) -> bool:
        """Whether papers of the design from before blocks were worked in halves have other pins on corner lines."""
        return len(self.seams.pins) > 0 and not self.design.corners

    @property
    def pairs(self) -> int:
        """All pairs hung on."""
        return len(self.hung) + len(self.passives_hung)


def work(design: Design, habits: Habits | None = None) -> Work:
    """Work a design that the second check accepts. ValueError if its flow has a cycle."""
    return work_of(lay(design), habits)


def work_of(layout: Layout, habits: Habits | None = None) -> Work:
    """Work what is laid on a piece of any outline. ValueError if its flow has a cycle, or if it is not worked in
    that way."""
    habits, start = habits or Habits(), layout.design.start
    row = start_row(layout, start, habits.start_line)
    flow = flow_of(layout.piece, nodes_of(layout, row), start, row)
    if len(flow.cycle):
        raise ValueError("the square cannot be worked: its flow has a cycle")
    if habits.corner_pins and not footside.corners_after(layout.piece):
        raise ValueError("corner pins stand where the footside goes round corners, and there are none")
    pillow = Pillow(layout, flow, habits, row)
    pillow.work()
    return _worked(pillow)


def _worked(pillow: Pillow) -> Work:
    """What was worked, once nothing is left to do."""
    crossings, segments = pillow.ledger.closed()
    on = np.full(len(segments), OUTSIDE)
    on[list(pillow.runs)] = list(pillow.runs.values())
    pins = tuple(pillow.ledger.pins)
    places = [pin.place for pin in pins]
    gimps = gimps_round(pillow.layout, pillow.flow, pillow.arcs, pillow.order, places, pillow.habits.gimp)
    more = np.zeros_like(segments.twists)
    for gimp in gimps:
        for passing in (*gimp.left, *gimp.right):
            more[segment_passed(on, passing)] += 2 * pillow.habits.at_gimp
    return Work(
        design=pillow.design,
        layout=pillow.layout,
        habits=pillow.habits,
        flow=pillow.flow,
        arcs=pillow.arcs,
        seams=pillow.seams,
        chains=pillow.chains,
        order=pillow.order,
        start_row=pillow.start_row,
        gimps=gimps,
        crossings=crossings,
        segments=replace(segments, twists=segments.twists + more),
        pins=pins,
        turns=tuple(pillow.ledger.turns),
        eyes=tuple(pillow.ledger.eyes),
        hung=pillow.hung,
        finished=pillow.finished,
        passives_hung=pillow.passives_hung,
        passives_finished=pillow.all_passives,
        on=on,
    )
