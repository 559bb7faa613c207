"""Jobs that draw one of several kinds of a form, each with its symmetry, and lay the stamp on it as they come to it."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Generic, TypeVar

import numpy as np

from constraints.brief import Brief
from constraints.forms import FORMS, Form
from constraints.stamp import Stamp
from constraints.symmetry import SUITS, told
from explore.search.compose.canvas import Canvas
from explore.search.context import Context, context
from explore.search.laying.placement import Laid, Placement, lay
from explore.search.workers import WorkerPool
from explore.search.workshop import Composed, Laying, NoPlace, Workshop, canvas_round

_F = TypeVar("_F", bound=Form)
# Of each rank of placements so many are tried, and one is large from so much of the largest size on.
_TRIES, _LARGE = 3, 0.85


@dataclass(eq=False)
class FormKind(ABC, Generic[_F]):
    """Pieces of one form and one symmetry under a brief."""

    brief: Brief
    symmetry: str
    form: _F

    @abstractmethod
    def placements(self, stamp: Stamp) -> list[Placement]:
        """Every way to lay the stamp."""

    @abstractmethod
    def compose(self, canvas: Canvas, rng: np.random.Generator) -> tuple[str, Canvas]:
        """Lay parts round the stamp on a canvas; the name of what leads."""

    @cached_property
    def context(self) -> Context:
        return context(self.form, self.brief.piece.worked, self.symmetry, self.brief.rules)


@dataclass(eq=False)
class KindsWorkshop(Workshop[None]):
    """What the jobs of one brief share."""

    _laid: dict[tuple[int, Placement], Laid | None] = field(default_factory=dict)

    @abstractmethod
    def every_kind(self) -> list[FormKind[Any]]:
        """One for every form and symmetry that the brief allows."""

    @cached_property
    def kinds(self) -> list[tuple[FormKind[Any], list[Placement]]]:
        """Every kind with the placements of the stamp on it; of a stamp only those that have one."""
        stamp = self.stamp
        if stamp is None:
            return [(kind, []) for kind in self.every_kind()]
        kinds = [(kind, kind.placements(stamp)) for kind in self.every_kind()]
        return [(kind, places) for kind, places in kinds if places]

    def has_place(self) -> bool:
        return bool(self.kinds)

    def tasks(self, workers: WorkerPool[Any], jobs: range, laying: Laying) -> Iterator[tuple[int, None]]:
        """Nothing but their numbers: every job lays the stamp itself."""
        return ((job, None) for job in jobs)

    def compose(self, job: int, task: None, rng: np.random.Generator) -> Composed | str:
        """A kind drawn, with the stamp laid on it and parts composed round it."""
        brief = self.brief
        if not self.kinds:
            nowhere = "" if brief.piece.symmetry == SUITS else f" with {told(brief.piece.symmetry)}"
            raise NoPlace(
                f"{brief.stamp.name} finds no place in any {FORMS[brief.piece.form].composed} of this size{nowhere}"
            )
        kind, laid = self.kinds[int(rng.integers(len(self.kinds)))][0], tuple[Laid, ...]()
        if self.stamp is not None:
            found = self._laid_first(rng)
            if found is None:
                return f"no blocks match the stamp by {brief.rules.match:g} there"
            kind, laid = found[0], (found[1],)
        # Only the print splits more often than the brief allows everywhere, and it does so already.
        ground = kind.context.allowing(sum(each.splits for each in laid))
        name, canvas = kind.compose(canvas_round(ground, laid), rng)
        return Composed(ground, laid, canvas, name, brief.piece.middle_pitch_mm)

    def _laid_first(self, rng: np.random.Generator) -> tuple[FormKind[Any], Laid] | None:
        """Of a few placements of the first rank that blocks can show the one in which the print is known best, as
        surely as the brief asks: its kind, and the stamp laid on that."""
        for rank in self._ranks:
            tried = [rank[place] for place in rng.permutation(len(rank))[:_TRIES]]
            laid = [(number, self._lay(number, placement)) for number, placement in tried]
            known = [(n, each) for n, each in laid if each is not None and each.known_as(self.brief.stamp.known)]
            if known:
                number, best = max(known, key=lambda one: one[1].score)
                return self.kinds[number][0], best
        return None

    @cached_property
    def _ranks(self) -> list[list[tuple[int, Placement]]]:
        """Placements with the number of their kind: large and upright, upright, all others. Of sizes or turns that she
        named none comes before another."""
        every = [(number, placement) for number, (_, places) in enumerate(self.kinds) for placement in places]
        asked = self.brief.stamp
        upright = [bool(asked.turns) or placement.turn == 0.0 for _, placement in every]
        most = max((each[1].size for each, up in zip(every, upright, strict=True) if up), default=0.0)
        ranks: list[list[tuple[int, Placement]]] = [[], [], []]
        for each, up in zip(every, upright, strict=True):
            large = asked.size is not None or each[1].size >= _LARGE * most
            ranks[(0 if large else 1) if up else 2].append(each)
        return ranks

    def _lay(self, number: int, placement: Placement) -> Laid | None:
        if (number, placement) not in self._laid:
            self._laid[number, placement] = lay(self.brief, self.kinds[number][0].context, placement)
        return self._laid[number, placement]
