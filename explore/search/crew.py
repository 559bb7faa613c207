"""Worker processes that several searches share, and how one of them is stopped.

For a program that goes on: its processes are begun once, away from its threads (never forked from them), and end with
it however that ends. A search has a share of them, which is where its tasks wait their turn; the processes keep the
tools of the last few shares. Once a share is stopped its tasks in hand end too, so that the processes are free for
others: each has a place in memory that all share, where its process looks.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections import OrderedDict, deque
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, CancelledError, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass, field
from functools import partial
from itertools import count
from multiprocessing.connection import wait as wait_for
from multiprocessing.sharedctypes import RawArray
from typing import Any, TypeVar

from constraints.stopping import Stopped, stopped_once

_Out = TypeVar("_Out")

# Tools are kept in a process for the last so many keys.
_KEPT = 4
# How work ends that is asked of processes which end.
ENDED = (Stopped, CancelledError, BrokenExecutor)


class Crew:
    """So many worker processes; as many as there are cores if no number is given."""

    def __init__(self, cores: int | None = None) -> None:
        self.cores = cores or os.cpu_count() or 1
        methods = multiprocessing.get_all_start_methods()
        method = "forkserver" if "forkserver" in methods else "spawn"
        context = multiprocessing.get_context(method)
        if method == "forkserver":
            context.set_forkserver_preload(["explore.search.workshops"])
        # By place: whether nobody waits for the task there any more.
        self._unwanted = RawArray("b", self.cores)
        self._pool = ProcessPoolExecutor(self.cores, mp_context=context, initializer=_begin, initargs=(self._unwanted,))
        self._keys = count()
        # The pool takes tasks ahead and begins them whatever becomes of them, so it gets one for each idle process.
        # What waits for those that can wait is begun when nothing else does.
        self._waiting: tuple[deque[_Asked], deque[_Asked]] = (deque(), deque())
        self._idle = list(range(self.cores))
        self._in_hand: dict[int, Share] = {}
        self._dealing = threading.Lock()

    def key(self) -> int:
        """A number by which the processes know certain tools."""
        return next(self._keys)

    def submit(
        self, share: Share, key: int, make: Callable[[], Any], work: Callable[..., _Out], *given: Any
    ) -> Future[_Out]:
        """work(tools, *given) in one of the processes, begun in its turn unless it is cancelled before; make: makes the
        tools of that key. All are pickled but the share it is for."""
        asked: Future[_Out] = Future()
        with self._dealing:
            self._waiting[share.can_wait].append((asked, share, (key, make, work, *given)))
        self._deal()
        return asked

    def stop(self, share: Share) -> None:
        """Begin no further task of a share, and end those in hand."""
        with self._dealing:
            for place, each in self._in_hand.items():
                if each is share:
                    self._unwanted[place] = 1
            waiting = [asked for asked, each, _ in self._waiting[share.can_wait] if each is share]
        for asked in waiting:
            asked.cancel()

    def _deal(self) -> None:
        """Hand on what waits to idle processes."""
        while True:
            with self._dealing:
                waiting = next(filter(None, self._waiting), None)
                if not self._idle or waiting is None:
                    return
                asked, share, task = waiting.popleft()
                if not asked.set_running_or_notify_cancel():
                    continue
                place = self._idle.pop()
                self._unwanted[place], self._in_hand[place] = share.stopped, share
            try:
                done = self._pool.submit(_do, place, *task)
            except BrokenExecutor as error:
                asked.set_exception(error)
                return
            except RuntimeError:  # closed meanwhile
                asked.set_exception(Stopped())
                return
            done.add_done_callback(partial(self._hand_back, asked, place))

    def _hand_back(self, asked: Future[Any], place: int, done: Future[Any]) -> None:
        with self._dealing:
            self._idle.append(place)
            del self._in_hand[place]
        self._deal()
        if done.cancelled():
            asked.set_exception(Stopped())
        elif error := done.exception():
            asked.set_exception(error)
        else:
            asked.set_result(done.result())

    def close(self, at_once: bool = False) -> None:
        """End the processes: what they have in hand is done first, nothing else; at once, not even that."""
        with self._dealing:
            waiting, self._waiting = self._waiting, (deque(), deque())
        for asked, *_ in (*waiting[0], *waiting[1]):
            asked.cancel()
        # Its own way to do this is new in Python 3.14.
        for process in list((self._pool._processes or {}).values()) if at_once else ():
            process.kill()
        self._pool.shutdown(wait=True, cancel_futures=True)


@dataclass(frozen=True, eq=False)
class Share:
    """What one search has of a crew, which may be taken for a number of cores. can_wait: its tasks are begun when none
    of another waits."""

    crew: Crew
    can_wait: bool = False
    _stopped: Future[None] = field(default_factory=Future)

    @property
    def stopped(self) -> bool:
        """Whether nobody waits for it any more."""
        return self._stopped.done()

    def stop(self) -> None:
        """Whoever waits for a result is told at once: Stopped is raised there; and the processes are free."""
        if not self.stopped:
            self._stopped.set_result(None)
            self.crew.stop(self)

    def submit(self, key: int, make: Callable[[], Any], work: Callable[..., _Out], *given: Any) -> Future[_Out]:
        """As the crew's."""
        return self.crew.submit(self, key, make, work, *given)

    def result(self, future: Future[_Out]) -> _Out:
        """What a task came to. Raises what the task raised, and Stopped."""
        either: tuple[Future[Any], ...] = (future, self._stopped)
        wait(either, return_when=FIRST_COMPLETED)
        if self.stopped:
            raise Stopped
        return future.result()


# A task that waits: whoever is told, the share it is for, and what `_do` takes.
_Asked = tuple[Future[Any], Share, tuple[Any, ...]]
_tools: OrderedDict[int, Any] = OrderedDict()
_unwanted: Sequence[int] = ()


def _begin(unwanted: Sequence[int]) -> None:
    """Runs once in every process."""
    global _unwanted
    _unwanted = unwanted
    begin_worker()


def begin_worker() -> None:
    """Runs once in every process that ends with its parent, and not by Ctrl-C."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent's to handle
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """Killed, a parent can tell nobody."""
    parent = multiprocessing.parent_process()
    assert parent is not None
    wait_for([parent.sentinel])
    os._exit(1)


def _do(place: int, key: int, make: Callable[[], Any], work: Callable[..., _Out], *given: Any) -> _Out:
    with stopped_once(lambda: bool(_unwanted[place])):
        if key not in _tools:
            _tools[key] = make()
            while len(_tools) > _KEPT:
                _tools.popitem(last=False)
        _tools.move_to_end(key)
        return work(_tools[key], *given)
