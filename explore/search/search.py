"""The search for many different squares.

Jobs are numbered from 0 and each is a pure function of brief, stamp and number; they run in any order on any
number of cores, but are accepted in the order of their numbers. So the squares are the same on every machine,
and twelve and then twelve more are the same as twenty-four.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator, Sequence
from typing import Any

from constraints.brief import Brief
from constraints.design import Design
from constraints.solver import Status
from constraints.stamp import Stamp
from explore.search import workshops
from explore.search.accepting import JobOutcome, JobResult, accepted, most_jobs
from explore.search.diversity import Collection
from explore.search.favouring import POOL, favoured
from explore.search.sizing import SIZING
from explore.search.workers import Hands, WorkerPool
from explore.search.workshop import Laying, NoPlace, Workshop

_NOWHERE = "the stamp can be laid nowhere"


class Impossible(Exception):
    """No square can meet the brief: proven. The message is one line in her words. near: as that of a JobResult. code:
    what is proven, for a program: no size is as is asked (`impossible-size`), none keeps the rules
    (`impossible-rules`), what is kept leaves too little to change (`impossible-kept`)."""

    def __init__(self, message: str, near: tuple[Brief, ...] = (), code: str = "impossible-rules") -> None:
        super().__init__(message)
        self.near, self.code = near, code


def search(
    brief: Brief,
    *stamps: Stamp,
    kept: Sequence[Design] = (),
    first_job: int = 0,
    first_number: int = 1,
    count: int | None = None,
    cores: Hands = None,
    laying: Laying = lambda done, total: None,
    hasty: bool = False,
) -> Generator[JobResult]:
    """Yield one JobResult a job until `count` squares are accepted or the effort is spent. Raises Impossible.

    laying: told how many places of the stamp are worked out before the first job. hasty: whether it is only asked
    if there is any square: no better place is looked for than the first in which the stamp is known, and not why the
    stamp can be laid nowhere, nor whether the brief itself is impossible, once a composition is.
    """
    too_few = SIZING[brief.piece.form].conflict(brief)
    if too_few:
        raise Impossible(too_few, code="impossible-size")
    wanted = brief.run.count if count is None else count
    taste = () if hasty else brief.run.taste
    jobs = range(first_job, first_job + most_jobs(wanted, brief.run.effort) * (POOL if taste else 1))
    every = _doubted(tried(workshops.workshop, (brief, *stamps), jobs, cores, laying, hasty), not hasty)
    offered = favoured(every, taste) if taste else every
    yield from accepted(offered, Collection(brief.run.apart, kept), first_number, wanted)


def _doubted(every: Iterator[tuple[Workshop[Any], JobOutcome]], explain: bool) -> Iterator[JobOutcome]:
    """What the jobs came to. Once the solver has refused a composition with its stamp: is it the brief itself? Raises
    Impossible if it is."""
    for workshop, each in every:
        if explain and each.note == Status.IMPOSSIBLE.value:
            explain = False
            proven = workshop.conflict()
            if proven is not None:
                raise Impossible(proven.words, proven.near)
        yield each


def tried(
    make: Callable[..., Workshop[Any]],
    given: tuple[Any, ...],
    jobs: range,
    cores: Hands,
    laying: Laying = lambda done, total: None,
    hasty: bool = False,
) -> Iterator[tuple[Workshop[Any], JobOutcome]]:
    """What the jobs of a workshop come to, in their order, worked out on so many cores. make, given: as WorkerPool
    takes them. hasty: as `search` takes it. With the workshop they are of."""
    own = make(*given)
    with WorkerPool(make, given, cores, own) as workers:
        try:
            for job, (design, note) in workers.in_order(_work, own.tasks(workers, jobs, laying, hasty)):
                yield own, JobOutcome(job, () if design is None else (design,), note)
        except NoPlace as nowhere:
            words, near = (_NOWHERE, ()) if hasty else nowhere.why()
            yield own, JobOutcome(jobs.start, (), words, near)


def _work(workshop: Workshop[Any], job: int, task: Any) -> tuple[Design | None, str]:
    return workshop.run(job, task)
