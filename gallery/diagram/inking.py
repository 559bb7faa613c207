"""The lines of the pairs sorted by what they are, and joined into long paths; twist marks across them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from matplotlib.path import Path

from constraints.fillings import FILLINGS, GATHERED, GROUNDS, NUMBERS
from constraints.lattice import BoolArray, FloatArray, IntArray, places_in_groups
from constraints.stitches import STITCHES
from constraints.working import ledger
from gallery.diagram.pairlines import PairLines
from gallery.looks.threads import aside, halved, unit

# What a line can be. Blocks of a stitch have passives and, drawn bolder, workers.
GROUND, FOOTSIDE = "ground", "footside"
SORTS = (GROUND, *FILLINGS, FOOTSIDE, *STITCHES)
# Twist marks: how far apart, and how far they reach on either side of the line.
_BETWEEN, _REACH = 0.13, 0.13
_FLAT = 1e-6


@dataclass(frozen=True, eq=False)
class Inked:
    """Curves of one sort. points: (c, 4, 2) cubic, those of one pair one after the other."""

    sort: str
    worker: bool
    points: FloatArray


class Inking:
    """The lines of one work as they are inked. All in lattice units, for the footside on the left."""

    def __init__(self, lines: PairLines) -> None:
        self.lines, self.work = lines, lines.work

    @cached_property
    def sort(self) -> IntArray:
        """(k,) the number in SORTS of each crossing."""
        crossings = self.work.crossings
        found = np.where(crossings.kind == ledger.FOOTSIDE, SORTS.index(FOOTSIDE), SORTS.index(GROUND))
        # Where pairs of a ground go round a pin and come back, that is drawn there, and their lines are plain ground's.
        back = self.lines.standing.back & np.isin(crossings.filling, [NUMBERS[name] for name in GROUNDS])
        of_filling = np.array([*map(SORTS.index, FILLINGS), -1])[crossings.filling]
        found = np.where((crossings.filling >= 0) & ~back, of_filling, found)
        stitches = np.array([SORTS.index(block.stitch) for block in self.work.design.blocks] + [0])
        return np.where(crossings.kind == ledger.BLOCK, stitches[self._block], found)

    @cached_property
    def inked(self) -> list[Inked]:
        """All lines: every segment of the work once. One that runs from one sort to another changes halfway."""
        curves = self.lines.curves
        first, last = self._ends()
        # Of a segment that turns round pins every curve before the last pin of where it comes from is of that sort.
        place, before = curves.place, self._turns_before[curves.segment]
        begin = np.where(place <= before, first[curves.segment], last[curves.segment])
        end = np.where(place < before, first[curves.segment], last[curves.segment])
        whole, bold = begin == end, self._bold
        changing = curves.points[~whole]
        points = np.concatenate([curves.points[whole], halved(changing, False), halved(changing, True)])
        sort = np.concatenate([begin[whole], begin[~whole], end[~whole]])
        worker = np.concatenate([bold[whole], *[np.zeros(len(changing), dtype=np.bool_)] * 2])
        segment = np.concatenate([curves.segment[whole], *[curves.segment[~whole]] * 2])
        number = np.arange(len(curves.segment))
        number = np.concatenate([2 * number[whole], 2 * number[~whole], 2 * number[~whole] + 1])
        order = np.lexsort([number, self._rank[segment]])
        points, sort, worker = points[order], sort[order], worker[order]
        made = []
        for kind, name in enumerate(SORTS):
            for works in (False, True):
                chosen = (sort == kind) & (worker == works)
                if chosen.any():
                    made.append(Inked(name, works, points[chosen]))
        return made

    def _ends(self) -> tuple[IntArray, IntArray]:
        """(m,) the sort of each segment where it begins and where it ends; legs of figures are theirs throughout."""
        tail, head = self.work.segments.tail, self.work.segments.head
        first, last = self.sort[np.where(tail >= 0, tail, head)], self.sort[np.where(head >= 0, head, tail)]
        for name in dict.fromkeys(each.filling for each in GATHERED):
            leg = (first == SORTS.index(name)) | (last == SORTS.index(name))
            first[leg] = last[leg] = SORTS.index(name)
        return first, last

    @cached_property
    def _bold(self) -> BoolArray:
        """(c,) curves on which a worker runs within its block: to a crossing, and from the first pin or to the last
        one where it comes from outside or leaves."""
        curves, work = self.lines.curves, self.work
        comes = np.zeros(len(work.segments), dtype=np.bool_)
        comes[self.lines.standing.worker[0][work.crossings.kind == ledger.BLOCK]] = True
        inside = comes & self._within
        block = np.append(work.crossings.kind == ledger.BLOCK, False)
        tail, head = block[work.segments.tail], block[work.segments.head]
        turns = np.bincount([turn.segment for turn in work.turns], minlength=len(work.segments))
        segment, before = curves.segment, self._turns_before[curves.segment]
        leaving = tail[segment] & (curves.place < before)
        entering = head[segment] & (curves.place > before) & (turns[segment] > before)
        found: BoolArray = np.where(self._within[segment], inside[segment], leaving | entering)
        return found

    @cached_property
    def _within(self) -> BoolArray:
        """(m,) segments that stay in one block, on one side of a corner line where that is worked in halves."""
        work, segments = self.work, self.work.segments
        both = (segments.tail >= 0) & (segments.head >= 0)
        block = np.append(np.where(work.crossings.kind == ledger.BLOCK, self._block, -1), -1)
        tail, head = block[segments.tail], block[segments.head]
        cut = np.isin(work.on, [*work.seams.over, *np.flatnonzero(work.arcs.over)])
        within: BoolArray = both & (tail >= 0) & (tail == head) & ~cut
        return within

    @cached_property
    def _block(self) -> IntArray:
        """(k,) the block of what each crossing is worked with, -1 outside blocks."""
        found: IntArray = self.work.layout.block[self.work.pinhole[self.work.crossings.step]]
        return found

    @cached_property
    def _turns_before(self) -> IntArray:
        """(m,) round how many pins each segment turns before it leaves the block that it comes from, if it does."""
        work, tail = self.work, self.work.segments.tail
        zone, block = (np.full(len(work.flow.kind), -1) for _ in range(2))
        zone[work.flow.node], block[work.flow.node] = work.layout.piece.zone, work.layout.block
        nodes = np.array(work.order.nodes)
        found = np.zeros(len(work.segments), dtype=np.int64)
        for segment, _, step in work.turns:
            if tail[segment] >= 0:
                here, came = nodes[step], nodes[work.crossings.step[tail[segment]]]
                halves = int(work.on[segment]) in work.seams.over
                found[segment] += block[here] == block[came] and (zone[here] == zone[came] or not halves)
        return found

    @cached_property
    def _rank(self) -> IntArray:
        """(m,) the place of each segment if every pair is followed from where it is hung to where it is finished."""
        work, stays = self.work, self.lines.standing.stays.tolist()
        taken, given = work.crossings.taken.tolist(), work.crossings.given.tolist()
        onward = [-1] * len(work.segments)
        for (left, right), (one, other), stay in zip(taken, given, stays, strict=True):
            onward[left], onward[right] = (one, other) if stay else (other, one)
        rank = np.zeros(len(work.segments), dtype=np.int64)
        number = 0
        for begun in np.flatnonzero(work.segments.tail < 0).tolist():
            segment = begun
            while segment >= 0:
                rank[segment] = number
                number += 1
                segment = onward[segment]
        return rank

    # --- twists ------------------------------------------------------------------------------------------

    def twists(self, points: FloatArray) -> FloatArray:
        """(t, 2, 2) short bars across the lines, one for each twist beside those of the stitches.

        points: (c, 4, 2) the curves as they are drawn. A bar stands in the middle of a segment; of one that turns round
        pins, in the middle of what comes before.
        """
        curves = self.lines.curves
        once = np.append(True, curves.segment[1:] != curves.segment[:-1])
        count = self.work.segments.twists[curves.segment[once]]
        a, b, c, d = points[once].transpose(1, 0, 2)
        middle, arc = (a + 3 * b + 3 * c + d) / 8, unit(d + c - b - a)
        many = np.repeat(np.arange(len(count)), count)
        place = places_in_groups(count)
        along = (_BETWEEN * (place - (count[many] - 1) / 2))[:, None] * arc[many]
        across = _REACH * aside(arc[many])
        centre = middle[many] + along
        return np.stack([centre - across, centre + across], axis=1)

    @cached_property
    def lozenges(self) -> FloatArray:
        """(k, 5, 2) round pins at which pairs come back: both of them, between their two crossings."""
        back = self.lines.standing.back
        come, go = self.lines.standing.come[back], self.lines.standing.go[back]
        centre, reach = (come + go) / 2, aside(go - come) / 2
        return np.stack([come, centre + reach, go, centre - reach, come], axis=1)


def chained(points: FloatArray) -> Path:
    """Cubic curves (c, 4, 2) as one path: joined where one begins as the last ends, straight ones as lines."""
    if not len(points):
        return Path(np.empty((0, 2)), np.empty(0, dtype=np.uint8))
    begins = np.append(True, np.abs(points[1:, 0] - points[:-1, 3]).max(axis=1) > _FLAT)
    line = points[:, 3] - points[:, 0]
    off = points[:, 1:3] - points[:, :1]
    flat = np.abs(off[..., 0] * line[:, None, 1] - off[..., 1] * line[:, None, 0]).max(axis=1) < 1e-4
    curve = int(Path.CURVE4)
    codes = np.tile(np.array([Path.MOVETO, curve, curve, curve], dtype=np.uint8), (len(points), 1))
    codes[flat, 3] = Path.LINETO
    kept = np.ones((len(points), 4), dtype=np.bool_)
    kept[:, 0] = begins
    kept[flat, 1:3] = False
    # A straight line that goes straight on needs no point between.
    arcs = unit(line)
    on = np.append(flat[:-1] & flat[1:] & ~begins[1:] & ((arcs[:-1] * arcs[1:]).sum(axis=1) > 1 - 1e-9), False)
    kept[on, 3] = False
    return Path(points[kept], codes[kept])
