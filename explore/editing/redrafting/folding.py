"""A pricking folded onto one repeat: what most of its repeats have, and where its ends have something else."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from constraints.fillings import GATHERED
from constraints.lattice import BoolArray, IntArray, Point
from explore.editing.redrafting.bed import Bed, joined
from explore.editing.redrafting.draft import Draft

# A figure reaches no further from an end (rows).
_REACH = 7
# Unpinned places side by side that are no lost dots any more.
BLOCK = 3
# What a place of a repeat costs to tell, in bits: little where a second repeat bears it out, for most are pinned.
AGAIN, ONCE = 0.3, 1.0


@dataclass(frozen=True, eq=False)
class Fold:
    """pins: (n, columns), 1 where one is, on the grid or in the middle of a hole. firm: likewise, 1 where she has said
    whether one is. first: the number of the first row. rows: of the repeat."""

    pins: IntArray
    firm: IntArray
    first: int
    rows: int

    @classmethod
    def of(cls, draft: Draft, rows: int) -> Fold:
        """A draft folded onto so many rows."""
        first, last = draft.rows
        pins, firm = (np.zeros((last - first + 1, draft.columns), dtype=np.int64) for _ in range(2))
        for marked, places in ((pins, (*draft.taken, *draft.taken_centres)), (firm, draft.settled)):
            for column, row in places:
                if first <= row <= last and 0 <= column < draft.columns:
                    marked[row - first, column] = 1
        return cls(pins, firm, first, rows)

    @cached_property
    def _every(self) -> tuple[IntArray, IntArray]:
        """For every place of a repeat in how many repeats it is pinned, and in how many it is shown."""
        return self._folded(self.pins), self._folded(np.ones_like(self.pins))

    @cached_property
    def _ends(self) -> tuple[BoolArray, BoolArray]:
        """(n, columns) where an end certainly has otherwise what the repeat has: by blocks, and by figures."""
        there, seen = self._every
        pinned = (2 * there > seen) | (~self.grid(self.rows) & (there > 0) & (2 * there >= seen))
        blocks, figures = (self._mask(each) for each in self._cut(pinned).otherwise())
        otherwise = ((self.pins == 1) == self.grid(len(self.pins))) & (self.firm == 0)
        return blocks & otherwise, figures & otherwise

    @property
    def ended(self) -> BoolArray:
        """(n, columns) where an end says nothing of the repeat."""
        blocks, figures = self._ends
        return blocks | figures

    @cached_property
    def _heard(self) -> tuple[IntArray, IntArray]:
        """Likewise, but for what the ends say nothing of; all of it where nothing else is shown."""
        there, seen = self._every
        heard = np.where(self.ended, 0, 1)
        seen_heard = self._folded(heard)
        return np.where(seen_heard, self._folded(self.pins * heard), there), np.where(seen_heard, seen_heard, seen)

    @property
    def there(self) -> IntArray:
        """(rows, columns) in how many repeats a place is pinned."""
        return self._heard[0]

    @property
    def seen(self) -> IntArray:
        """(rows, columns) how many repeats show it."""
        return self._heard[1]

    @cached_property
    def usual(self) -> BoolArray:
        """(rows, columns) the pins of the repeat."""
        found: BoolArray = (2 * self.there >= self.seen) & (self.there > 0)
        return found

    @cached_property
    def unsure(self) -> list[Point]:
        """Unpinned places, as they stand, that only a row at the end shows pinned, and no third repeat shows."""
        blocks, figures = self._ends
        alone = self._tiled((self.seen == 1) & ~self.usual & (self._folded(blocks.astype(np.int64)) > 0))
        return [(x, y + self.first) for y, x in np.argwhere(alone & ~blocks & ~figures).tolist()]

    @cached_property
    def breaks(self) -> BoolArray:
        """(n, columns) where a pin breaks the repeat, or one that it lacks."""
        found: BoolArray = (self.pins != self._tiled(self.usual)) & ~self.ended
        # What an end cuts off is pinned there: such pins break nothing where other repeats show that row.
        there, seen = self._every
        for end in (0, len(self.pins) - 1):
            row = end % self.rows
            others, count = there[row] - self.pins[end], seen[row] - 1
            found[end] &= (self.pins[end] == 0) | (2 * others >= count)
        return found

    @property
    def gainsaid(self) -> int:
        """How many places it has otherwise than she said."""
        return int((self.breaks & (self.firm == 1)).sum())

    @property
    def hides_block(self) -> bool:
        """Whether it takes for lost dots what lies together as the inside of a block does."""
        missing = frozenset(_points(self._tiled(self.usual) & (self.pins == 0) & ~self.ended))
        return any(len(part) >= BLOCK for part in joined(missing, _unlimited(missing)))

    @property
    def cost(self) -> tuple[int, float]:
        """How many pins break it, and how many bits it takes to tell both."""
        broken = int((self.breaks & ~self._left_out).sum())
        place = self.grid(self.rows) | (self._every[0] > 0)
        cost = float(np.where(self._every[1] > 1, AGAIN, ONCE)[place].sum())
        return broken, cost + broken * math.log2(max(2, int(self.pins.sum())))

    @cached_property
    def near(self) -> BoolArray:
        """(n, columns) the places near the ends in a block or figure that an end cuts off."""
        return self._mask(self._cut(self.usual).parted())

    @property
    def _left_out(self) -> BoolArray:
        """Where an end cuts off a block or figure that all the other repeats have, two at least."""
        near, breaks = self.near, self.breaks
        ended = np.zeros(self.pins.shape, dtype=np.bool_)
        for y, x in np.argwhere(near & breaks).tolist():
            others = slice(y % self.rows, None, self.rows)
            far = ~near[others, x]
            ended[y, x] = far.sum() > 1 and not breaks[others, x][far].any()
        return ended

    def grid(self, rows: int) -> BoolArray:
        """(rows, columns) the places of pinholes, not in the middle of holes, rows counted from the first one."""
        y, x = np.indices((rows, self.pins.shape[1]))
        found: BoolArray = (x + y + self.first) % 2 == 1
        return found

    def _cut(self, pinned: BoolArray) -> _CutStrip:
        """What is shown, as a strip of the repeat with these pins, (rows, columns)."""
        length, columns = self.pins.shape
        return _CutStrip(_points(pinned), columns, self.first, self.first + length - 1, self.rows)

    def _folded(self, values: IntArray) -> IntArray:
        more = -len(values) % self.rows
        found: IntArray = np.pad(values, ((0, more), (0, 0))).reshape(-1, self.rows, values.shape[1]).sum(axis=0)
        return found

    def _tiled(self, values: BoolArray) -> BoolArray:
        return np.tile(values, (len(self.pins) // self.rows + 1, 1))[: len(self.pins)]

    def _mask(self, places: set[Point]) -> BoolArray:
        found = np.zeros(self.pins.shape, dtype=np.bool_)
        for x, y in places:
            if self.first <= y < self.first + len(self.pins) and 0 <= x < self.pins.shape[1]:
                found[y - self.first, x] = True
        return found


def _points(values: BoolArray) -> set[Point]:
    return {(x, y) for y, x in np.argwhere(values).tolist()}


@dataclass(frozen=True)
class _CutStrip:
    """A strip that is cut off at both ends. usual: pins of one repeat, rows counted from the first one, those in the
    middle of holes among them. first, last: of its rows. rows: of the repeat."""

    usual: set[Point]
    columns: int
    first: int
    last: int
    rows: int

    @cached_property
    def bare(self) -> frozenset[Point]:
        """Its unpinned places, and those of what would follow at its ends."""
        shown = range(self.first - _REACH, self.last + _REACH + 1)
        every = ((x, y) for y in shown for x in range((y + 1) % 2, self.columns, 2))
        return frozenset((x, y) for x, y in every if not self.pinned(x, y))

    def pinned(self, x: int, y: int) -> bool:
        """Whether a place is pinned, also beyond the ends."""
        return (x, (y - self.first) % self.rows) in self.usual

    def parted(self) -> set[Point]:
        """The places near the ends that lie in a block or figure which an end cuts off."""
        bed = _unlimited(self.bare)
        found: set[Point] = set()
        for part in joined(self.bare, bed):
            if any(not self.first < y < self.last for _, y in part):
                found |= part | bed.holes(part)
        return {(x, y) for x, y in found if not self.first + _REACH < y < self.last - _REACH}

    def otherwise(self) -> tuple[set[Point], set[Point]]:
        """What every such strip has otherwise at its ends than its repeat: the unpinned places of its first and last
        row, since no block goes on beyond them; and the places of figures that are cut off, their middles among them.
        """
        bed = _unlimited(self.bare)
        figures: set[Point] = set()
        for unit in GATHERED:
            for x, y in self.bare:
                centre = (x, y + unit.size - 1)  # its topmost pinhole is bare
                square = bed.lattice_square(centre, unit.size)
                if square - {centre} <= self.bare and self.pinned(*centre):
                    rim = {y for _, y in square}
                    if min(rim) < self.first <= max(rim) or min(rim) <= self.last < max(rim):
                        figures |= square | {centre}
        return {(x, y) for x, y in self.bare if y in (self.first, self.last)}, figures


def _unlimited(places: frozenset[Point]) -> Bed:
    """A bed without edges or dots."""
    return Bed(places, frozenset(), frozenset(), frozenset(), 0)
