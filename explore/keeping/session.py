"""One run of the search on a study: what is found is saved as it comes, whatever ends the run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

from explore import search as searching
from explore.keeping.study import Study, open_study
from explore.keeping.wish import Wish
from explore.search import Step


@dataclass(frozen=True)
class Session:
    """What a run came to.

    study: None if nothing was found for a new one. reasons: why jobs gave no square, and how often.
    """

    study: Study | None
    found: int
    jobs: int
    stopped: bool
    reasons: tuple[tuple[str, int], ...]


def run(
    wish: Wish, cores: int | None, watch: Callable[[Step], None], laying: Callable[[int, int], None]
) -> Session:
    """Search for what is wished and save every square at once. Raises search.Impossible and OSError.

    A new study begins when its first square is found, so that a search in vain leaves nothing behind and
    replaces nothing. watch: told of every step; laying: of every place of the stamp
    worked out before the first. Ctrl-C ends the run and keeps what was found.
    """
    study = wish.study
    steps = searching.search(
        wish.brief,
        wish.stamp,
        kept=study.squares if study else (),
        first_job=study.next_job if study else 0,
        first_number=study.next_number if study else 1,
        count=wish.count,
        cores=cores,
        laying=laying,
    )
    before = len(study.squares) if study else 0
    jobs, last_job = 0, -1
    reasons: Counter[str] = Counter()
    stopped = False
    try:
        for step in steps:
            jobs += 1
            last_job = step.job
            if step.square is None:
                reasons[step.note] += 1
            else:
                study = (study or wish.begin()).keep(step.square, step.job)
            watch(step)
    except KeyboardInterrupt:
        stopped = True
        # The stop may have come between a square and its state: what lies on disk counts.
        study = study and open_study(study.folder)
    if study and last_job >= study.next_job:
        study = study.after(last_job)
    found = len(study.squares) - before if study else 0
    return Session(study, found, jobs, stopped, tuple(reasons.most_common()))
