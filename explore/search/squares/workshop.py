"""Jobs of squares: one stamp laid and blocked beforehand, a composition drawn round it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

import numpy as np

from constraints.brief import UNKNOWN, Brief
from constraints.conflict import Conflict, conflict
from explore.search.laying import why
from explore.search.laying.falls import Fall, sizes_looked_at
from explore.search.laying.laid import PlaceLaid, few_good, fittest, worth_more_effort
from explore.search.laying.placement import USED
from explore.search.laying.sectors import Place
from explore.search.squares import suited
from explore.search.squares.composing import composed
from explore.search.squares.placing import Placing
from explore.search.squares.remembered import laid_once, lay_in_order
from explore.search.squares.suited import LaidThere, placings_of
from explore.search.squares.suiting import room, suiting
from explore.search.workers import WorkerPool
from explore.search.workshop import CLOSER, NEARLY, Composed, Laying, LayingWorkshop, NoPlace, canvas_round, said

# So much longer is spent on a stamp that matches well in few places.
_PATIENCE = 5.0
# After so many turns with the best places the squares that are still wanted come from all of them.
_ROUNDS = 4
# So many squares are made before all places are laid, and so much shorter is looked for a place that shows the print at
# once (measured: of 63 looks at seven prints 26 find it, of those as long as usual 36).
_EARLY, _GLANCE = 2, 0.5


class SquareWorkshop(LayingWorkshop[LaidThere]):
    """Squares of every symmetry, way of working and size that the brief allows."""

    @cached_property
    def placings(self) -> list[Placing]:
        """Where the stamp may lie, for each of them."""
        return placings_of(self.brief, self.stamp)

    def tasks(
        self, workers: WorkerPool[SquareWorkshop], jobs: range, laying: Laying, hasty: bool = False
    ) -> Iterator[tuple[int, LaidThere | None] | None]:
        """First the stamp alone at every place worth trying, then the jobs take turns with the best of them."""
        if self.stamp is None:
            yield from ((job, None) for job in jobs)
        elif self.brief.stamp.known == UNKNOWN and self.brief.stamp.size is None:
            yield from self._matching(workers, jobs, laying)
        else:
            yield from self._known(workers, jobs, laying, hasty)

    @property
    def grounds(self) -> dict[int, Placing]:
        return dict(enumerate(self.placings))

    @property
    def nowhere(self) -> str:
        assert self.stamp is not None
        return why.too_large(self.brief, self.stamp)

    def best_laid(self, least: Sequence[float], count: int) -> list[LaidThere]:
        from_size = min(least[0], NEARLY * max(room(self.placings).values(), default=0.0))
        places = suiting(self.placings, from_size, count)
        laid = [LaidThere(number, laid_once(self.placings[number], place)) for number, place in places]
        return [each for each in laid if each.laid.blocking is not None]

    def chosen(self, laid: Sequence[LaidThere]) -> list[LaidThere]:
        return suited.chosen(self.placings, laid, self.brief)

    def _known(
        self, workers: WorkerPool[SquareWorkshop], jobs: range, laying: Laying, hasty: bool
    ) -> Iterator[tuple[int, LaidThere] | None]:
        """The jobs with the places where the print is known: the first jobs as soon as it is in one, all others when
        the best places are found. Raises NoPlace."""
        brief, stamp = self.brief, self.stamp
        assert stamp is not None
        laid: list[LaidThere] = []
        fallen: list[Fall] = []

        def lay(further: list[tuple[int, Place]], patience: float) -> Iterator[LaidThere]:
            every = len(laid) + len(further)
            for number, found in lay_in_order(self.placings, further, patience, workers):
                laid.append(LaidThere(number, found))
                laying(len(laid), every)
                yield laid[-1]

        early: list[LaidThere] = []
        for each in lay(suited.first_places(brief, self.placings), _GLANCE):
            if len(early) < _EARLY and suited.at_once(each, brief):
                early.append(each)
                if len(early) - 1 in jobs:
                    yield len(early) - 1, each
            yield None
        fitting, larger = sizes_looked_at(brief, max(room(self.placings).values(), default=0.0))
        for alone in self.fallen(workers, fitting):
            fallen += [alone] if alone is not None else []
            yield None
        # Where a glance was not enough, it is looked at as all others are.
        tried = {(each.number, each.laid.place) for each in laid if suited.at_once(each, brief)}
        places = [each for each in suited.places_to_lay(brief, self.placings, fallen) if each not in tried]

        def looks() -> Iterator[LaidThere]:
            yield from lay(places, 1.0)
            yield from lay(suited.closer(self.placings, laid, brief), CLOSER)
            yield from lay(suited.larger(brief, self.placings, fallen, laid), CLOSER)

        for each in looks():
            if hasty and suited.chosen(self.placings, [each], brief):
                break
            yield None
        there = suited.chosen(self.placings, laid, brief)
        if not there:

            def explained() -> tuple[str, tuple[Brief, ...]]:
                further = [each for each in self.fallen(workers, larger) if each is not None]
                return suited.nowhere(brief, stamp, self.placings, fallen + further, laid)

            raise NoPlace(explained)
        every = [*there, *suited.further(laid, there, brief)]
        for job in jobs[max(0, len(early) - jobs.start) :]:
            yield job, there[job % len(there)] if job < _ROUNDS * len(there) else every[job % len(every)]

    def _matching(
        self, workers: WorkerPool[SquareWorkshop], jobs: range, laying: Laying
    ) -> Iterator[tuple[int, LaidThere]]:
        """The jobs with the places that match best, of every size."""
        assert self.stamp is not None
        every = self._lay_all(workers, laying)
        laid = [
            fittest(each, self.brief, placing.context.piece, USED)
            for placing, each in zip(self.placings, every, strict=True)
        ]
        if not any(laid):
            if not any(every):
                raise NoPlace(said(self.nowhere))
            raise NoPlace(said(*why.no_place(self.brief, self.stamp, [each for found in every for each in found])))
        for job in jobs:
            number = job % len(laid)
            if laid[number]:
                yield job, LaidThere(number, laid[number][(job // len(laid)) % len(laid[number])])

    def _lay_all(self, workers: WorkerPool[SquareWorkshop], laying: Laying) -> list[list[PlaceLaid]]:
        """For every size the places of the stamp, blocked: a first choice, then more like the best of it."""

        def lay(places: list[tuple[int, Place]], patience: float = 1.0) -> Iterator[tuple[int, PlaceLaid]]:
            for done, (size, laid) in enumerate(lay_in_order(self.placings, places, patience, workers), 1):
                laying(done, len(places))
                yield size, laid

        placings = self.placings
        found: list[list[PlaceLaid]] = [[] for _ in placings]
        for size, laid in lay([(n, place) for n, placing in enumerate(placings) for place in placing.places]):
            found[size].append(laid)
        more = [(n, place) for n, placing in enumerate(placings) for place in placing.more_places(found[n])]
        for size, laid in lay(more):
            found[size].append(laid)
        for look in (Placing.survey, Placing.closer_places):
            poor = [n for n, each in enumerate(found) if few_good(each, self.brief, placings[n].context.piece)]
            for size, laid in lay([(n, place) for n in poor for place in look(placings[n], found[n])]):
                found[size].append(laid)
        hard = [(n, place) for n, each in enumerate(found) for place in worth_more_effort(each, self.brief)]
        for size, laid in lay(hard, _PATIENCE):
            found[size] = [laid if each.place == laid.place else each for each in found[size]]
        return found

    def has_place(self) -> bool:
        if self.stamp is None:
            return True
        if self.brief.stamp.known == UNKNOWN:
            return any(placing.places for placing in self.placings)
        return bool(room(self.placings))

    def conflict(self) -> Conflict | None:
        reasons = [conflict(placing.brief, placing.size, self.brief.run.effort) for placing in self.placings]
        return reasons[-1] if all(reasons) else None

    def compose(self, job: int, task: LaidThere | None, rng: np.random.Generator) -> Composed:
        """A composition round the stamp."""
        placing = self.placings[job % len(self.placings) if task is None else task.number]
        laid = () if task is None else (task.laid,)
        # Only the print splits more often than the brief allows everywhere, and it does so already.
        ground = placing.context.allowing(0 if task is None or not self.brief.stamp.own_splits else task.laid.splits)
        keep_off = placing.amid(task.laid) if task else None
        name, canvas = composed(placing, lambda: canvas_round(ground, laid, keep_off=keep_off), job, rng)
        return Composed(ground, laid, canvas, name, placing.pitch_mm)
