"""The search for many different squares.

Jobs are numbered from 0 and each is a pure function of brief, stamp and number; they run in any order on any
number of cores, but are accepted in the order of their numbers. So the squares are the same on every machine,
and twelve and then twelve more are the same as twenty-four.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass

from constraints.brief import Brief
from constraints.square import Square
from constraints.stamp import Stamp
from explore.apart import Collection
from explore.job import Workshop

# Jobs tried for each square asked for, and at the least, before the search gives up.
_JOBS_A_SQUARE, _JOBS_AT_LEAST = 8, 40


@dataclass(frozen=True)
class Step:
    """One job done, in job order. square: accepted, numbered and checked, or None. note: why not."""

    job: int
    square: Square | None
    note: str = ""


class Impossible(Exception):
    """No square can meet the brief: proven. The message is one line in her words, with what would mend it."""


def search(
    brief: Brief,
    stamp: Stamp | None,
    *,
    kept: Sequence[Square] = (),
    first_job: int = 0,
    first_number: int = 1,
    count: int | None = None,
    cores: int | None = None,
) -> Iterator[Step]:
    """Yield one Step a job until `count` squares are accepted or the effort is spent. Raises Impossible."""
    wanted = brief.count if count is None else count
    collection = Collection(brief, kept)
    number = first_number
    limit = first_job + max(_JOBS_AT_LEAST, int(_JOBS_A_SQUARE * wanted * max(1.0, brief.effort)))
    for job, (square, note) in _results(brief, stamp, first_job, limit, cores or os.cpu_count() or 1):
        if square is not None and not collection.takes(square):
            square, note = None, "too like one found before"
        if square is None:
            yield Step(job, None, note)
            continue
        square = square.numbered(number)
        number += 1
        yield Step(job, square)
        wanted -= 1
        if wanted == 0:
            return


Result = tuple[Square | None, str]


def _results(
    brief: Brief, stamp: Stamp | None, first: int, limit: int, cores: int
) -> Iterator[tuple[int, Result]]:
    """The results of the jobs in their order, worked out on so many cores."""
    if cores == 1:
        workshop = Workshop(brief, stamp)
        for job in range(first, limit):
            yield job, workshop.run(job)
        return
    pool = ProcessPoolExecutor(
        cores, mp_context=multiprocessing.get_context(_start_method()), initializer=_open, initargs=(brief, stamp)
    )
    waiting: deque[tuple[int, Future[Result]]] = deque()
    try:
        for job in range(first, limit):
            waiting.append((job, pool.submit(_work, job)))
            if len(waiting) >= 2 * cores:
                done, future = waiting.popleft()
                yield done, future.result()
        while waiting:
            done, future = waiting.popleft()
            yield done, future.result()
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _start_method() -> str:
    """Forking shares what is already imported; elsewhere a fresh interpreter is the safe way."""
    return "fork" if "fork" in multiprocessing.get_all_start_methods() else "spawn"


_workshop: Workshop | None = None


def _open(brief: Brief, stamp: Stamp | None) -> None:
    """Runs once in every worker process."""
    global _workshop
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the parent's to handle
    _workshop = Workshop(brief, stamp)


def _work(job: int) -> Result:
    assert _workshop is not None
    return _workshop.run(job)
