"""All corners and turnovers of a strip, in the order of how little must change."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeVar

from constraints.brief import Brief
from constraints.design import Design
from constraints.design_file import to_text
from constraints.forms import Frame
from constraints.layout import Layout
from constraints.mirrors import Corner, corners, frame_of, laid
from constraints.piece import ROUND
from constraints.repeats import repeat_of
from explore.asking.designs import brief_of
from explore.bad_input import BadInput
from explore.editing.mirroring.joining import Joined, joined
from explore.editing.mirroring.where import Count, Where
from explore.search.workers import Hands, WorkerPool

_In = TypeVar("_In")
_Out = TypeVar("_Out", bound="CornerOffer | TurnoverOffer")

# Deterministic time for one frame while corners are listed, and for the frame that she asks for.
LISTING, MAKING = 1.0, 2.0
# So many turnovers are tried with a corner before it is left out.
_TRIED = 3
# What was found of so many strips is kept: whoever has listed corners makes frames with them next.
_STRIPS = 4
# Rows between a corner and a turnover, so that neither decides the other; and so many repeats at the most.
_BETWEEN, _MOST_REPEATS = 10, 39


@dataclass(frozen=True, eq=False)
class CornerOffer:
    """changed: pinholes at one corner worked otherwise than the strip has them. shown: a frame with it."""

    corner: Corner
    changed: Count
    shown: Design


@dataclass(frozen=True, eq=False)
class TurnoverOffer:
    """row: of the repeat, at the mirror. changed: pinholes at one turnover. shown: a frame with it. corner: where its
    sides begin."""

    row: int
    changed: Count
    shown: Design
    corner: Corner


@dataclass(frozen=True, eq=False)
class Offers:
    """corners: those with the fewest changes first. down, up: the turnovers, likewise, of sides that go down the repeat
    from their corners, and of those that go up; where no corner goes that way, none."""

    corners: Sequence[CornerOffer]
    down: Sequence[TurnoverOffer]
    up: Sequence[TurnoverOffer]

    def turnovers(self, corner: Corner) -> Sequence[TurnoverOffer]:
        """Those that go with a corner."""
        return self.up if corner.up else self.down


# Told a place that was tried, and what it offers.
Watch = Callable[[Any, "CornerOffer | TurnoverOffer | None"], None]


def _nobody(place: object, offer: object) -> None:
    """Nobody watches."""


def onwards(corner: Corner) -> str:
    """Which way along the repeat its side goes on from a corner, in a word."""
    return "up" if corner.up else "down"


class Mirrored:
    """One strip and what the mirror makes of it."""

    def __init__(self, strip: Design, base: Brief, cores: Hands = 1) -> None:
        """Refused if it is no strip with its headside on one side at most. cores: None for all, or a share
        of a crew; on any number of them the offers are the same."""
        form = strip.form.repeating
        if form is None:
            raise BadInput(f"{strip.number:02d} is a {strip.form.name}; the mirror slides along a strip")
        if form.both:
            raise BadInput(
                f"{strip.number:02d} has its edging on both sides; a frame has its inner edge plain: it is made of a "
                "strip with its edging on one"
            )
        self.strip, self.form, self._cores = strip, form, cores
        self._given = strip, base
        self.repeat: Layout = repeat_of(strip)
        self.brief = brief_of(strip, base).changed(
            form=Frame.name, worked=ROUND, passives=strip.passives, solid=(0.0, 1.0), match=0.0, least={}
        )

    def frame(
        self,
        corner: Corner,
        turnovers: tuple[int, int],
        repeats: tuple[int, int],
        effort: float,
        proven: Where = Where.WHOLE,
    ) -> Joined | None:
        """The frame with that corner and those turnovers, across and down; None if there is none, or none is found.
        proven: where it is worked out how many changes there must be."""
        form = frame_of(self.form, corner, turnovers, repeats)
        if form is None:
            return None
        symmetry = "full" if form.half_width == form.half_height else "upright-mirrors"
        # A strip's splits are counted on one repeat, a frame's all round it.
        times = -(-2 * (form.width + form.height) // self.form.rows)
        brief = self.brief.changed(splits=times * self.brief.rules.splits)
        return joined(laid(self.repeat, form, corner), self.strip, brief, symmetry, effort, proven)

    def counts(self, corner: Corner, turnovers: tuple[int, int]) -> Iterator[int]:
        """The repeats, as many across as down, of frames whose corners and turnovers do not meet, the fewest first."""
        for count in range(1, _MOST_REPEATS + 1):
            form = frame_of(self.form, corner, turnovers, (count, count))
            if form is not None and min(form.half_width, form.half_height) >= form.band + _BETWEEN:
                yield count

    @property
    def steps(self) -> int:
        """How often `offers` calls its watcher, at the most: for each place that was not tried before."""
        return len(corners(self.form)) + 2 * len(self._turnovers())

    def offers(self, watch: Watch = _nobody) -> Offers:
        """Every corner, and every turnover after either way to go on from a corner. watch: told each place as it is
        tried, a `Corner`, or one that stands for all that go its way and a row, with the offer."""
        found = self.corners(watch)
        # Those of both ways at once: the same frames are made for them.
        self._turned(found, (False, True), watch)
        return Offers(found, self.turnovers(found, False, watch), self.turnovers(found, True, watch))

    def corners(self, watch: Watch = _nobody) -> list[CornerOffer]:
        """The corners that can be worked, those with the fewest changes first."""
        # Those with frames of one size after one another.
        rows = self._turnovers()
        tasks = sorted(corners(self.form), key=lambda corner: min(self._side(corner, row) for row in rows))
        found = self._each(_with_corner, tasks, watch)
        return sorted(found, key=lambda offer: (offer.changed.changed, offer.corner.row, offer.corner.up))

    def turnovers(self, offered: Sequence[CornerOffer], up: bool, watch: Watch = _nobody) -> list[TurnoverOffer]:
        """The rows at which a side that goes up the repeat from its corner, or down it, joins its reverse, fewest
        changes first. offered: all corners; of the best that go that way the one stands for the others with which the
        frame is smallest."""
        found = self._turned(offered, (up,), watch)
        return sorted(found, key=lambda offer: (offer.changed.changed, offer.row))

    def _turned(self, offered: Sequence[CornerOffer], ways: Sequence[bool], watch: Watch) -> list[TurnoverOffer]:
        tasks = []
        for up in ways:
            own = [each for each in offered if each.corner.up is up]
            best = [each.corner for each in own if each.changed.changed == own[0].changed.changed]
            for row in self._turnovers() if best else []:
                tasks.append((min(best, key=lambda corner: self._side(corner, row)), row))
        return self._each(_with_turnover, sorted(tasks, key=lambda task: self._side(*task)), watch)

    def with_corner(self, corner: Corner) -> CornerOffer | None:
        """A corner, if it can be worked."""
        # Frames are long enough for the turnover to make no difference at the corners: that of the shortest will do.
        turnovers = sorted(self._turnovers(), key=lambda row: self._side(corner, row))[:_TRIED]
        tried = (self._smallest(corner, turnover, Where.CORNERS) for turnover in turnovers)
        done = next((each for each in tried if each is not None), None)
        return None if done is None else CornerOffer(corner, done.count(Where.CORNERS).each(4), done.frame)

    def with_turnover(self, corner: Corner, row: int) -> TurnoverOffer | None:
        """A turnover of the strip that begins at a corner, if it can be worked."""
        done = self._smallest(corner, row, Where.TURNOVERS)
        return None if done is None else TurnoverOffer(row, done.count(Where.TURNOVERS).each(4), done.frame, corner)

    def _each(
        self, work: Callable[[Mirrored, int, _In], _Out | None], tasks: Sequence[_In], watch: Watch
    ) -> list[_Out]:
        before = _found_before(to_text(self.strip), repr(self.brief))
        new = [task for task in tasks if (work, task) not in before]
        if new:
            with WorkerPool(Mirrored, self._given, self._cores) as workers:
                for number, offer in workers.in_order(work, enumerate(new)):
                    watch(new[number], offer)
                    before[work, new[number]] = offer
        every = (before[work, task] for task in tasks)
        return [offer for offer in every if offer is not None]

    def _turnovers(self) -> list[int]:
        """The rows that the headside's fans allow."""
        headside = self.form.headside
        rows = range(self.form.rows)
        return [row for row in rows if headside is None or (row - headside.first) % headside.depth == 0]

    def _smallest(self, corner: Corner, turnover: int, proven: Where) -> Joined | None:
        """The smallest frame whose corners and turnovers do not meet."""
        turnovers = (turnover, turnover)
        count = next(self.counts(corner, turnovers), None)
        return None if count is None else self.frame(corner, turnovers, (count, count), LISTING, proven)

    def _side(self, corner: Corner, turnover: int) -> float:
        """Half a side of that frame, units; inf if there is none."""
        turnovers = (turnover, turnover)
        forms = (frame_of(self.form, corner, turnovers, (count, count)) for count in self.counts(corner, turnovers))
        form = next(forms, None)
        return math.inf if form is None else form.half_width


@lru_cache(maxsize=_STRIPS)
def _found_before(strip: str, brief: str) -> dict[object, Any]:
    """What was found for tasks of a strip and its brief, by the work and the task."""
    return {}


def _with_corner(mirrored: Mirrored, _: int, corner: Corner) -> CornerOffer | None:
    return mirrored.with_corner(corner)


def _with_turnover(mirrored: Mirrored, _: int, at: tuple[Corner, int]) -> TurnoverOffer | None:
    return mirrored.with_turnover(*at)
