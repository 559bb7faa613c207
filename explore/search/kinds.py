"""Jobs on several kinds of a form, each with its symmetry: the stamp is laid where it is known before they begin, and
where that is not asked, as they come to it."""

from __future__ import annotations

from abc import abstractmethod
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar

import numpy as np

from constraints.brief import UNKNOWN, Brief
from constraints.design import Design
from constraints.forms import FORMS
from constraints.symmetry import SUITS, told
from explore.search.form_kind import FormKind
from explore.search.laying import why
from explore.search.laying.falls import Fall, least_size, may_be_known_from, sizes_looked_at
from explore.search.laying.placement import (
    USED,
    Laid,
    Placement,
    amid,
    depends_on,
    in_turns,
    laid_before,
    laid_once,
    lay,
    usable,
)
from explore.search.staging import Stages
from explore.search.workers import WorkerPool
from explore.search.workshop import CLOSER, NEARLY, Composed, Laying, LayingWorkshop, NoPlace, canvas_round, said

_T = TypeVar("_T")
# Of each rank of placements so many are tried.
_TRIES = 3
# Where it is to be known, so many large ones are laid, so many others, and so many of the best once more, longer.
_TRIED, _TRIED_SMALL, _LOOKED_AT = 12, 8, 4
# Before a stage is taken a piece is looked for among so many jobs.
_JOBS = 4


@dataclass(frozen=True, eq=False)
class LaidOn:
    """A stamp laid on the kind of this number."""

    number: int
    laid: Laid

    @property
    def prints(self) -> tuple[Laid, ...]:
        return (self.laid,)


@dataclass(eq=False)
class KindsWorkshop(LayingWorkshop[LaidOn]):
    """What the jobs of one brief share."""

    @abstractmethod
    def every_kind(self) -> list[FormKind[Any]]:
        """One for every form and symmetry that the brief allows."""

    @cached_property
    def kinds(self) -> list[FormKind[Any]]:
        """Every kind by its number."""
        return self.every_kind()

    @cached_property
    def stages(self) -> Stages:
        return Stages(self.kinds, self.stamp, self.brief.stamp)

    @property
    def grounds(self) -> dict[int, FormKind[Any]]:
        return {number: self.kinds[number] for number in self.stages.every or range(len(self.kinds))}

    def best_laid(self, least: Sequence[float], count: int) -> list[LaidOn]:
        numbers = self.stages.every
        room = self.stages.largest(numbers)
        from_size = least[0] if least[0] <= room else NEARLY * room
        ranks = [
            self._mixed([each for each in rank if each[1].size >= from_size]) for rank in self.stages.ranks(numbers)
        ]
        some = [each for rank in ranks for each in rank][:count]
        found = [(number, self._lay(number, placement)) for number, placement in some]
        return [LaidOn(number, each) for number, each in found if each is not None]

    def has_place(self) -> bool:
        return self.stamp is None or any(map(self.stages.places, range(len(self.kinds))))

    def tasks(
        self, workers: WorkerPool[Any], jobs: range, laying: Laying, hasty: bool = False
    ) -> Iterator[tuple[int, LaidOn | None]]:
        """Their numbers alone where every job lays the stamp itself; else they take turns with those laid in which it
        is known."""
        if self.stamp is None or self.brief.stamp.known == UNKNOWN:
            yield from ((job, None) for job in jobs)
            return
        if not self.has_place():
            raise NoPlace(said(self.nowhere))
        there = self._known(workers, laying, hasty)
        yield from ((job, there[job % len(there)]) for job in jobs)

    def _known(self, workers: WorkerPool[Any], laying: Laying, hasty: bool) -> list[LaidOn]:
        """The stamp laid where it is known, on pieces of the first stage that has such places. Raises NoPlace."""
        brief, stamp, stages = self.brief, self.stamp, self.stages
        assert stamp is not None
        laid: list[LaidOn] = []
        fallen: dict[float, Fall | None] = {}
        largest, hopeless, unmade = 0.0, list[list[int]](), list[LaidOn]()

        def looked_at(room: float) -> list[Fall]:
            fitting, _ = sizes_looked_at(brief, room)
            new = [size for size in fitting if size not in fallen]
            fallen.update(zip(new, self.fallen(workers, new), strict=True))
            return [found for size in fitting if (found := fallen[size]) is not None]

        for numbers in stages:
            room = stages.largest(numbers)
            largest = max(largest, room)
            least = may_be_known_from(brief, looked_at(room))
            if least is None or least > room:
                hopeless.append(numbers)
            elif there := self._laid_known(workers, numbers, least, laid, laying, hasty):
                if self._made_of(workers, there):
                    return there
                unmade = unmade or there
                # What is known there is no help on later ones.
                laid.clear()
        if unmade:
            return unmade
        if not laid:
            roomiest = max(hopeless, key=stages.largest)
            least = least_size(brief, looked_at(stages.largest(roomiest)))
            if there := self._laid_known(workers, roomiest, least, laid, laying, hasty):
                return there

        def explained() -> tuple[str, tuple[Brief, ...]]:
            _, larger = sizes_looked_at(brief, largest)
            every = [each for each in [*fallen.values(), *self.fallen(workers, larger)] if each is not None]
            return why.unknown(brief, stamp, [each.laid for each in laid], every, largest, self._has_room)

        raise NoPlace(explained)

    def _made_of(self, workers: WorkerPool[Any], there: Sequence[LaidOn]) -> bool:
        """Whether one of the first jobs makes a piece with the stamp laid so; where no later stage is left, that is not
        asked."""
        if all(kind.stage <= self.kinds[there[0].number].stage for kind in self.kinds):
            return True
        tasks = ((job, there[job % len(there)]) for job in range(_JOBS))
        return any(design is not None for _, (design, _) in workers.in_order(_run, tasks))

    def _laid_known(
        self,
        workers: WorkerPool[Any],
        numbers: Sequence[int],
        least: float,
        laid: list[LaidOn],
        laying: Laying,
        hasty: bool,
    ) -> list[LaidOn]:
        """The stamp laid where it is known on kinds of these numbers: large and upright before others; none if it is
        known nowhere there. least: its smallest size, pitches. laid: to which all that are laid are added."""

        brief = self.brief

        def lay_all(some: list[tuple[int, Placement]], patience: float) -> list[LaidOn]:
            every, found = len(laid) + len(some), []
            keys = [depends_on(brief, self.kinds[number].context, where, patience) for number, where in some]
            tasks = [(number, (where, patience)) for number, where in some]
            for number, each in laid_before.in_order(workers, _lay, tasks, keys):
                if each is not None:
                    found.append(LaidOn(number, each))
                laying(every - len(some) + len(found), every)
                if hasty and self.chosen(found):
                    break
            laid.extend(found)
            return found

        ranks = self.stages.ranks(numbers)
        large, small, others = (self._mixed([one for one in rank if one[1].size >= least]) for rank in ranks)
        rounds = [large[:_TRIED] + small[:_TRIED_SMALL], others[:_TRIED]]
        if not any(rounds):
            # Too small everywhere: what comes nearest is told.
            every = [each for rank in ranks for each in rank]
            rounds = [sorted(every, key=lambda each: -each[1].size)[:_LOOKED_AT]]
        for some in rounds:
            best = sorted(lay_all(some, 1.0), key=lambda each: -each.laid.score)[:_LOOKED_AT]
            if not hasty or not self.chosen(best):
                lay_all([(each.number, each.laid.placement) for each in best], CLOSER)
            if there := self.chosen(laid):
                return there
        return []

    def chosen(self, laid: Sequence[LaidOn]) -> list[LaidOn]:
        """Of those laid what jobs take turns with: in which the print is known as surely as the brief asks, symmetries
        mixed, of each the most surely first, each placement once."""
        best: dict[tuple[int, Placement], LaidOn] = {}
        for each in laid:
            spot = each.number, each.laid.placement
            fit = usable(each.laid, self.brief) and each.laid.known_as(self.brief.stamp.known)
            if fit and (spot not in best or each.laid.score > best[spot].laid.score):
                best[spot] = each
        ranked = sorted(best.values(), key=lambda each: -each.laid.score)
        mixed = in_rounds(ranked, lambda each: self.kinds[each.number].symmetry)
        return in_turns(mixed[:USED], lambda each: each.laid)

    def _mixed(self, placements: Sequence[tuple[int, Placement]]) -> list[tuple[int, Placement]]:
        """Placements drawn by the seed, of every symmetry one in every round."""
        rng = np.random.default_rng([self.brief.run.seed, len(placements)])
        drawn = [placements[place] for place in rng.permutation(len(placements))]
        return in_rounds(drawn, lambda each: self.kinds[each[0]].symmetry)

    def _has_room(self, brief: Brief, size: float) -> bool:
        # Without a symmetry there is most room.
        symmetry = "none" if brief.piece.symmetry == SUITS else brief.piece.symmetry
        return type(self)(brief.changed(stamp_size=(size, size), symmetry=symmetry), self.stamps).has_place()

    @property
    def nowhere(self) -> str:
        piece = self.brief.piece
        having = "" if piece.symmetry == SUITS else f" with {told(piece.symmetry)}"
        return f"{self.brief.called} finds no place in any {FORMS[piece.form].composed} of this size{having}"

    def compose(self, job: int, task: LaidOn | None, rng: np.random.Generator) -> Composed | str:
        """A kind with the stamp laid on it, as the task says or drawn, and parts composed round it."""
        brief = self.brief
        numbers = self.stages.first if task is None else self.stages.beside(task.number)
        if not numbers:
            raise NoPlace(said(self.nowhere))
        kind, laid = self.kinds[numbers[int(rng.integers(len(numbers)))]], tuple[Laid, ...]()
        if self.stamp is not None:
            found = task or self._laid_first(numbers, rng)
            if found is None:
                return f"no blocks match the stamp by {brief.rules.match:g} there"
            kind, laid = self.kinds[found.number], (found.laid,)
        # Only the print splits more often than the brief allows everywhere, and it does so already.
        ground = kind.context.allowing(sum(each.splits for each in laid))
        keep_off = amid(task.laid, ground.piece) if task else None
        name, canvas = kind.compose(canvas_round(ground, laid, keep_off=keep_off), rng)
        return Composed(ground, laid, canvas, name, kind.pitch_mm)

    def _laid_first(self, numbers: Sequence[int], rng: np.random.Generator) -> LaidOn | None:
        """Of a few placements of the first rank that blocks can show the one in which the print is known best, on kinds
        of these numbers."""
        for rank in self.stages.ranks(numbers):
            tried = [rank[place] for place in rng.permutation(len(rank))[:_TRIES]]
            laid = [LaidOn(number, each) for number, where in tried if (each := self._lay(number, where)) is not None]
            fit = [each for each in laid if each.laid.match >= self.brief.rules.match]
            if fit:
                return max(fit, key=lambda each: each.laid.score)
        return None

    def _lay(self, number: int, placement: Placement) -> Laid | None:
        return laid_once(self.brief, self.kinds[number].context, placement)


def in_rounds(some: Sequence[_T], key: Callable[[_T], str]) -> list[_T]:
    """What is given in its order, but one of every key in every round."""
    taken: Counter[str] = Counter()
    rounds = []
    for each in some:
        rounds.append(taken[key(each)])
        taken[key(each)] += 1
    return [some[number] for number in sorted(range(len(some)), key=lambda number: rounds[number])]


def _lay(workshop: KindsWorkshop, number: int, task: tuple[Placement, float]) -> Laid | None:
    placement, patience = task
    return lay(workshop.brief, workshop.kinds[number].context, placement, patience)


def _run(workshop: KindsWorkshop, job: int, task: LaidOn) -> tuple[Design | None, str]:
    return workshop.run(job, task)
