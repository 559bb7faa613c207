"""Whether a piece is worked soundly: read from the ledger alone, by other means than those that wrote it."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from constraints.layout import as_points, lay, locate
from constraints.pins import pin_places
from constraints.working.gimp import Passing
from constraints.working.habits import OPEN
from constraints.working.ledger import NOWHERE
from constraints.working.work import Work


def faults(work: Work) -> list[str]:
    """What is amiss, one line each; empty if every crossing takes two pairs and gives two, in an order in which
    each is ready, every cut of the work shows the same number of pairs, all pairs hung on are finished, and
    every pin of the square stands at a crossing or within a worker's turn, every gimp pair goes once round its
    block, and at every eye a worker is twisted, once or twice on its ways through that row."""
    return [*_crossings(work), *_cuts(work), *_pins(work), *_gimps(work), *_eyes(work)]


def _crossings(work: Work) -> list[str]:
    crossings, segments = work.crossings, work.segments
    number = np.arange(len(crossings))
    found = []
    if not (segments.head[crossings.taken] == number[:, None]).all():
        found.append("a crossing takes a pair that goes elsewhere")
    if not (segments.tail[crossings.given] == number[:, None]).all():
        found.append("a crossing gives a pair that comes from elsewhere")
    if (np.bincount(segments.head[segments.head >= 0], minlength=len(number)) != 2).any():
        found.append("a crossing does not take two pairs")
    if (np.bincount(segments.tail[segments.tail >= 0], minlength=len(number)) != 2).any():
        found.append("a crossing does not give two pairs")
    if (segments.tail[crossings.taken] >= number[:, None]).any():
        found.append("a crossing is worked before one that it waits for")
    return found


def _cuts(work: Work) -> list[str]:
    """Pairs across the cut after each crossing: those begun and not yet taken."""
    segments, count = work.segments, len(work.crossings)
    begun = np.bincount(segments.tail + 1, minlength=count + 1)[: count + 1]
    ended = np.bincount(np.where(segments.head == NOWHERE, count, segments.head), minlength=count + 1)
    across = np.cumsum(begun) - np.append(0, np.cumsum(ended[:count]))
    found = []
    if (across != work.design.pairs).any():
        cut = int(np.flatnonzero(across != work.design.pairs)[0])
        found.append(f"{across[cut]} pairs cross the cut after crossing {cut}, not {work.design.pairs}")
    finished = sorted([*work.finished.values(), *work.passives_finished])
    if finished != np.flatnonzero(segments.head == NOWHERE).tolist():
        found.append("the pairs finished are not those left at the end")
    return found


def _pins(work: Work) -> list[str]:
    standing = sorted(pin.place for pin in work.pins)
    wanted = [(x, y) for x, y in pin_places(lay(work.design), work.habits.seam == OPEN).tolist()]
    if work.habits.corner_pins:
        left, top, right, bottom = work.design.form.box
        wanted += [(float(x), float(y)) for x in (left, right) for y in (top, bottom)]
    wanted.sort()
    found = [] if standing == wanted else ["the pins are not those of the square"]
    both = zip(work.pins, work.turned, strict=True)
    lone = [pin.place for pin, turned in both if pin.crossing == NOWHERE and not turned]
    return [*found, *(f"no crossing at the pin {place}" for place in lone)]


def _gimps(work: Work) -> list[str]:
    """A gimp passes each pair that comes into its block or leaves it just once, hole by hole, as they are worked."""
    found = []
    for gimp in work.gimps:
        places = {(x, y) for x, y in work.design.blocks[gimp.block].pinholes}
        every = [(x, y, dx, dy) for x, y in places for dx in (-1, 1) for dy in (-1, 1)]
        steps = [(x, y, dx, dy) for x, y, dx, dy in every if (x + dx, y + dy) not in places]
        sides = [[_step(work, passing, places) for passing in side] for side in (gimp.left, gimp.right)]
        if sorted(steps) != sorted(sides[0] + sides[1]):
            found.append(f"the gimp of block {gimp.called} does not pass every pair once")
        for side, passings in zip(sides, (gimp.left, gimp.right), strict=True):
            holes = [{(float(x + dx), float(y)), (float(x), float(y + dy))} for x, y, dx, dy in side]
            path = [{gimp.begin}, *holes, {gimp.end}]
            if not all(one & other for one, other in pairwise(path)):
                found.append(f"the gimp of block {gimp.called} leaps")
            segments = [passing.step for passing in passings]
            if segments != sorted(segments):
                found.append(f"the gimp of block {gimp.called} is not laid as the block is worked")
        pairs = [passing.inwards for passing in (*gimp.left, *gimp.right)]
        if 2 * sum(pairs) != len(pairs):
            found.append(f"the gimp of block {gimp.called} does not pass as many pairs in as out")
    return found


def _step(work: Work, passing: Passing, places: set[tuple[int, int]]) -> tuple[int, int, int, int]:
    """A place of the block and the step out of it along which a pair runs that the gimp passes."""
    ends = (work.arcs.tail[passing.arc], work.arcs.head[passing.arc])
    (ax, ay), (bx, by) = work.layout.piece.pinholes[list(ends)].tolist()
    return (ax, ay, bx - ax, by - ay) if (ax, ay) in places else (bx, by, ax - bx, ay - by)


def _eyes(work: Work) -> list[str]:
    """Beside every eye a worker runs, twisted, from one passive to the next, once or twice in its row."""
    crossings, segments, found = work.crossings, work.segments, []
    by_step: dict[int, list[int]] = {}
    for segment, _, _ in work.eyes:
        if segments.twists[segment] == 0 or NOWHERE in (segments.tail[segment], segments.head[segment]):
            found.append("a worker is not twisted at an eye")
        by_step.setdefault(int(crossings.step[segments.tail[segment]]), []).append(segment)
    nodes = [_node(work, eye) for eye in work.design.eyes]
    for node in sorted(set(nodes)):
        own = nodes.count(node)
        ways = len(by_step.get(work.order.nodes.index(node), ()))
        if not own <= ways <= 2 * own:
            found.append(f"a worker passes {own} eyes of a row {ways} times")
    return found


def _node(work: Work, eye: tuple[int, int]) -> int:
    return int(work.flow.node[locate(work.layout.piece, as_points((eye,)))[0]])
