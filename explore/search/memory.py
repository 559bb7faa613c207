"""What was worked out before in this process, found again by all that it depends on.

A search lays the same print as the one before: a series in squares of four shares of solid, more squares of a study at
all its places again, and what mends a brief is tried by one search after the other.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterator, Sequence
from threading import Lock
from typing import Any, Generic, TypeVar

from explore.search.workers import WorkerPool

_Key = TypeVar("_Key", bound=Hashable)
_In = TypeVar("_In")
_Out = TypeVar("_Out")

_every: list[Memory[Any, Any]] = []


class Memory(Generic[_Key, _Out]):
    """The latest results of one kind of work, so many of them; asked from several threads at a time."""

    def __init__(self, kept: int) -> None:
        self._kept = kept
        self._found: OrderedDict[_Key, _Out] = OrderedDict()
        self._one_at_a_time = Lock()
        _every.append(self)

    def in_order(
        self,
        workers: WorkerPool[Any],
        work: Callable[[Any, int, _In], _Out],
        tasks: Sequence[tuple[int, _In]],
        keys: Sequence[_Key],
    ) -> Iterator[tuple[int, _Out]]:
        """As the workers do these tasks, but for those done before. keys: all that each depends on."""
        with self._one_at_a_time:
            known = {key: self._found[key] for key in keys if key in self._found}
        found = workers.in_order(work, (task for key, task in zip(keys, tasks, strict=True) if key not in known))
        for key, (number, _) in zip(keys, tasks, strict=True):
            if key in known:
                yield number, known[key]
                continue
            done = next(found)
            self._keep(key, done[1])
            yield done

    def once(self, key: _Key, work: Callable[[], _Out]) -> _Out:
        """What the work comes to, unless it was done before."""
        with self._one_at_a_time:
            if key in self._found:
                return self._found[key]
        done = work()
        self._keep(key, done)
        return done

    def _keep(self, key: _Key, done: _Out) -> None:
        with self._one_at_a_time:
            self._found[key] = done
            while len(self._found) > self._kept:
                self._found.popitem(last=False)

    def forget(self) -> None:
        """Forget all of it, so that it is worked out again."""
        with self._one_at_a_time:
            self._found.clear()


def forget() -> None:
    """Forget whatever is kept here."""
    for each in _every:
        each.forget()
