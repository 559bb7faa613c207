"""A print at rising numbers of pairs, as `stampwork budget` works it out: first coarse, then as a piece to be made."""

from __future__ import annotations

import threading
from typing import Any

from constraints.brief import Brief
from constraints.character import character
from constraints.stamp import Stamp
from constraints.wording import shown
from explore import asking
from explore.editing.budget.sizes import AffordedSize, affordable, worked_out
from explore.editing.budget.survey import SurveyTools, reached_at, tools_for
from explore.editing.plain import ONE_WAY
from explore.search.crew import Share
from explore.search.laying.falls import SIZES, Fall, fall, falls
from explore.search.laying.sectors import upright_turn
from explore.search.workers import WorkerPool
from explore.studio.easel import drawn
from explore.studio.rooms import room_for
from explore.studio.streams import Stream
from gallery.seeing.knowing import known_as

# The pairs of each rung: the fewest and the most as a budget's, every fourth, that of the last every eighth.
RUNGS = (16, 20, 24, 28, 32, 40)
COARSE, FULL = "coarse", "full"


def brief_of_budgets(word: str) -> Brief:
    """The brief of a survey up to the last rung. word: how a command names the print. Raises BadInput."""
    return asking.read(None, {"stamp": word, "pairs": str(RUNGS[-1])}, ONE_WAY).brief


class PrintLadder:
    """A print on every rung, worked out by a share of a crew from now on. stream: what is told of it. drawings: SVG, by
    pairs and how fine they are."""

    def __init__(self, stamp: Stamp, brief: Brief, share: Share, stream: Stream) -> None:
        self.stream = stream
        self.drawings: dict[tuple[int, str], str] = {}
        self.done = False
        self._share = share
        threading.Thread(target=self._run, args=(stamp, brief), daemon=True).start()

    def _run(self, stamp: Stamp, brief: Brief) -> None:
        sizes = {pairs: worked_out(affordable(brief, pairs))[-1:] for pairs in RUNGS}
        rungs = [(pairs, size) for pairs, own in sizes.items() for size in own]
        with self.stream.of_work():
            with WorkerPool(_same, (stamp,), self._share) as workers:
                for _, told in workers.in_order(_coarse, list(enumerate(rungs))):
                    self._tell(told)
            fallen: list[Fall] = list(falls(stamp, brief, self._share))
            with WorkerPool(tools_for, (brief, (stamp,), [fallen]), self._share) as workers:
                for _, told in workers.in_order(_full, list(enumerate(rungs))):
                    self._tell(told)
            self.done = True
            self.stream.tell(kind="ladder")

    def _tell(self, told: dict[str, Any]) -> None:
        drawing = told.pop("drawing")
        if drawing:
            self.drawings[told["pairs"], told["state"]] = drawing
        self.stream.tell(kind="rung", drawn=bool(drawing), **told)


# What follows runs in processes of the crew.


def _same(stamp: Stamp) -> Stamp:
    return stamp


def _coarse(stamp: Stamp, number: int, rung: tuple[int, AffordedSize]) -> dict[str, Any]:
    """The print alone, blocked as large as it can lie."""
    pairs, size = rung
    room = room_for(stamp, size.brief).size
    at = max((float(each) for each in SIZES if each <= room), default=0.0)
    found = fall(stamp, size.brief, at, upright_turn(character(stamp))) if at else None
    words = f"it has room for {shown(room)} pitches" if room else "it has no place"
    return {**_about(pairs, COARSE, size), "words": words, "drawing": drawn(found.design, "drawing") if found else ""}


def _full(tools: SurveyTools, number: int, rung: tuple[int, AffordedSize]) -> dict[str, Any]:
    """The print in a piece that can be made, and how surely it is known in it."""
    pairs, size = rung
    found, _ = reached_at(tools, number, (size, True))
    about = _about(pairs, FULL, size)
    if not found.designs:
        return {**about, "words": "none was found" if found.showing else "it has no place", "drawing": ""}
    design = found.designs[0]
    large = max(each.size for each in design.prints)
    words = f"{shown(large)} pitches" + (f", {known_as(design)}" if known_as(design) else "")
    return {**about, "words": words, "drawing": drawn(design, "drawing")}


def _about(pairs: int, state: str, size: AffordedSize) -> dict[str, Any]:
    return {"pairs": pairs, "state": state, "width": f"{shown(sum(size.width_mm) / 2)} mm wide"}
