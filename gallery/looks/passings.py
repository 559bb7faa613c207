"""Where the threads of a piece pass each other, as they are played: the places of all passings, and the curves
between them.

A crossing is drawn about its place: across the work four threads lie side by side, and move after move goes on in
the working direction. In cloth stitch the worker's two threads run straight through the passives' two, so that each
crossing is four passings of a plain weave.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

import numpy as np

from constraints.edgings.outer_side import curved
from constraints.lattice import FloatArray
from constraints.piece import RIGHT_EDGE
from constraints.working.ends import ends_of
from constraints.working.ledger import BLOCK, BODY, FOOTSIDE, NOWHERE
from constraints.working.threads import Threads, play
from constraints.working.work import Work
from gallery.looks.edges import passive_insets
from gallery.looks.settling import Settling, meeting
from gallery.looks.swinging import fanned, rounded

# Half the room that two threads of a pair take, and the step from move to move, lattice units.
_SIDE, _MOVE = 0.13, 0.2
# In blocks: the two threads of a passive at their nearest and at their furthest, those of a worker, moves of half and
# whole stitch.
_PASSIVE, _LOOSEST, _WORKER, _CLOSE = 0.075, 0.2, 0.115, 0.11
_LEG = 0.13
# How far outside its pin a worker turns.
_ROUND = 0.14
# A passage that rises by no more than this is drawn level, lattice units.
_LEVEL = 2.0


@dataclass(frozen=True, eq=False)
class ThreadCourse:
    """A thread from where it is hung to where it is finished.

    points: (n, 2) lattice units, in order. over: (n,) whether it lies on top of another there.
    """

    points: FloatArray
    over: FloatArray


class Passings:
    """All passings of the threads of a work. at: (e, 2) the place of each, as drawn."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self.threads: Threads = play(work)
        piece = work.layout.piece
        # (k, 2) the working direction at every crossing.
        self._direction = piece.directions[piece.zone[work.pinhole[work.crossings.step]]].astype(np.float64)
        # The passages of workers through blocks in the order of work; of one crossing where none lies level.
        self._passages: list[list[int]] = []
        self._fixed: set[int] = set()
        self._middle = self._middles()
        self.at: FloatArray = np.empty((len(self.threads.over), 2))
        self._crossings()
        self._twists()
        self._turns = self._round_pins()

    def courses(self) -> list[ThreadCourse]:
        """Every thread's course, in the order of their numbers."""
        threads, work = self.threads, self.work
        stops: list[list[tuple[float, float, float, bool]]] = [[] for _ in range(threads.count)]
        # The time of a passing is its number; what lies between two passings comes between their numbers.
        for number, (over, under) in enumerate(zip(threads.over.tolist(), threads.under.tolist(), strict=True)):
            x, y = self.at[number].tolist()
            stops[over].append((float(number), x, y, True))
            stops[under].append((float(number), x, y, False))
        for thread, time, (x, y) in self._turns:
            stops[thread].append((time, x, y, False))
        begin, end = self._ends()
        made = []
        for thread, found in enumerate(stops):
            found.sort(key=lambda stop: stop[0])
            table = [(-1.0, *begin[thread], False), *found, (np.inf, *end[thread], False)]
            points = np.array([(x, y) for _, x, y, _ in table])
            made.append(ThreadCourse(curved(work.layout.piece, points), np.array([over for *_, over in table])))
        return made

    # --- places ------------------------------------------------------------------------------------------

    def _middles(self) -> FloatArray:
        """(k, 2) the middle of each crossing: those of a body or a footside lie about one place in the ledger."""
        crossings = self.work.crossings
        middle = crossings.place.copy()
        slanting = fanned(self.work, middle, self._direction)
        slanting |= rounded(self.work, middle, self._direction)
        runs = groupby(range(len(crossings)), key=lambda k: (int(crossings.step[k]), int(crossings.kind[k])))
        for (step, kind), members in runs:
            run = list(members)
            if step in slanting:
                passages = (list(members) for _, members in groupby(run, key=lambda k: int(crossings.worker[k])))
                self._passages += [passage for passage in passages if len(passage) > 1]
                self._fixed.update(run)
            elif kind == BODY:
                self._body(run, middle)
            elif kind == FOOTSIDE:
                self._footside(run, middle)
            elif kind == BLOCK:
                self._row(run, middle)
        settling = Settling(self.work, self._passages, self._fixed, self._direction, middle)
        settling.settle()
        # In cloth the two threads of a passive lie as far from each other as from the next one's.
        self._aside = np.clip(settling.apart / 4, _PASSIVE, _LOOSEST)
        return middle

    def _row(self, run: list[int], middle: FloatArray) -> None:
        """A worker's passages through a row: each lies level between the two pins that it joins, as the threads
        settle."""
        crossings = self.work.crossings
        along = self._direction[run[0]]
        if meeting(self.work, run, middle, along):
            self._passages += [[each] for each in run]
            self._fixed.update(run)
            return
        lying = []
        for _, members in groupby(run, key=lambda k: int(crossings.worker[k])):
            passage = list(members)
            level = crossings.place[passage] @ along
            # About an inner corner the passages fan out as they lie.
            flat = np.ptp(level) <= _LEVEL
            if flat:
                middle[passage] += (level.mean() - level)[:, None] * along
            if len(passage) > 1:
                lying.append(passage if flat else passage[:1])
        self._passages += lying or [run[:1]]

    def _body(self, run: list[int], middle: FloatArray) -> None:
        """Two diamonds of crossings, one before the pin and one after it."""
        half = int(np.sqrt(len(run) / 2))
        along = self._direction[run[0]]
        sideways = np.array([along[1], -along[0]])
        for number, crossing in enumerate(run):
            row, column = divmod(number % half**2, half)
            after = number >= half**2
            down = (row + column - half + 1) + (half - 0.3) * (1 if after else -1)
            centre = self.work.crossings.place[crossing] - (0.25 if after else -0.25) * along
            middle[crossing] = centre + 2 * _LEG * (down * along + (column - row) * sideways)

    def _footside(self, run: list[int], middle: FloatArray) -> None:
        """Through the passives to the edge, and back through them further on."""
        piece = self.work.layout.piece
        place = self.work.crossings.place[run[0]]
        pinhole = piece.index[int(place[0]), int(place[1])]
        along = self._direction[run[0]]
        inward = np.array([along[1], -along[0]]) * (-1 if piece.edge[pinhole] == RIGHT_EDGE else 1)
        passives = len(run) // 2
        insets = passive_insets(passives)
        for number, crossing in enumerate(run):
            if number == passives:
                continue
            place_in = passives - 1 - number if number < passives else number - passives - 1
            middle[crossing] = place + insets[place_in] * inward + (-0.35 if number < passives else 0.35) * along

    def _crossings(self) -> None:
        threads, crossings = self.threads, self.work.crossings
        own = np.flatnonzero(threads.crossing != NOWHERE)
        for crossing, members in groupby(own.tolist(), key=lambda e: int(threads.crossing[e])):
            run = list(members)
            word = crossings.words_of(crossing).replace(".", "")
            along = self._direction[crossing]
            sideways = np.array([along[1], -along[0]])
            centre = self._middle[crossing]
            if word == "CTC" and crossings.kind[crossing] in (BLOCK, FOOTSIDE, BODY):
                self._woven(run, crossing, centre, along, sideways)
            else:
                close = crossings.kind[crossing] == BLOCK
                side, move = (max(_CLOSE, self._aside[crossing]), _CLOSE) if close else (_SIDE, _MOVE)
                self._plaited(run, word, centre, move * along, side * sideways)

    def _woven(
        self, run: list[int], crossing: int, centre: FloatArray, along: FloatArray, sideways: FloatArray
    ) -> None:
        """The four passings of cloth stitch, by which threads meet: a worker's with a passive's."""
        crossings, threads = self.work.crossings, self.threads
        left, right = crossings.taken[crossing]
        worker = int(crossings.worker[crossing])
        if crossings.kind[crossing] == BODY:
            # Both pairs run slanting: left ones down to the right.
            one, other = (along + sideways) / 2, (along - sideways) / 2
            across, down = {}, {}
            for thread, step in zip(threads.end[left].tolist(), (-1, 1), strict=True):
                across[thread] = -step * _PASSIVE * other
            for thread, step in zip(threads.end[right].tolist(), (-1, 1), strict=True):
                down[thread] = step * _PASSIVE * one
        else:
            lefts = worker != 1
            runs, stays = (left, right) if lefts else (right, left)
            order = (1, -1) if lefts else (-1, 1)
            worker_aside = _WORKER if crossings.kind[crossing] == BLOCK else _PASSIVE
            aside = self._aside[crossing] if crossings.kind[crossing] == BLOCK else _PASSIVE
            across = dict(zip(threads.end[runs].tolist(), (step * worker_aside * along for step in order), strict=True))
            down = {
                thread: step * aside * sideways
                for thread, step in zip(threads.end[stays].tolist(), (-1, 1), strict=True)
            }
        for event in run:
            pair = (int(threads.over[event]), int(threads.under[event]))
            shift = sum(across.get(thread, 0.0) + down.get(thread, 0.0) for thread in pair)
            self.at[event] = centre + shift

    def _plaited(self, run: list[int], word: str, centre: FloatArray, move: FloatArray, side: FloatArray) -> None:
        """Move after move, four threads side by side."""
        events = iter(run)
        for number, letter in enumerate(word):
            line = centre + (number - (len(word) - 1) / 2) * move
            for aside in (0.0,) if letter == "C" else (-2.0, 2.0):
                self.at[next(events)] = line + aside * side

    def _twists(self) -> None:
        """Twists of a pair on its way lie evenly between the crossings at its ends; of a worker, at its pin."""
        threads, work = self.threads, self.work
        turned = {segment: pin.place for pin, turned in zip(work.pins, work.turned, strict=True) for segment in turned}
        own = np.flatnonzero(threads.segment != NOWHERE)
        begin, end = self._spans
        for segment, members in groupby(own.tolist(), key=lambda e: int(threads.segment[e])):
            run = list(members)
            for number, event in enumerate(run):
                share = (number + 1) / (len(run) + 1)
                here = begin[segment] + (0.25 + 0.5 * share) * (end[segment] - begin[segment])
                self.at[event] = self._outside(segment, turned[segment]) if segment in turned else here

    def _outside(self, segment: int, pin: tuple[float, float]) -> FloatArray:
        """Just beyond a pin, seen from the crossings between which a worker turns round it."""
        begin, end = self._spans
        away = np.array(pin) - (begin[segment] + end[segment]) / 2
        size = float(np.hypot(*away))
        outside: FloatArray = np.array(pin) + (_ROUND * away / size if size > 1e-6 else 0.0)
        return outside

    def _round_pins(self) -> list[tuple[int, float, tuple[float, float]]]:
        """Where workers without a twist turn: thread, time between two passings, place."""
        threads, segments = self.threads, self.work.segments
        last = np.full(len(self.work.crossings), -1)
        own = np.flatnonzero(threads.crossing != NOWHERE)
        last[threads.crossing[own]] = own
        found = []
        for pin, turned in zip(self.work.pins, self.work.turned, strict=True):
            for segment in turned:
                if segments.twists[segment] or segments.tail[segment] == NOWHERE:
                    continue
                x, y = self._outside(segment, pin.place).tolist()
                time = float(last[segments.tail[segment]]) + 0.5
                found += [(thread, time, (x, y)) for thread in threads.begin[segment].tolist()]
        return found

    @cached_property
    def _spans(self) -> tuple[FloatArray, FloatArray]:
        """(m, 2) where each segment begins and ends: at its crossings, or where it is hung or finished."""
        segments = self.work.segments
        begin, end = self._middle[segments.tail], self._middle[segments.head]
        hung, done = self._hung_and_done()
        for segment, place in hung.items():
            begin[segment] = place
        for segment, place in done.items():
            end[segment] = place
        return begin, end

    def _hung_and_done(self) -> tuple[dict[int, tuple[float, float]], dict[int, tuple[float, float]]]:
        ends = ends_of(self.work)
        hung = {segment: held.place for held in ends.hung for segment in held.segments}
        loops = {each.finished: hung[each.loop] for each in ends.sewings}
        return hung, loops | {segment: held.place for held in ends.last for segment in held.segments}

    def _ends(self) -> tuple[dict[int, tuple[float, float]], dict[int, tuple[float, float]]]:
        """Where each thread is hung and where it is finished."""
        hung, done = self._hung_and_done()
        begin = {thread: place for segment, place in hung.items() for thread in self.threads.begin[segment].tolist()}
        end = {thread: place for segment, place in done.items() for thread in self.threads.end[segment].tolist()}
        return begin, end
