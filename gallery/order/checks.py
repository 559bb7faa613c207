"""Where every pair should hang at places in the order of work, so that she can look before she goes on.

It is read from the ledger of the work: between two of its steps every pair is a segment, which runs along an arc from
the pin that holds it, or lies within a block. Pairs are counted as in the words of the steps.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby

import numpy as np

from constraints.working.arcs import OUTSIDE
from constraints.working.block_rows import corner_pins
from constraints.working.ends import places_from_footside
from constraints.working.ledger import CROSS_OVER, NOWHERE
from constraints.working.numbers import number_at
from constraints.working.steps import BlockPart, CornerPin, Step, steps_of
from constraints.working.work import Work
from gallery.order.called import called, pin_at
from gallery.order.edges import edge_pairs, far_edge
from gallery.order.numbers import by_runs
from gallery.order.words import STEP, TextLine

# She looks after so many lines at the latest; after a block that is done, if she has not looked for so many.
_LATEST, _SOONEST = 8, 4
# So many pins that follow one another are told as a row.
_A_ROW = 3


@dataclass(frozen=True)
class HangingPairs:
    """Pairs side by side that hang at one place. pairs: their numbers, such as "5\N{EN DASH}8"; who: what they are if
    they run along an edge, else ""; where: in words."""

    pairs: str
    who: str
    where: str


def checks(work: Work, lines: Sequence[TextLine]) -> dict[int, tuple[HangingPairs, ...]]:
    """After which lines of an order of work she looks, and where all pairs hang then, from the footside inwards."""
    steps = steps_of(work)
    done = list(accumulate(line.steps for line in lines))
    nodes = list(accumulate((len(step.nodes) for step in steps), initial=0))
    standing = BetweenSteps(work, steps)
    return {line: standing.after(nodes[done[line]]) for line in _places(lines, done, steps)}


def _places(lines: Sequence[TextLine], done: Sequence[int], steps: Sequence[Step]) -> Iterator[int]:
    """The lines after which she looks: where a part of the work ends, soon after a block is done, else now and then.
    Within what comes again and again only where it ends, as its pins are others every time."""
    since, repeating = 0, _repeating(lines)
    for number, line in enumerate(lines[:-1]):
        since += line.kind == STEP
        if not line.steps or done[number] == len(steps) or isinstance(steps[done[number]], CornerPin):
            continue
        last = steps[done[number] - 1]
        ends = lines[number + 1].kind != STEP
        block = isinstance(last, BlockPart) and last.done and since >= _SOONEST
        if ends or ((block or since >= _LATEST) and number not in repeating):
            yield number
            since = 0


def _repeating(lines: Sequence[TextLine]) -> set[int]:
    """The lines of steps that another line has her work again."""
    found = set()
    for number, line in enumerate(lines):
        if line.again:
            found |= {
                before for before, each in enumerate(lines[:number]) if each.kind == STEP and each.number >= line.again
            }
    return found


# Pairs side by side, the edge at which they run, if they do, and where they hang.
_Held = tuple[list[int], int | None, str]


def _in_rows(held: Sequence[_Held]) -> Iterator[_Held]:
    """The same, but pairs that hang one each at pins that follow one another are told together."""
    rows: list[tuple[list[int], list[int]]] = []

    def told() -> Iterator[_Held]:
        for pairs, pins in rows:
            if len(pins) >= _A_ROW:
                yield pairs, None, f"pins {pins[0]}\N{EN DASH}{pins[-1]}, one at each"
            else:
                yield from (([pair], None, f"pin {pin}") for pair, pin in zip(pairs, pins, strict=True))
        rows.clear()

    for pairs, edge, where in held:
        pin = int(where[4:]) if where[4:].isdecimal() and len(pairs) == 1 and edge is None else None
        if pin is None:
            yield from told()
            yield pairs, edge, where
            continue
        row = rows[-1][1] if rows else []
        on = (row[1] - row[0],) if len(row) > 1 else (1, -1)
        if row and pin - row[-1] in on:
            rows[-1][0].extend(pairs)
            row.append(pin)
        else:
            rows.append((list(pairs), [pin]))
    yield from told()


class BetweenSteps:
    """The pairs between two steps of a work."""

    def __init__(self, work: Work, steps: Sequence[Step]) -> None:
        self.work, self.called = work, called(work, steps)
        segments, crossings, design = work.segments, work.crossings, work.design
        self.place = places_from_footside(work)
        # The step in which each segment begins and ends.
        step = np.append(crossings.step, [NOWHERE, len(work.order.nodes)])
        self.begin = step[np.where(segments.tail == NOWHERE, -2, segments.tail)]
        self.end = step[np.where(segments.head == NOWHERE, -1, segments.head)]
        self.finished = {*work.finished.values(), *work.passives_finished}
        self.numbers = number_at(work)
        corners = corner_pins(work)
        held = ((turn.segment, work.pins[turn.pin].place) for turn in work.turns)
        self.corner = {segment: place for segment, place in held if place in corners}
        # What is worked round one pin, by its pinholes.
        self.round_one = {
            pinhole: step.pins[0]
            for step in steps
            if not isinstance(step, BlockPart) and len(step.nodes) == 1 == len(step.pins)
            for pinhole in np.flatnonzero(work.flow.node == work.order.nodes[step.nodes[0]]).tolist()
        }
        counts, far = design.form.passives(design.worked, design.passives), far_edge(design)
        # At which edge the pairs of its edge lie: the edge pair and its passives.
        self.edges = {0: (range(1, 2 + counts[0]), edge_pairs(design, 0))}
        if far:
            words = edge_pairs(design, 1).replace("edge pair", f"edge pair of the {far}")
            self.edges[1] = (range(design.pairs - counts[1], design.pairs + 1), words)

    def after(self, nodes: int) -> tuple[HangingPairs, ...]:
        """Where all pairs hang once so many pinholes, rows and figures are worked."""
        now = np.flatnonzero((self.begin < nodes) & (self.end >= nodes))
        segment = dict(zip(self.place[now].tolist(), now.tolist(), strict=True))
        every = []
        for pair in sorted(segment):
            edge = next((edge for edge, (pairs, _) in self.edges.items() if pair in pairs), None)
            # The passives of an edge hang with its edge pair.
            own = segment[pair if edge is None else 1 if not edge else self.work.design.pairs]
            every.append((pair, edge, self._where(own)))
        held: list[_Held] = []
        for (edge, where), group in groupby(every, key=lambda each: each[1:]):
            held.append(([pair for pair, _, _ in group], edge, where))
        return tuple(
            HangingPairs(by_runs(pairs), "" if edge is None else self.edges[edge][1], where)
            for pairs, edge, where in _in_rows(held)
        )

    def _where(self, segment: int) -> str:
        work = self.work
        tail = int(work.segments.tail[segment])
        crossed = ", crossed over" if tail != NOWHERE and work.crossings.kind[tail] == CROSS_OVER else ""
        return self._held(segment, int(work.on[segment]), tail) + crossed

    def _held(self, segment: int, arc: int, tail: int) -> str:
        work = self.work
        if segment in self.finished:
            return "done"
        if segment in self.corner:
            return f"pin {self.numbers[self.corner[segment]]}"
        if arc == OUTSIDE:  # between two rows of a block
            pinhole = int(work.pinhole[work.crossings.step[tail]])
            return f"in {self._block(pinhole)}"
        above, below = int(work.arcs.tail[arc]), int(work.arcs.head[arc])
        if above == OUTSIDE or work.arcs.over[arc]:
            return "as you hung them on"
        block = int(work.layout.block[above])
        if block >= 0 and block == work.layout.block[below] and arc not in work.seams.over:
            return f"in {self._block(above)}"
        pin = self._pin(above, arc)
        return f"pin {pin}" if pin is not None else f"out of {self._block(above)}"

    def _pin(self, pinhole: int, arc: int) -> int | None:
        """The pin that holds what leaves a pinhole; on a corner line that of both halves of a block."""
        if pinhole in self.round_one:
            return self.round_one[pinhole]
        seams = self.work.seams
        on_line = seams.end_of.get(arc)
        if on_line in self.numbers:
            return self.numbers[on_line]
        own = pin_at(self.work, pinhole)
        return self.numbers.get(seams.pin_instead.get((pinhole, False), (np.nan, np.nan))) if own is None else own

    def _block(self, pinhole: int) -> str:
        return self.called.name(int(self.work.layout.block[pinhole]))
