"""One run of the search on a study: what is found is saved as it comes, whatever ends the run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from constraints.brief import Brief
from explore.search import search as searching
from explore.search.accepting import JobResult
from explore.storage.request import StudyRequest
from explore.storage.study import Study, open_study


@dataclass(frozen=True)
class Session:
    """What a run came to.

    study: None if nothing was found for a new one. found: beside the squares that it began with. reasons: why jobs
    gave no square, and how often. near: as that of the last JobResult that has any.
    """

    study: Study | None
    found: int
    jobs: int
    stopped: bool
    reasons: tuple[tuple[str, int], ...]
    near: tuple[Brief, ...] = ()


def searched(request: StudyRequest, cores: int | None, laying: Callable[[int, int], None]) -> Iterator[JobResult]:
    """The steps of a search for what is requested, from where its study left off. Raises search.Impossible.

    laying: told of every place of the stamp worked out before the first step.
    """
    study = request.study
    return searching.search(
        request.brief,
        *request.stamps,
        kept=study.designs if study else (),
        first_job=study.next_job if study else 0,
        first_number=study.next_number if study else 1,
        count=request.count,
        cores=cores,
        laying=laying,
    )


def run(request: StudyRequest, steps: Iterator[JobResult], watch: Callable[[JobResult], None]) -> Session:
    """Save every square of the steps at once. Raises what the steps raise, and OSError.

    A new study begins when its first square is found, so that a search in vain leaves nothing behind and
    replaces nothing. watch: told of every step. Ctrl-C ends the run and keeps what was found.
    """
    study = request.study
    before = len(study.designs) if study else 0
    jobs, last_job = 0, -1
    near: tuple[Brief, ...] = ()
    reasons: Counter[str] = Counter()
    stopped = False
    try:
        for step in steps:
            jobs += 1
            last_job = step.job
            if step.design is None:
                reasons[step.note] += 1
                near = step.near or near
            else:
                if study is None:
                    study = request.begin()
                    before = len(study.designs)
                study = study.keep(step.design, step.job)
            watch(step)
    except KeyboardInterrupt:
        stopped = True
        # The stop may have come between a square and its state: what lies on disk counts.
        study = study and open_study(study.folder)
    if study and last_job >= study.next_job:
        study = study.after(last_job)
    found = len(study.designs) - before if study else 0
    return Session(study, found, jobs, stopped, tuple(reasons.most_common()), near)
