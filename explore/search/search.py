"""The search for many different squares.

Jobs are numbered from 0 and each is a pure function of brief, stamp and number; they run in any order on any
number of cores, but are accepted in the order of their numbers. So the squares are the same on every machine,
and twelve and then twelve more are the same as twenty-four.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from constraints.brief import Brief
from constraints.design import Design
from constraints.solver import Status
from constraints.stamp import Stamp
from explore.search import rooms
from explore.search.diversity import Collection
from explore.search.sizing import SIZING
from explore.search.workers import WorkerPool
from explore.search.workshop import Laying, NoPlace, Workshop

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
    too_few = SIZING[brief.piece.form].conflict(brief)
    if too_few:
        raise Impossible(too_few)
    wanted = brief.run.count if count is None else count
    brief_doubted = not explain
    collection = Collection(brief.run.apart, kept)
    number = first_number
    limit = first_job + max(_JOBS_AT_LEAST, int(_JOBS_A_SQUARE * wanted * max(1.0, brief.run.effort)))
    for workshop, step in _results(brief, stamp, range(first_job, limit), cores, laying):
        if step.note == Status.IMPOSSIBLE.value and not brief_doubted:
            # The solver has refused one composition with its stamp; is it the brief itself?
            brief_doubted = True
            reason = workshop.excuse()
            if reason is not None:
                raise Impossible(reason.words, reason.near)
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


def _results(
    brief: Brief, stamp: Stamp | None, jobs: range, cores: int | None, laying: Laying
) -> Iterator[tuple[Workshop[Any], JobResult]]:
    """The jobs in their order, worked out on so many cores; their designs are checked, but neither accepted nor
    numbered. With the workshop they are of."""
    own = rooms.workshop(brief, stamp)
    with WorkerPool(rooms.workshop, (brief, stamp), cores) as workers:
        try:
            for job, result in workers.in_order(_work, own.tasks(workers, jobs, laying)):
                yield own, JobResult(job, *result)
        except NoPlace as nowhere:
            yield own, JobResult(jobs.start, None, nowhere.words, nowhere.near)


def _work(workshop: Workshop[Any], job: int, task: Any) -> tuple[Design | None, str]:
    return workshop.run(job, task)
