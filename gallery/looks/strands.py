"""The threads outside the blocks: ground, figures, edge.

A pair of plain ground keeps its two threads on either side of every pin it meets and twists once between two
pins: CT pin CT, played on four threads, sends each pair straight on along its diagonal, one thread passing
left of the pin and one right, and its last twist crosses the two before the next pin. So a line of ground is
two waves that open round the pins and cross halfway. In a ground of its own each pair bends round its pin as that says.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from constraints.fillings import GROUNDS, NUMBERS, UNITS
from constraints.lattice import STEPS, BoolArray, FloatArray, IntArray
from constraints.moves import change_places
from constraints.piece import RIGHT_EDGE
from gallery.looks.cloth import Woven
from gallery.looks.edges import edge_lines, edge_links
from gallery.looks.marks import Marks
from gallery.looks.pair_steps import Steps, Tips
from gallery.looks.threads import NONE, DrawnThread, aside, crossings, halved, on_top, pieces, twisted, unit, waves

# How far a pair's threads lie from its line: round a pin, in a cross-over, in a tight twist.
AT_PIN, AT_CROSSING, TIGHT = 0.17, 0.08, 0.07
# Threads along a side of a figure's body for each pinhole along its side: two for each pair of one side.
BODY = 2
BODY_SPACING = 0.15
_SWING = 0.22  # how far outside its pins the edge pair swings
_TOP = 0.26  # length of a piece drawn on top
# Where pairs part without a pin: how far a line lies beside the middle, before and after it, and its threads from it.
_PARTING = ((0.11, 0.15), (0.15, 0.11))
# The fillings whose cross-overs take each pair whole through the other, by number.
_WHOLE = {NUMBERS[unit.filling] for unit in UNITS.values() if change_places(unit.cross_over)}
_BACK = [2, 3, 0, 1]  # the opposite of each of lattice.STEPS


class Strands:
    """The threads of one square outside its blocks."""

    def __init__(self, marks: Marks) -> None:
        self.marks = marks
        self.piece = marks.piece
        self.pinholes: FloatArray = marks.piece.pinholes.astype(np.float64)

    def all(self) -> DrawnThread:
        """Everything outside the blocks."""
        ground = self.net() + self.bends() + self.pin_crossings()
        return ground + self.crossovers() + self.legs() + self.edge() + self.loose()

    @cached_property
    def directions(self) -> FloatArray:
        """(n, 4, 2) the unit direction in which a pair leaves each pinhole in place of each of its four steps.

        A pair goes smoothly through a pin: its direction there lies between the strand it comes by and the one,
        opposite, by which it leaves.
        """
        out = np.broadcast_to(unit(STEPS.astype(np.float64)), (len(self.piece), 4, 2)).copy()
        for tips in (self.marks.crossing, self.marks.legs.tips):
            out[tips.pin, tips.step] = unit(tips.towards - self.pinholes[tips.pin])
        edge = self._edge_tips
        out[edge.pin, edge.step] = unit(edge.towards - self.pinholes[edge.pin])
        return unit(out - out[:, _BACK])

    @cached_property
    def _edge_tips(self) -> Tips:
        """The edge pair leaves and reaches edge pins in place of steps that would lead off the piece.

        First where it leaves each of edge_links, then where it arrives.
        """
        begin, end = edge_links(self.marks.piece)
        bend = edge_lines(self.marks.piece, 0.0)[:, 1]
        steps = [self._free(pins, bend) for pins in (begin, end)]
        return Tips(np.concatenate([begin, end]), np.concatenate(steps), np.concatenate([bend, bend]))

    def _free(self, pins: IntArray, towards: FloatArray) -> IntArray:
        """The step of each edge pin that leads nowhere and lies nearest to a direction."""
        lie = (STEPS * (towards - self.pinholes[pins])[:, None, :]).sum(axis=2)
        lie[self.piece.neighbours[pins] >= 0] = -np.inf
        nearest: IntArray = lie.argmax(axis=1)
        return nearest

    @property
    def _worked_outwards(self) -> BoolArray:
        """(n, 4) the steps that lead out of the piece beside a headside, but for a strip's end: no pair ends there."""
        piece = self.piece
        forward = piece.directions[piece.zone]
        side = np.where(piece.edge == RIGHT_EDGE, 1, -1)[:, None]
        outward = side * np.stack([forward[:, 1], -forward[:, 0]], axis=1)
        rows = piece.pinholes[:, 1]
        ends = ((rows == rows.max()) | (rows == rows.min())) & (len(piece.directions) == 1)
        beside = np.isin(piece.edge, piece.fan_edges) & ~ends
        found: BoolArray = beside[:, None] & (outward @ STEPS.T > 0)
        return found

    def _waves(self, steps: Steps) -> FloatArray:
        ends = self.marks.ends(steps)
        leave, arrive = self.directions[steps.first, steps.step], -self.directions[steps.last, steps.step + 2]
        return waves(ends[:, 0], leave, ends[:, 1], arrive, AT_PIN, AT_PIN)

    @cached_property
    def bounced(self) -> BoolArray:
        """(n,) pins in a ground of their own all of whose four pairs are ground."""
        met = np.zeros(len(self.piece), dtype=np.int64)
        np.add.at(met, self.marks.ground.first, 1)
        np.add.at(met, self.marks.ground.last, 1)
        bounced: BoolArray = (self.marks.layout.ground >= 0) & (met == 4)
        return bounced

    def net(self) -> DrawnThread:
        """Ground and the sides of figures."""
        ground = self.marks.ground
        first, last = self.bounced[ground.first], self.bounced[ground.last]
        plain = self._waves(ground.where(~first & ~last))
        sides = self._waves(self.marks.sides)
        before = halved(self._waves(ground.where(last & ~first)), False)
        after = halved(self._waves(ground.where(first & ~last)), True)
        over = [on_top(curves, _TOP) for curves in (plain, sides)]
        return DrawnThread(np.concatenate([plain, sides, before, after]), np.concatenate(over))

    def bends(self) -> DrawnThread:
        """Both pairs of every pin in a ground of its own, from halfway before it to halfway after."""
        made, over = [NONE.curves], [NONE.over]
        for name, ground in GROUNDS.items():
            own = self.bounced & (self.marks.layout.ground == NUMBERS[name])
            pins = self.pinholes[own]
            along = self.piece.directions[self.piece.zone[own]].astype(np.float64)
            right = -aside(along)
            for bend in ground.bends:
                start, leave, end, arrive = (
                    across * right + down * along for across, down in (bend.start, bend.leave, bend.end, bend.arrive)
                )
                threads = waves(pins + start, unit(leave), pins + end, arrive, bend.spread, bend.close)
                bow = np.repeat([bend.bow, -bend.bow], len(pins))[:, None]
                threads[:, 1] += bow * np.tile(aside(unit(leave)), (2, 1))
                made.append(threads)
                over += [on_top(threads, _TOP)] if bend.crossed else []
        return DrawnThread(np.concatenate(made), np.concatenate(over))

    def pin_crossings(self) -> DrawnThread:
        """What lies on top round every open pin at which two pairs meet."""
        pins = self.marks.open_pins & ~self.bounced & (self.piece.depth > 0)
        one, other = self.directions[pins, 0], self.directions[pins, 1]
        return DrawnThread(NONE.curves, crossings(self.pinholes[pins], one, other, AT_PIN, _TOP))

    def crossovers(self) -> DrawnThread:
        """Pairs from the pins of figures and round them to the cross-overs."""
        whole = np.array([filling in _WHOLE for filling in self.marks.crossing_filling.tolist()], dtype=np.bool_)
        tips = self.marks.crossing.where(whole)
        start = self.pinholes[tips.pin]
        leave, arrive = self.directions[tips.pin, tips.step], unit(tips.towards - start)
        made = waves(start, leave, tips.towards, arrive, AT_PIN, AT_CROSSING)
        middles = np.unique(tips.towards, axis=0)
        level, upright = (np.broadcast_to(direction, middles.shape) for direction in np.eye(2))
        over = crossings(middles, level, upright, AT_CROSSING, 0.16)
        return DrawnThread(made, np.concatenate([on_top(made, 0.2), over])) + self._parting(~whole)

    def _parting(self, which: BoolArray) -> DrawnThread:
        """Cross-overs at which pairs part: of each the inner thread goes to the other side, the outer one stays."""
        tips = self.marks.crossing.where(which)
        start, direction = self.pinholes[tips.pin], unit(STEPS[tips.step].astype(np.float64))
        from_middle = start - tips.towards
        side = unit(from_middle - (from_middle * direction).sum(axis=1)[:, None] * direction)
        after = (direction * self.piece.directions[self.piece.zone[tips.pin]]).sum(axis=1) < 0
        made = []
        for follows, (beside, spread) in zip((False, True), _PARTING, strict=True):
            own = after == follows
            ends = tips.towards[own] + beside * side[own]
            leave = self.directions[tips.pin, tips.step][own]
            made.append(waves(start[own], leave, ends, direction[own], AT_PIN, spread))
        middles, once = np.unique(tips.towards[~after], axis=0, return_index=True)
        ahead = direction[~after][once]
        over = [on_top(each, 0.2) for each in made] + [pieces(middles, unit(ahead - aside(ahead)), 0.16)]
        return DrawnThread(np.concatenate(made), np.concatenate(over))

    def legs(self) -> DrawnThread:
        """Legs: a wave from the ring, then twists to the body."""
        legs = self.marks.legs
        tips = legs.tips
        line = legs.lines
        towards = unit(line[:, 1] - line[:, 0])
        body = BODY_SPACING * (BODY * legs.size)[:, None]
        knot = line[:, 0] + 0.42 * towards
        first = waves(line[:, 0], self.directions[tips.pin, tips.step], knot, towards, AT_PIN, TIGHT)
        ends = np.stack([knot, line[:, 1] - 0.6 * body * towards], axis=1)
        rest = twisted(ends, 3, TIGHT)
        return DrawnThread(np.concatenate([first, rest]), np.concatenate([on_top(first, 0.2), on_top(rest, 0.2)]))

    def edge(self) -> DrawnThread:
        """The edge pair, swinging outside from pin to pin with two twists."""
        begin, end = edge_links(self.marks.piece)
        swung = edge_lines(self.marks.piece, -_SWING)
        middle = (swung[:, 0] + 2 * swung[:, 1] + swung[:, 2]) / 4
        direction = unit(swung[:, 2] - swung[:, 0])
        tips = self._edge_tips
        leave, arrive = np.split(self.directions[tips.pin, tips.step], 2)
        out = waves(self.pinholes[begin], leave, middle, direction, AT_PIN, TIGHT)
        back = waves(middle, direction, self.pinholes[end], -arrive, TIGHT, AT_PIN)
        return DrawnThread(np.concatenate([out, back]), np.concatenate([on_top(out, 0.2), on_top(back, 0.2)]))

    def loose(self) -> DrawnThread:
        """Where the work begins, threads hung round their pins; where it ends, pairs that hang out."""
        missing = self.piece.neighbours < 0
        missing[self._edge_tips.pin, self._edge_tips.step] = False
        missing &= ~self._worked_outwards & ~self.marks.bare_places[:, None]
        pin, step = np.nonzero(missing & (self.piece.neighbours >= 0)[:, _BACK])
        ends = self.piece.runs_out[pin, step]
        hung = self.directions[pin, (step + 2) % 4][~ends]
        start = self.pinholes[pin[~ends]]
        round_pin = [(1, 0), (1, -0.24), (-1, -0.24), (-1, 0)]
        loops = [start + a * AT_PIN * aside(hung) + b * hung for a, b in round_pin]
        pin, step = pin[ends], step[ends]
        along = self.piece.directions[self.piece.zone[pin]]
        apart = STEPS[step] - along
        hangs = self.pinholes[pin] + 0.35 * along + 0.12 * apart
        tails = twisted(np.stack([hangs, hangs + 0.55 * along + 0.04 * apart], axis=1), 2, TIGHT)
        out = waves(self.pinholes[pin], self.directions[pin, step], hangs, along.astype(np.float64), AT_PIN, TIGHT)
        return DrawnThread(np.concatenate([np.stack(loops, axis=1), out, tails]), on_top(tails, 0.16))


def woven_body(centres: FloatArray, along: IntArray, threads: int) -> Woven:
    """Bodies of figures: all left pairs cross all right pairs in cloth stitch, a small cloth on its point.

    along: (k, 2) the working direction at each centre.
    """
    sideways = -aside(along.astype(np.float64))
    one, other = unit(along + sideways)[:, None], unit(along - sideways)[:, None]
    shift = (np.arange(threads) - (threads - 1) / 2)[:, None] * BODY_SPACING
    reach = threads / 2 * BODY_SPACING
    laid = []
    for direction, side in ((one, other), (other, one)):
        middle = centres[:, None] + shift * side
        laid.append(np.stack([middle - reach * direction, middle + reach * direction], axis=2).reshape(-1, 2, 2))
    i, j = np.nonzero(np.add.outer(np.arange(threads), np.arange(threads)) % 2 == 0)
    middle = centres[:, None] + shift[i] * other + shift[j] * one
    over = pieces(middle.reshape(-1, 2), np.repeat(one[:, 0], len(i), axis=0), 0.12)
    return Woven(laid[0], laid[1], over)
