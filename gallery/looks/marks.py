"""The lines of a design: the line of every pair outside the blocks, the figures, the edge.

Everything is arrays in lattice units, worked out for all pinholes at once; how it is inked is the business of
the looks.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from constraints.design import Design
from constraints.fillings import NUMBERS
from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, STEPS, BoolArray, FloatArray, IntArray
from constraints.layout import Layout, lay, locate
from constraints.pins import pin_places
from gallery.looks.blocks import whole_holes
from gallery.looks.pair_steps import Legs, Steps, Tips

_DOT = 5e-4  # half the length of the line that stands for a dot


class Marks:
    """The lines of one square. Each step of a pair outside the blocks is exactly one of: a line of `ground`,
    one of the `sides` of a figure, one of the two pairs of a cross-over (`crossing`), or one of the `legs`.
    """

    def __init__(self, design: Design) -> None:
        self.design = design
        self.layout: Layout = lay(design)
        self.piece = self.layout.piece
        units = self.layout.units
        empty = np.empty((0, 2), dtype=np.int64)
        # (k, 2) centres of all figures in the order of Layout.unit_of, and (k,) their size if their pairs meet at one
        # pin, else 0.
        self.centres: IntArray = np.concatenate([empty, *(placed.centres for placed in units)])
        gathered = [np.full(len(p.centres), p.unit.size if p.unit.gathered else 0) for p in units]
        self.sizes: IntArray = np.concatenate([empty[:, 0], *gathered])
        tops = np.concatenate([empty[:, 0], *(placed.places[:, 0] for placed in units)])
        # (k, 2) the working direction at each figure.
        self.along: IntArray = self.piece.directions[self.piece.zone[tops]]

    @cached_property
    def bare_places(self) -> BoolArray:
        """(n,) pinholes in figures whose pairs meet at one pin."""
        return np.append(self.sizes, 0)[self.layout.unit_of] > 0

    @property
    def crossing_figures(self) -> IntArray:
        """(k,) the numbers of the figures with cross-overs at their corners."""
        return np.array([n for n, each in enumerate(self.layout.figures) if each.unit.cross_over], dtype=np.int64)

    @property
    def bodies(self) -> IntArray:
        """(k, 2) centres of the figures whose pairs meet at one pin; `sizes[sizes > 0]` goes with them."""
        bodies: IntArray = self.centres[self.sizes > 0]
        return bodies

    # --- steps ------------------------------------------------------------------------------------------

    @cached_property
    def steps(self) -> Steps:
        """Every step of the piece, each once."""
        first, step = np.nonzero(self.piece.neighbours[:, [DOWN_RIGHT, DOWN_LEFT]] >= 0)
        return Steps(first, self.piece.neighbours[first, step], step)

    @cached_property
    def hidden(self) -> BoolArray:
        """(m,) steps inside a block or the body of a figure: there the pairs do not run along steps."""
        first, last = self.steps.first, self.steps.last
        block, unit = self.layout.block, self.layout.unit_of
        in_block = (block[first] == block[last]) & (block[first] >= 0)
        in_body = (unit[first] == unit[last]) & self.bare_places[first]
        hidden: BoolArray = in_block | in_body
        return hidden

    @cached_property
    def _side(self) -> BoolArray:
        unit = self.layout.unit_of
        side: BoolArray = (unit[self.steps.first] == unit[self.steps.last]) & (unit[self.steps.first] >= 0)
        return side & ~self.hidden

    @cached_property
    def _crossed(self) -> BoolArray:
        """(m,) steps whose pair goes through a cross-over instead."""
        left = np.zeros((len(self.piece), 4), dtype=np.bool_)
        left[self._crossing[0].pin, self._crossing[0].step] = True
        crossed: BoolArray = left[self.steps.first, self.steps.step]
        return crossed

    @cached_property
    def _leg(self) -> BoolArray:
        bare = self.bare_places
        leg: BoolArray = bare[self.steps.first] | bare[self.steps.last]
        return leg & ~self.hidden & ~self._crossed

    @cached_property
    def ground(self) -> Steps:
        """Pairs of the ground, of the edge, and between ground and blocks."""
        return self.steps.where(~(self.hidden | self._side | self._crossed | self._leg))

    @cached_property
    def sides(self) -> Steps:
        """The steps within figures that are worked pin by pin."""
        return self.steps.where(self._side)

    def ends(self, steps: Steps) -> FloatArray:
        """(m, 2, 2) both ends of steps. The far end is one step on, also where a piece joins itself."""
        start = self.piece.pinholes[steps.first]
        return np.stack([start, start + STEPS[steps.step]], axis=1).astype(np.float64)

    def bridges(self, which: BoolArray) -> FloatArray:
        """(k, 2, 2) what the mask `which` (n,) of block places holds beside closed holes.

        Steps of a trail one place wide, and single places as dots (very short lines). Headsides are closed all over.
        """
        full = whole_holes(self.layout)
        closed = np.zeros(len(self.piece), dtype=np.bool_)
        closed[full] = True
        beside = np.zeros((len(self.piece), 2), dtype=np.bool_)
        beside[full[:, 0]] = True  # both sides that leave the top pinhole of a closed hole
        beside[full[:, 3], DOWN_RIGHT] = beside[full[:, 1], DOWN_LEFT] = True
        first, last, step = self.steps.first, self.steps.last, self.steps.step
        lone = self.hidden & which[first] & ~beside[first, step] & ~self.piece.fan[first]
        met = closed
        met[first[lone]] = met[last[lone]] = True
        single = self.piece.pinholes[which & self.layout.inside & ~met]
        dots = single[:, None, :] + np.array([(-_DOT, 0.0), (_DOT, 0.0)])
        return np.concatenate([self.ends(self.steps.where(lone)), dots])

    # --- figures ----------------------------------------------------------------------------------------

    @cached_property
    def _crossing(self) -> tuple[Tips, IntArray]:
        """At each corner of a figure with cross-overs two pairs cross without a pin, in the middle of the hole there.

        So each of the hole's four pinholes sends a pair to the middle of the hole. With each the number of the filling.
        """
        own_fillings = np.array([NUMBERS[each.unit.filling] for each in self.layout.figures], dtype=np.int64)
        over = self.crossing_figures[np.argsort(own_fillings[self.crossing_figures], kind="stable")]
        centres, fillings = self.centres[over], own_fillings[over]
        pins, steps, middles, of = [], [], [], []
        for step, corner in enumerate(STEPS):
            for inner in ((corner[0], 0), (0, corner[1])):
                own = locate(self.piece, centres + np.array(inner))
                pins += [own, self.piece.neighbours[own, step]]
                steps += [np.full(len(own), step), np.full(len(own), (step + 2) % 4)]
                middles += [centres + corner] * 2
                of += [fillings] * 2
        pin, step_of, middle = np.concatenate(pins), np.concatenate(steps), np.concatenate(middles)
        # Neighbouring figures share a corner.
        _, once = np.unique(pin * 4 + step_of, return_index=True)
        once = once[pin[once] >= 0]
        return Tips(pin[once], step_of[once], middle[once].astype(np.float64)), np.concatenate(of)[once]

    @cached_property
    def _crossing_seen(self) -> BoolArray:
        return ~self.bare_places[self._crossing[0].pin]

    @cached_property
    def crossing(self) -> Tips:
        """The pairs of the cross-overs, each from its pinhole to the cross-over."""
        return self._crossing[0].where(self._crossing_seen)

    @property
    def crossing_filling(self) -> IntArray:
        """(k,) the number of the filling for each pair of `crossing`."""
        filling: IntArray = self._crossing[1][self._crossing_seen]
        return filling

    @cached_property
    def crossing_lines(self) -> FloatArray:
        """(k, 2, 2) the pairs of the cross-overs from pinhole to cross-over."""
        return np.stack([self.piece.pinholes[self.crossing.pin], self.crossing.towards], axis=1)

    @cached_property
    def legs(self) -> Legs:
        """The legs of all figures with one pin."""
        steps = self.steps.where(self._leg)
        forward = self.bare_places[steps.last]
        inner, outer = np.where(forward, steps.last, steps.first), np.where(forward, steps.first, steps.last)
        through = self._crossing[0].where(~self._crossing_seen)
        number = self.layout.unit_of[np.concatenate([inner, through.pin])]
        # A leg that comes through a cross-over is counted with the pinhole of the figure it belongs to.
        pin = np.concatenate([outer, through.pin])
        step = np.concatenate([np.where(forward, steps.step, steps.step + 2), through.step])
        start = np.concatenate([self.piece.pinholes[outer].astype(np.float64), through.towards])
        return Legs(Tips(pin, step, self.centres[number].astype(np.float64)), start, number, self.sizes[number])

    def figure_lines(self, name: str) -> FloatArray:
        """(k, 2, 2) the lines of one filling's figures: sides, pairs of cross-overs, legs."""
        filling = np.array([NUMBERS[each.unit.filling] for each in self.layout.figures] + [-1], dtype=np.int64)
        sides = self.sides.where(filling[self.layout.unit_of[self.sides.first]] == NUMBERS[name])
        crossing = self.crossing_lines[self.crossing_filling == NUMBERS[name]]
        legs = self.legs.lines[filling[self.legs.figure] == NUMBERS[name]]
        return np.concatenate([self.ends(sides), crossing, legs])

    @cached_property
    def open_pins(self) -> BoolArray:
        """(n,) pinholes at which two pairs meet round a pin: outside blocks and bodies of figures."""
        return ~self.layout.inside & ~self.bare_places

    # --- eyes ---------------------------------------------------------------------------------------

    def eyes(self, wide: float, high: float) -> list[FloatArray]:
        """The holes of the eyes as closed rings, pointed where the passives part and meet again: so wide across the
        work, so high along it, lattice units."""
        share = np.linspace(-1.0, 1.0, 9)
        bulge = wide / 2 * (1 - share**2)
        at = np.flatnonzero(self.layout.eyes)
        rings = []
        for place, along in zip(self.piece.pinholes[at], self.piece.directions[self.piece.zone[at]], strict=True):
            sideways = np.array([along[1], -along[0]])
            sides = [share[:, None] * high / 2 * along + hand * bulge[:, None] * sideways for hand in (1, -1)]
            rings.append(place + np.concatenate([sides[0], sides[1][-2:0:-1]]))
        return rings

    def eye_ways(self, wide: float, apart: float) -> FloatArray:
        """(2k, 2, 2) the two ways of the worker across each eye, so wide and so far apart, lattice units."""
        at = np.flatnonzero(self.layout.eyes)
        along = self.piece.directions[self.piece.zone[at]]
        sideways = np.stack([along[:, 1], -along[:, 0]], axis=1) * wide / 2
        middle = np.concatenate([self.piece.pinholes[at] + hand * apart / 2 * along for hand in (-1, 1)])
        reach = np.concatenate([sideways, sideways])
        return np.stack([middle - reach, middle + reach], axis=1).astype(np.float64)

    # --- pins -----------------------------------------------------------------------------------------

    @cached_property
    def pins(self) -> FloatArray:
        """(k, 2) where real pins stand."""
        return pin_places(self.layout)

    def in_ground(self, name: str) -> IntArray:
        """(k, 2) pinholes worked in a ground."""
        own: IntArray = self.piece.pinholes[self.layout.ground == NUMBERS[name]]
        return own
