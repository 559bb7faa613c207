"""The search for many different squares.

Jobs are numbered from 0 and each is a pure function of brief, stamp and number; they run in any order on any
number of cores, but are accepted in the order of their numbers. So the squares are the same on every machine,
and twelve and then twelve more are the same as twenty-four.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator, Sequence
from dataclasses import dataclass

from constraints import forms
from constraints.brief import Brief, sizes
from constraints.conflict import conflict
from constraints.design import Design
from constraints.explain import size_conflict
from constraints.solver import Status
from constraints.stamp import Stamp
from explore.bench import Bench
from explore.diversity import Collection
from explore.frames.job import FrameWorkshop
from explore.frames.measures import conflict as frame_conflict
from explore.job import Workshop
from explore.laying import why
from explore.laying.berths import Place
from explore.laying.laid import USED, Laid, few_good, fittest, worth_more_effort
from explore.strips.job import FormWorkshop, StripWorkshop, no_place
from explore.strips.measures import conflict as strip_conflict
from explore.workers import WorkerPool

Result = tuple[Design | None, str]
Laying = Callable[[int, int], None]

# So much longer is spent on a stamp that matches well in few places.
_PATIENCE = 5.0

# Jobs tried for each square asked for, and at the least, before the search gives up.
_JOBS_A_SQUARE, _JOBS_AT_LEAST = 8, 40


@dataclass(frozen=True)
class JobResult:
    """One job done, in job order. design: accepted, numbered and checked, or None. note: why not. near: briefs that
    ask for as much as was reached, where that says more than a note."""

    job: int
    design: Design | None
    note: str = ""
    near: tuple[Brief, ...] = ()


class Impossible(Exception):
    """No square can meet the brief: proven. The message is one line in her words. near: as that of a JobResult."""

    def __init__(self, message: str, near: tuple[Brief, ...] = ()) -> None:
        super().__init__(message)
        self.near = near


def search(
    brief: Brief,
    stamp: Stamp | None,
    *,
    kept: Sequence[Design] = (),
    first_job: int = 0,
    first_number: int = 1,
    count: int | None = None,
    cores: int | None = None,
    laying: Laying = lambda done, total: None,
    explain: bool = True,
) -> Generator[JobResult]:
    """Yield one JobResult a job until `count` squares are accepted or the effort is spent. Raises Impossible.

    laying: told how many places of the stamp are worked out before the first job. explain: whether it is asked if
    the brief itself is impossible, once a composition is.
    """
    too_few = form_conflict(brief)
    if too_few:
        raise Impossible(too_few)
    wanted = brief.count if count is None else count
    brief_doubted = not explain
    collection = Collection(brief.apart, kept)
    number = first_number
    limit = first_job + max(_JOBS_AT_LEAST, int(_JOBS_A_SQUARE * wanted * max(1.0, brief.effort)))
    for step in _results(brief, stamp, first_job, limit, cores, laying):
        if step.note == Status.IMPOSSIBLE.value and not brief_doubted and brief.form == forms.Square.name:
            # The solver has refused one composition with its stamp; is it the brief itself?
            brief_doubted = True
            reasons = [conflict(brief, size, brief.effort) for size in sizes(brief)]
            last = reasons[-1] if all(reasons) else None
            if last is not None:
                raise Impossible(last.words, last.near)
        if step.design is None:
            yield step
            continue
        if not collection.takes(step.design):
            yield JobResult(step.job, None, "too like one found before")
            continue
        yield JobResult(step.job, step.design.numbered(number))
        number += 1
        wanted -= 1
        if wanted == 0:
            return


def form_conflict(brief: Brief) -> str | None:
    """One line on why the brief allows no measures at all, and what would; None if it allows some."""
    if brief.form == forms.Square.name:
        return size_conflict(brief)
    return strip_conflict(brief) if brief.form == forms.Strip.name else frame_conflict(brief)


def _results(
    brief: Brief, stamp: Stamp | None, first: int, limit: int, cores: int | None, laying: Laying
) -> Iterator[JobResult]:
    """The jobs in their order, worked out on so many cores; their squares are checked, but neither accepted nor
    numbered."""
    if brief.form != forms.Square.name:
        with WorkerPool(form_workshop, (brief, stamp), cores) as workers:
            for job, result in workers.in_order(_work_form, ((job, ()) for job in range(first, limit))):
                yield JobResult(job, *result)
                if result == (None, no_place(brief)):
                    return
        return
    with WorkerPool(Workshop, (brief, stamp), cores) as workers:
        if stamp is None:
            for job, result in workers.in_order(_work, ((job, None) for job in range(first, limit))):
                yield JobResult(job, *result)
            return
        # First the stamp alone at every place worth trying, then the jobs take turns with the best of them.
        every = _lay_all(workers, brief, stamp, laying)
        laid = [fittest(each, brief, USED) for each in every]
        ways = len(laid)
        if not any(laid):
            yield JobResult(first, None, *_no_place(brief, stamp, every))
            return
        tasks = (
            (job, laid[job % ways][(job // ways) % len(laid[job % ways])])
            for job in range(first, limit)
            if laid[job % ways]
        )
        for job, result in workers.in_order(_work, tasks):
            yield JobResult(job, *result)


def _lay_all(workers: WorkerPool[Workshop], brief: Brief, stamp: Stamp, laying: Laying) -> list[list[Laid]]:
    """For every size the places of the stamp, blocked: a first choice, then more like the best of it."""

    def lay(work: Callable[[Workshop, int, Place], Laid], tasks: list[tuple[int, Place]]) -> Iterator[tuple[int, Laid]]:
        for done, (way, laid) in enumerate(workers.in_order(work, tasks), 1):
            laying(done, len(tasks))
            yield way, laid

    benches = [Workshop(brief, stamp).bench(way) for way in range(len(sizes(brief)))]
    found: list[list[Laid]] = [[] for _ in benches]
    for way, laid in lay(_lay, [(w, p) for w, bench in enumerate(benches) for p in bench.places]):
        found[way].append(laid)
    more = [(w, p) for w, bench in enumerate(benches) for p in bench.more_places(found[w])]
    for way, laid in lay(_lay, more):
        found[way].append(laid)
    for look in (Bench.survey, Bench.closer_places):
        poor = [w for w, each in enumerate(found) if few_good(each, brief)]
        again = [(w, p) for w in poor for p in look(benches[w], found[w])]
        for way, laid in lay(_lay, again):
            found[way].append(laid)
    hard = [(w, p) for w, each in enumerate(found) for p in worth_more_effort(each, brief)]
    for way, laid in lay(_lay_patiently, hard):
        found[way] = [laid if each.place == laid.place else each for each in found[way]]
    return found


def form_workshop(brief: Brief, stamp: Stamp | None) -> FormWorkshop:
    """The workshop for every form but squares."""
    return StripWorkshop(brief, stamp) if brief.form == forms.Strip.name else FrameWorkshop(brief, stamp)


def _no_place(brief: Brief, stamp: Stamp, every: list[list[Laid]]) -> tuple[str, tuple[Brief, ...]]:
    """Why the stamp can be laid nowhere, told for the largest size, and what was come near to."""
    if not any(every):
        return why.too_large(brief, stamp), ()
    return why.no_place(brief, stamp, [each for laid in every for each in laid])


def _lay(workshop: Workshop, way: int, place: Place) -> Laid:
    return workshop.bench(way).lay(place)


def _lay_patiently(workshop: Workshop, way: int, place: Place) -> Laid:
    return workshop.bench(way).lay(place, _PATIENCE)


def _work_form(workshop: FormWorkshop, job: int, _: tuple[()]) -> Result:
    return workshop.run(job)


def _work(workshop: Workshop, job: int, laid: Laid | None) -> Result:
    return workshop.run(job, laid)
