"""Worker processes that several searches share, and how one of them is stopped.

For a program that goes on: its processes are begun once, away from its threads (never forked from them), and end with
it however that ends. A search has a share of them, which is where its tasks wait their turn; the processes keep the
tools of the last few shares.
"""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections import OrderedDict, deque
from collections.abc import Callable
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass, field
from functools import partial
from itertools import count
from multiprocessing.connection import wait as wait_for
from typing import Any, TypeVar

_Out = TypeVar("_Out")

# Tools are kept in a process for the last so many keys.
_KEPT = 4


class Cancelled(Exception):
    """Nobody waits for this search any more."""


class Crew:
    """So many worker processes; as many as there are cores if no number is given."""

    def __init__(self, cores: int | None = None) -> None:
        self.cores = cores or os.cpu_count() or 1
        methods = multiprocessing.get_all_start_methods()
        method = "forkserver" if "forkserver" in methods else "spawn"
        context = multiprocessing.get_context(method)
        if method == "forkserver":
            context.set_forkserver_preload(["explore.search.workshops"])
        self._pool = ProcessPoolExecutor(self.cores, mp_context=context, initializer=_begin)
        self._keys = count()
        # The pool takes tasks ahead and begins them whatever becomes of them, so it gets one for each idle process.
        self._waiting: deque[tuple[Future[Any], tuple[Any, ...]]] = deque()
        self._idle = self.cores
        self._dealing = threading.Lock()

    def key(self) -> int:
        """A number by which the processes know certain tools."""
        return next(self._keys)

    def submit(self, key: int, make: Callable[[], Any], work: Callable[..., _Out], *given: Any) -> Future[_Out]:
        """work(tools, *given) in one of the processes, begun in its turn unless it is cancelled before; make: makes the
        tools of that key. All are pickled."""
        asked: Future[_Out] = Future()
        with self._dealing:
            self._waiting.append((asked, (key, make, work, *given)))
        self._deal()
        return asked

    def _deal(self) -> None:
        """Hand on what waits to idle processes."""
        while True:
            with self._dealing:
                if not self._idle or not self._waiting:
                    return
                asked, task = self._waiting.popleft()
                if not asked.set_running_or_notify_cancel():
                    continue
                self._idle -= 1
            try:
                done = self._pool.submit(_do, *task)
            except RuntimeError as error:  # closed meanwhile
                asked.set_exception(error)
                return
            done.add_done_callback(partial(self._hand_back, asked))

    def _hand_back(self, asked: Future[Any], done: Future[Any]) -> None:
        with self._dealing:
            self._idle += 1
        self._deal()
        if done.cancelled():
            asked.set_exception(Cancelled())
        elif error := done.exception():
            asked.set_exception(error)
        else:
            asked.set_result(done.result())

    def close(self) -> None:
        """End the processes: what they have in hand is done first, nothing else."""
        with self._dealing:
            waiting, self._waiting = self._waiting, deque()
        for asked, _ in waiting:
            asked.cancel()
        self._pool.shutdown(wait=True, cancel_futures=True)


@dataclass(frozen=True, eq=False)
class Share:
    """What one search has of a crew, which may be taken for a number of cores."""

    crew: Crew
    _stopped: Future[None] = field(default_factory=Future)

    def stop(self) -> None:
        """Whoever waits for a result is told at once: Cancelled is raised there."""
        if not self._stopped.done():
            self._stopped.set_result(None)

    def result(self, future: Future[_Out]) -> _Out:
        """What a task came to. Raises what the task raised, and Cancelled."""
        either: tuple[Future[Any], ...] = (future, self._stopped)
        wait(either, return_when=FIRST_COMPLETED)
        if self._stopped.done():
            raise Cancelled
        return future.result()


_tools: OrderedDict[int, Any] = OrderedDict()


def _begin() -> None:
    """Runs once in every process."""
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """Killed, a parent can tell nobody."""
    parent = multiprocessing.parent_process()
    assert parent is not None
    wait_for([parent.sentinel])
    os._exit(1)


def _do(key: int, make: Callable[[], Any], work: Callable[..., _Out], *given: Any) -> _Out:
    if key not in _tools:
        _tools[key] = make()
        while len(_tools) > _KEPT:
            _tools.popitem(last=False)
    _tools.move_to_end(key)
    return work(_tools[key], *given)
