"""A pool of worker processes that do numbered tasks and hand in their results in order.

A command has processes of its own, forked from it, though a crew would do as well: those of a crew load all modules
once more and work out what the parent has worked out already. Measured at 30 pairs, from a new interpreter to the first
square: 0.4 s more on the way to it, 0.6 s more of the processors' time (4.2 for 3.6), 44 MB more (232 for 188).
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing.sharedctypes import RawValue
from typing import Any, Generic, TypeVar

from explore.search.crew import Share
from gallery.paper.letters import miss, missed_letters

_Tool = TypeVar("_Tool")
_In = TypeVar("_In")
_Out = TypeVar("_Out")

# Who works: so many processes of one's own, None for as many as there are cores; or a share of a crew.
Hands = int | Share | None

# How often a worker looks whether it is still wanted, s.
_LOOK = 0.05


class WorkerPool(Generic[_Tool]):
    """Workers that each make the tools for the work once; with one core the work is done right here.

    make: called with `given` in every worker; its result is the first argument of every task. make, given
    and the work are pickled, so they are module-level functions and plain values. own: what make made here already,
    which workers that are forked take over with all that it has worked out. Pools do not know of each other:
    several may work at once. Workers end with their pool, and with their parent however that ends; those of a crew are
    there before it and go on.
    """

    def __init__(
        self, make: Callable[..., _Tool], given: tuple[Any, ...], cores: Hands, own: _Tool | None = None
    ) -> None:
        self._make, self._given = make, given
        self._share = cores if isinstance(cores, Share) else None
        self._cores = cores.crew.cores if isinstance(cores, Share) else cores or os.cpu_count() or 1
        self._key = 0 if self._share is None else self._share.crew.key()
        self._own: _Tool | None = own
        self._pool: ProcessPoolExecutor | None = None
        self._enough: Any = None

    def __enter__(self) -> WorkerPool[_Tool]:
        if self._share is None and self._cores > 1:
            try:
                self._gather()
            except OSError as error:
                raise OSError(error.errno, error.strerror, "what cores share (one core needs none)") from None
        return self

    def _gather(self) -> None:
        # Shared with the workers. A plain flag: whoever waits on a lock may be killed and never let go of it.
        self._enough = RawValue("b", 0)
        context = multiprocessing.get_context(_start_method())
        told = (os.getpid(), self._enough, Outfit(self._make, self._given, self._own))
        self._pool = ProcessPoolExecutor(self._cores, mp_context=context, initializer=_open, initargs=told)

    def __exit__(self, error: type[BaseException] | None, *_: object) -> None:
        if self._pool is None:
            return
        if error is not None:
            # Enough was found, or she stopped it: what the workers still have in hand nobody waits for.
            self._enough.value = 1
        self._pool.shutdown(wait=True, cancel_futures=True)

    def in_order(
        self, work: Callable[[_Tool, int, _In], _Out], tasks: Iterable[tuple[int, _In] | None]
    ) -> Iterator[tuple[int, _Out]]:
        """work(tool, number, task) for every numbered task, a few ahead at a time, the results in order.

        A task of None: the next one is not known yet, and what is done by now may be handed in.
        """
        if self._pool is None and self._share is None:
            if self._own is None:
                self._own = self._make(*self._given)
            for each in tasks:
                if each is not None:
                    yield each[0], work(self._own, *each)
            return
        waiting: deque[tuple[int, Future[tuple[_Out, set[str]]]]] = deque()
        try:
            for each in tasks:
                if each is not None:
                    waiting.append((each[0], self._submit(work, *each)))
                while waiting and (len(waiting) > 2 * self._cores or waiting[0][1].done()):
                    yield self._handed_in(*waiting.popleft())
            while waiting:
                yield self._handed_in(*waiting.popleft())
        finally:
            for _, future in waiting:
                future.cancel()

    def _submit(self, work: Callable[[_Tool, int, _In], _Out], number: int, task: _In) -> Future[tuple[_Out, set[str]]]:
        if self._share is not None:
            outfit = Outfit(self._make, self._given)
            return self._share.submit(self._key, outfit.with_letters, _do_in_crew, work, number, task)
        assert self._pool is not None
        return self._pool.submit(_do, work, number, task)

    def _handed_in(self, number: int, future: Future[tuple[_Out, set[str]]]) -> tuple[int, _Out]:
        result, letters = future.result() if self._share is None else self._share.result(future)
        miss(letters)
        return number, result


def _start_method() -> str:
    """Forking shares what is already imported; elsewhere a fresh interpreter is the safe way."""
    return "fork" if "fork" in multiprocessing.get_all_start_methods() else "spawn"


_tool: Any = None
# What was drawn as boxes while the tools were made.
_missed: set[str] = set()


@dataclass(frozen=True)
class Outfit:
    """What makes the tools of a worker, or those made already: these are not pickled, a forked worker has them."""

    make: Callable[..., Any]
    given: tuple[Any, ...]
    made: Any = None

    def __reduce__(self) -> tuple[type[Outfit], tuple[Any, ...]]:
        return Outfit, (self.make, self.given)

    def tools(self) -> Any:
        return self.make(*self.given) if self.made is None else self.made

    def with_letters(self) -> tuple[Any, set[str]]:
        """The tools, and the letters that were drawn as boxes while they were made."""
        with missed_letters() as letters:
            return self.tools(), letters


def _open(parent: int, enough: Any, outfit: Outfit) -> None:
    """Runs once in every worker process."""
    global _tool, _missed
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the parent's to handle
    threading.Thread(target=_watch, args=(parent, enough), daemon=True).start()
    _tool, _missed = outfit.with_letters()


def _watch(parent: int, enough: Any) -> None:
    """End this worker once its pool has enough, or its parent is gone: killed, it can tell nobody."""
    while not enough.value and os.getppid() == parent:
        time.sleep(_LOOK)
    os._exit(1)


def _do(work: Callable[[Any, int, _In], _Out], number: int, task: _In) -> tuple[_Out, set[str]]:
    """The result of a task, and the letters that were drawn as boxes up to it."""
    return _do_in_crew((_tool, _missed), work, number, task)


def _do_in_crew(
    tools: tuple[Any, set[str]], work: Callable[[Any, int, _In], _Out], number: int, task: _In
) -> tuple[_Out, set[str]]:
    with missed_letters() as letters:
        result = work(tools[0], number, task)
    return result, letters | tools[1]
