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
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from typing import TypeVar

from constraints.brief import Brief, sizes
from constraints.square import Square
from constraints.stamp import Stamp
from explore.apart import Collection
from explore.bench import USED, Laid, fittest
from explore.berths import Place
from explore.job import Workshop

_Number = TypeVar("_Number")
_In = TypeVar("_In")
_Out = TypeVar("_Out")

NO_PLACE = "the stamp matches well enough at no place"

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
    with _Crew(brief, stamp, cores) as crew:
        # First the stamp alone at every place worth trying, then the jobs take turns with the best of them.
        laid = _lay_all(crew, brief, stamp)
        ways = len(sizes(brief))
        if stamp is not None and not any(laid):
            yield first, (None, NO_PLACE)
            return
        tasks = ((job, laid[job % ways][(job // ways) % len(laid[job % ways])] if laid[job % ways] else None)
                 for job in range(first, limit) if stamp is None or laid[job % ways])
        yield from crew.in_order(_work, tasks)


def _lay_all(crew: _Crew, brief: Brief, stamp: Stamp | None) -> list[list[Laid]]:
    ways = len(sizes(brief))
    if stamp is None:
        return [[] for _ in range(ways)]
    places = [(way, place) for way in range(ways) for place in crew.workshop.bench(way).places]
    found: list[list[Laid]] = [[] for _ in range(ways)]
    for way, laid in crew.in_order(_lay, places):
        found[way].append(laid)
    return [fittest(each, brief.least_match, USED) for each in found]


class _Crew:
    """Worker processes that each keep a workshop; with one core the work is done here."""

    def __init__(self, brief: Brief, stamp: Stamp | None, cores: int) -> None:
        global _workshop
        self.workshop = Workshop(brief, stamp)
        self._cores = cores
        self._pool: ProcessPoolExecutor | None = None
        if cores == 1:
            _workshop = self.workshop
            return
        context = multiprocessing.get_context(_start_method())
        self._pool = ProcessPoolExecutor(cores, mp_context=context, initializer=_open, initargs=(brief, stamp))

    def __enter__(self) -> _Crew:
        return self

    def __exit__(self, *_: object) -> None:
        if self._pool is not None:
            self._pool.shutdown(wait=False, cancel_futures=True)

    def in_order(self, work: Callable[[_Number, _In], _Out], tasks: Iterable[tuple[_Number, _In]]) -> Iterator[tuple[_Number, _Out]]:
        """Do numbered tasks, a few ahead at a time, and give their results in order."""
        if self._pool is None:
            for number, task in tasks:
                yield number, work(number, task)
            return
        waiting: deque[tuple[_Number, Future[_Out]]] = deque()
        for number, task in tasks:
            waiting.append((number, self._pool.submit(work, number, task)))
            if len(waiting) > 2 * self._cores:
                done, future = waiting.popleft()
                yield done, future.result()
        while waiting:
            done, future = waiting.popleft()
            yield done, future.result()


def _start_method() -> str:
    """Forking shares what is already imported; elsewhere a fresh interpreter is the safe way."""
    return "fork" if "fork" in multiprocessing.get_all_start_methods() else "spawn"


_workshop: Workshop | None = None


def _open(brief: Brief, stamp: Stamp | None) -> None:
    """Runs once in every worker process."""
    global _workshop
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the parent's to handle
    _workshop = Workshop(brief, stamp)


def _lay(way: int, place: Place) -> Laid:
    assert _workshop is not None
    return _workshop.bench(way).lay(place)


def _work(job: int, laid: Laid | None) -> Result:
    assert _workshop is not None
    return _workshop.run(job, laid)
