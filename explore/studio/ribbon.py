"""A print blocked at rising sizes, told as they are found: the quick ones first, then with splits of its blocks."""

from __future__ import annotations

import threading
from typing import Any

from constraints.brief import KNOWN, UNKNOWN, Brief
from constraints.character import character
from constraints.stamp import Stamp
from explore.search.crew import Share
from explore.search.laying.falls import SIZES, Fall, fall
from explore.search.laying.sectors import upright_turn
from explore.search.workers import WorkerPool
from explore.studio.easel import drawn
from explore.studio.streams import Stream
from gallery.seeing.knowing import KNOWN_AS, surely

# Those that tell most come first.
_ORDER = (12.0, 16.0, 8.0, 20.0, 24.0, 10.0, 14.0, 6.0)
assert sorted(_ORDER) == sorted(map(float, SIZES))


class PrintRibbon:
    """A print at every size, worked out by a share of a crew from now on. stream: what is told of it. drawings: SVG, by
    size and splits."""

    def __init__(self, stamp: Stamp, brief: Brief, share: Share, stream: Stream) -> None:
        self.stream = stream
        self._share = share
        self._best: dict[float, tuple[float, str]] = {}
        self.drawings: dict[tuple[float, int], str] = {}
        self.done = False
        threading.Thread(target=self._run, args=(stamp, brief), daemon=True).start()

    def begins(self) -> float | None:
        """The smallest size at which the print is known, pitches; 0 if at none, None while that may change."""
        known = [size for size, (_, verdict) in self._best.items() if surely(verdict, KNOWN)]
        if not self.done and (not known or len(self._best) < len(SIZES)):
            return None
        return min(known, default=0.0)

    def verdict(self, size: float) -> str:
        """How surely it is known at a size, in words."""
        there = [each for each in sorted(self._best) if each <= size]
        return KNOWN_AS[self._best[there[-1]][1]] if there else KNOWN_AS[UNKNOWN]

    def _run(self, stamp: Stamp, brief: Brief) -> None:
        briefs = [brief.changed(own_splits=splits) for splits in dict.fromkeys((0, brief.stamp.own_splits))]
        tasks = list(enumerate((size, each) for each in briefs for size in _ORDER))
        with self.stream.of_work():
            with WorkerPool(_same, (stamp,), self._share) as workers:
                for _, told in workers.in_order(_fallen, tasks):
                    if told:
                        self._tell(told)
            self.done = True
            self.stream.tell(kind="ribbon", begins=self.begins())

    def _tell(self, told: dict[str, Any]) -> None:
        size, score = told["size"], told.pop("score")
        if size not in self._best or score > self._best[size][0]:
            self._best[size] = score, told.pop("verdict")
            self.drawings[size, told["splits"]] = told.pop("drawing")
            self.stream.tell(kind="size", **told)


def _same(stamp: Stamp) -> Stamp:
    return stamp


def _fallen(stamp: Stamp, number: int, at: tuple[float, Brief]) -> dict[str, Any] | None:
    """Runs in a process of the crew."""
    size, brief = at
    found: Fall | None = fall(stamp, brief, size, upright_turn(character(stamp)))
    if found is None or (brief.stamp.own_splits and not found.design.splits):
        return None
    return {
        "size": size,
        "verdict": found.seen.known,
        "score": found.seen.score,
        "known": KNOWN_AS[found.seen.known],
        "splits": found.design.splits,
        "lost": found.lost_at,
        "drawing": drawn(found.design, "drawing"),
    }
