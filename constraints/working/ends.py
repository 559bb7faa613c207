"""Where the pairs are hung on, and how each of them is finished.

Worked round, a pair hangs on every arc that the start line cuts, on a false pin there (Jo Edkins' teaching pages:
diagonal start with one pair a pin and two at the edge), edge passives beside the edge pair. The false pin comes
out later and leaves a loop, into which the pair that ends on that same arc is sewn. Worked across, two pairs hang
above every pin of the first edge, and the pairs end at the pins of the last one. A horizontal start of a round is
hung on as the first edge of a square worked across is, two pairs a pin, and sewn as every start of a round is.
A strip may be closed to a ring: its last row lies above its first one, and the pair that would go on there as the
first one, second one and so on is sewn into the loop of the first, the second (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from constraints.flow import START_LINES
from constraints.lattice import FloatArray, IntArray, Place
from constraints.piece import ROUND
from constraints.working.arcs import OUTSIDE
from constraints.working.ledger import NOWHERE
from constraints.working.work import Work

# How the pairs may be finished on the last edge of a square worked across (common practice, no source).
KNOTS, PLAITS, FRINGE = ("knots", "plaits", "fringe")
# How those of a strip may be finished besides: sewn into its own beginning.
SEWINGS = "sewings"
FINISHES = (KNOTS, PLAITS, FRINGE, SEWINGS)


class Held(NamedTuple):
    """Pairs at one place. place: lattice units. segments: from the footside inwards."""

    place: Place
    segments: tuple[int, ...]


class Sewing(NamedTuple):
    """A pair sewn into a loop. finished: its last segment. loop: the segment hung there, whose loop it is."""

    place: Place
    finished: int
    loop: int


@dataclass(frozen=True)
class Ends:
    """The two ends of a piece, all from the footside inwards (across: from one edge to the other).

    hung: the false pins. sewings: worked round, one a pair. last: worked across, the pins of the last edge with
    the pairs that end there.
    """

    hung: tuple[Held, ...]
    sewings: tuple[Sewing, ...]
    last: tuple[Held, ...]


def ends_of(work: Work) -> Ends:
    """Both ends of a piece."""
    hung = tuple(Held(_false_pin(work, arc), tuple(row)) for arc, row in _rows(work, True))
    if (corner := _start_corner(work)) is not None:
        beside = 1 + work.design.form.passives(work.design.worked, work.design.passives)[0]
        edge, ground = hung[0].segments[:beside], hung[0].segments[beside:]
        hung = (Held(corner, edge), hung[0]._replace(segments=ground), *hung[1:])
    if work.layout.piece.worked != ROUND:
        last = tuple(Held(_at(work, int(work.arcs.tail[arc])), tuple(row)) for arc, row in _rows(work, False))
        return Ends(hung, (), last)
    # The pair that ends on an arc is sewn into the loop of the one hung on that same arc.
    into = {loop: work.finished.get(arc, NOWHERE) for arc, loop in work.hung.items()}
    into |= dict(zip(work.passives_hung, work.passives_finished, strict=True))
    sewings = tuple(Sewing(held.place, into[loop], loop) for held in hung for loop in held.segments)
    return Ends(hung, sewings, ())


def ring(work: Work, ends: Ends) -> tuple[Sewing, ...]:
    """The sewings that close a strip to a ring, from the left edge on. ValueError if it is no strip."""
    if work.design.form.repeating is None:
        raise ValueError(f"a {work.design.form.name} is not joined to its own beginning; only a strip is")
    done = [segment for held in ends.last for segment in held.segments]
    hung = [(held.place, segment) for held in ends.hung for segment in held.segments]
    return tuple(Sewing(place, last, loop) for last, (place, loop) in zip(done, hung, strict=True))


def faults(work: Work, ends: Ends) -> list[str]:
    """What is amiss at the ends, one line each: a pair not hung, not finished just once, or sewn into no loop."""
    segments = work.segments
    hung = [segment for held in ends.hung for segment in held.segments]
    done = [each.finished for each in ends.sewings] + [segment for held in ends.last for segment in held.segments]
    found = []
    if sorted(hung) != np.flatnonzero(segments.tail == NOWHERE).tolist():
        found.append("the pairs hung are not those with which the work begins")
    if len(hung) != work.design.pairs:
        found.append(f"{len(hung)} pairs are hung, not {work.design.pairs}")
    if sorted(done) != np.flatnonzero(segments.head == NOWHERE).tolist():
        found.append("a pair is not finished, or more than once")
    if ends.sewings and [each.loop for each in ends.sewings] != hung:
        found.append("a sewing has no loop of its own")
    return found


def places_from_footside(work: Work) -> IntArray:
    """(segments,) which pair a segment is, counted from 1 at the footside (across: at the left edge) at its time.

    The pairs across the cut lie side by side. Those that meet are neighbours and change places, so that a place
    once counted stays: what a crossing gives lies where lay what it took.
    """
    place = np.zeros(len(work.segments), dtype=np.int64)
    first = [segment for _, row in _rows(work, True) for segment in row]
    place[first] = np.arange(1, len(first) + 1)
    for taken, given in zip(work.crossings.taken, work.crossings.given, strict=True):
        place[given] = place[taken]
    return place


def start_line(work: Work) -> FloatArray:
    """(k, 2) the points of the start line of a round, from the footside inwards, lattice units."""
    form, piece = work.design.form, work.layout.piece
    first = START_LINES[work.design.start][1]
    along = piece.directions[first].astype(np.float64)
    inwards = np.array([along[1], -along[0]])
    sides = np.array(form.box[2:], dtype=np.float64)
    opening = np.array(form.opening, dtype=np.float64)
    if work.start_row is None:
        corner = -inwards * sides - along * sides
        return np.stack([corner, np.sign(corner) * opening])
    level = (work.start_row - 0.5) * along
    outer = level - inwards * sides
    if opening.any():
        return np.stack([outer, level - inwards * opening])
    return np.stack([outer, level - inwards * abs(work.start_row - 0.5), np.zeros(2)])


def _start_corner(work: Work) -> Place | None:
    """The corner round whose pin the edge pair and its passives are hung on; None if they are hung on elsewhere."""
    if not work.habits.corner_pins or work.start_row is not None:
        return None
    x, y = start_line(work)[0].tolist()
    return (x, y)


def _rows(work: Work, begin: bool) -> list[tuple[int, list[int]]]:
    """The pairs of one end, gathered by the pinhole they come to or from: an arc and segments, from the left."""
    on = work.hung if begin else work.finished
    pinhole = work.arcs.head if begin else work.arcs.tail
    rows: list[tuple[int, list[int]]] = []
    last = OUTSIDE
    for arc in work.arcs.ordered(on, coming=begin):
        if pinhole[arc] != last:
            rows.append((arc, []))
            last = int(pinhole[arc])
        rows[-1][1].append(on[arc])
    passives = list(work.passives_hung if begin else work.passives_finished)
    design = work.design
    counts = design.form.passives(design.worked, design.passives)
    # The edge pair is outermost, its passives follow it.
    rows[0][1][1:1] = passives[: counts[0]]
    if len(counts) > 1:
        at = len(rows[-1][1]) - 1
        rows[-1][1][at:at] = passives[counts[0] :][::-1]
    return rows


def _false_pin(work: Work, arc: int) -> Place:
    """On the start line, where an arc crosses it: within a block its pin on the line; above a row, one unit above the
    pinhole."""
    piece, tail, head = work.layout.piece, int(work.arcs.tail[arc]), int(work.arcs.head[arc])
    x, y = _at(work, head)
    if tail == OUTSIDE or piece.zone[tail] == piece.zone[head]:
        dx, dy = piece.directions[piece.zone[head]].tolist()
        return (x - dx, y - dy)
    seam = work.seams.end_of.get(arc)
    if seam is not None and seam in work.seams.block_at:
        return seam
    before = _at(work, int(work.arcs.tail[arc]))
    return ((x + before[0]) / 2, (y + before[1]) / 2)


def _at(work: Work, pinhole: int) -> Place:
    x, y = work.layout.piece.pinholes[pinhole].tolist()
    return (float(x), float(y))
