"""What the jobs of one brief share, whatever its form; a job is a pure function of brief, stamp and its number."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, ClassVar, Generic, Protocol, TypeVar

import numpy as np

from constraints.brief import UNKNOWN, Brief
from constraints.conflict import Conflict
from constraints.design import Design
from constraints.lattice import BoolArray, Point
from constraints.stamp import Stamp
from explore.search.attempt import Making, attempt
from explore.search.compose.canvas import Canvas
from explore.search.compose.stitching import stitched
from explore.search.context import Context
from explore.search.laying.falls import Fall, look, looks
from explore.search.laying.placement import Laid
from explore.search.workers import WorkerPool
from gallery.seeing.knowing import seen_if_any, surely

# Told how many places of a stamp are worked out before the first job, and of how many.
Laying = Callable[[int, int], None]
# Why a stamp can be laid nowhere, with briefs that would take what was come near to.
Why = Callable[[], tuple[str, tuple[Brief, ...]]]
_Task = TypeVar("_Task")
_Laid = TypeVar("_Laid", bound="LaidPrints")
# So much longer is spent where a print is looked at more closely: an intricate one is known better then (measured: a
# snail by 0.5 of its score), a plain one is done sooner anyway.
CLOSER = 2.5
# Where there is no room for a print that is known: such a share of the largest there is room for, or of several of all.
NEARLY = 0.75
# So many compositions are kept with what they came to.
_KEPT = 256


class NoPlace(Exception):
    """The stamp can be laid nowhere. why: asked only where it is told, since larger sizes are looked at for it."""

    def __init__(self, why: Why) -> None:
        super().__init__(why)
        self.why = why


def said(words: str, near: tuple[Brief, ...] = ()) -> Why:
    """What is known already; a process can hand it to another."""
    return partial(_same, (words, near))


def _same(told: tuple[str, tuple[Brief, ...]]) -> tuple[str, tuple[Brief, ...]]:
    return told


class Ground(Protocol):
    """Pieces of one size and one symmetry that a brief allows."""

    @property
    def brief(self) -> Brief: ...

    @property
    def context(self) -> Context: ...

    @property
    def pitch_mm(self) -> float:
        """The pitch of what is made."""


class LaidPrints(Protocol):
    """Stamps laid on one ground."""

    @property
    def number(self) -> int:
        """Of the ground."""

    @property
    def prints(self) -> tuple[Laid, ...]:
        """One of each stamp, in the order of the brief."""


@dataclass(frozen=True, eq=False)
class Composed:
    """Blocks composed on a canvas round laid stamps. name: what leads. pitch_mm: of what is made of it. eyes: of a part
    that is kept."""

    context: Context
    laid: tuple[Laid, ...]
    canvas: Canvas
    name: str
    pitch_mm: float
    eyes: tuple[Point, ...] = ()


@dataclass(eq=False)
class Workshop(ABC, Generic[_Task]):
    """What the jobs of one brief share. A task is what a job must be told beside its number.

    effort: deterministic time for the whole model, starting from a composed hint. called: what a job is called in a
    Defect. stream: what its random numbers depend on beside seed and job.
    """

    brief: Brief
    stamps: tuple[Stamp, ...]
    _tried: dict[tuple[Any, ...], tuple[Design | None, str]] = field(default_factory=dict, init=False, repr=False)

    effort: ClassVar[float] = 0.5
    called: ClassVar[str] = "job"
    stream: ClassVar[tuple[int, ...]] = ()

    @abstractmethod
    def tasks(
        self, workers: WorkerPool[Any], jobs: range, laying: Laying, hasty: bool = False
    ) -> Iterator[tuple[int, _Task] | None]:
        """The jobs with their tasks, in order, and None while the next one is not known yet; workers: of this workshop.
        hasty: whether the first place in which the stamp is known will do, and no better one is looked for. Raises
        NoPlace."""

    @abstractmethod
    def compose(self, job: int, task: _Task, rng: np.random.Generator) -> Composed | str:
        """What a job composes, or why nothing. Raises NoPlace."""

    @abstractmethod
    def has_place(self) -> bool:
        """Whether the stamp, if there is one, lies anywhere at all, well or badly."""

    @property
    def stamp(self) -> Stamp | None:
        """The one stamp that most briefs show."""
        return self.stamps[0] if self.stamps else None

    @property
    def least(self) -> str:
        """How surely each print must be known in every design, one of KNOWING."""
        return self.brief.stamp.known

    def fallen(self, workers: WorkerPool[Any], sizes: Sequence[float]) -> Iterator[Fall | None]:
        """The stamp alone at each of these sizes, pitches; None where nothing is found in the effort. workers: of this
        workshop."""
        assert self.stamp is not None
        asked = [(number, (self.stamp, self.brief, size)) for number, size in enumerate(sizes)]
        return (found for _, found in looks(workers, _look, asked))

    def conflict(self) -> Conflict | None:
        """Why the brief itself is impossible, asked once a composition is. None if it is not, or not known."""
        return None

    def values(self, composed: Composed, rng: np.random.Generator) -> BoolArray:
        """(size,) the values of a composition: its stitches and fillings."""
        return stitched(composed.context.model, composed.canvas, rng)

    def run(self, job: int, task: _Task) -> tuple[Design | None, str]:
        """The design of this job, checked, its print known as surely as is asked; or None and why not. Raises NoPlace,
        and Defect if the check disagrees."""
        rng = np.random.default_rng([self.brief.run.seed, job, *self.stream])
        composed = self.compose(job, task, rng)
        if isinstance(composed, str):
            return None, composed
        brief = self.brief
        what = f"{self.called} {job} with seed {brief.run.seed}"
        making = Making(composed.pitch_mm, brief.piece.passives, brief.run.seed, composed.name, what, composed.eyes)
        design, note = self._attempted(composed, self.values(composed, rng), making)
        if design is None or self.least == UNKNOWN:
            return design, note
        seen = seen_if_any(design)
        if seen is not None and not surely(seen.known, self.least):
            return None, f"the print is not {self.least} in it"
        return design, note

    def _attempted(self, composed: Composed, values: BoolArray, making: Making) -> tuple[Design | None, str]:
        """What a composition with these values, (size,), comes to, as `attempt` tells it. Where few find room, jobs
        compose the same ones again and again: what the last ones came to is kept."""
        laid = tuple((each.placement, each.target.reverse) for each in composed.laid)
        same = composed.context, laid, replace(making, what=""), values.tobytes()
        if same not in self._tried:
            effort = self.effort * self.brief.run.effort
            self._tried[same] = attempt(composed.context, values, composed.laid, making, effort)
            if len(self._tried) > _KEPT:
                del self._tried[next(iter(self._tried))]
        return self._tried[same]


@dataclass(eq=False)
class LayingWorkshop(Workshop[_Laid | None], Generic[_Laid]):
    """A workshop that lays the stamps of its brief anywhere. A task is where they lie, None where none is told."""

    @property
    @abstractmethod
    def grounds(self) -> Mapping[int, Ground]:
        """Every piece that the brief allows, by its number; of a stamp, those on which it finds a place, if there are
        any."""

    @property
    @abstractmethod
    def nowhere(self) -> str:
        """That the stamps find no place, in words."""

    @abstractmethod
    def best_laid(self, least: Sequence[float], count: int) -> list[_Laid]:
        """The stamps laid where they suit best, at most so often. least: of each the size, pitches, from which it may
        be known; where there is no room for it, a little less."""

    @abstractmethod
    def chosen(self, laid: Sequence[_Laid]) -> list[_Laid]:
        """Those that a brief with stamps can use, in the order in which jobs take turns with them."""


def _look(workshop: Workshop[Any], _: int, size: float) -> Fall | None:
    assert workshop.stamp is not None
    return look(workshop.stamp, workshop.brief, size)


def canvas_round(
    context: Context, laid: Sequence[Laid], part: BoolArray | None = None, keep_off: BoolArray | None = None
) -> Canvas:
    """A canvas with what a headside takes, the stamps and a part, (n,), alone; nothing else is laid on what the stamps
    ask for, nor where it must keep off, (n,)."""
    nothing = np.zeros(len(context.piece), dtype=np.bool_)
    block = context.piece.fan | (nothing if part is None else part)
    keep_off = nothing if keep_off is None else keep_off
    for each in laid:
        if each.blocking is not None:
            block |= each.blocking.block
            keep_off = keep_off | each.target.touched(len(keep_off))
    return Canvas(context.blocks, block, keep_off)
