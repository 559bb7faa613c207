"""How work that nobody waits for any more is stopped: every solve in it ends at once, and none begins.

What a stopped solve would have come to is told to nobody, so that results never depend on who was stopped when.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

# How often it is asked amid a solve whether it is still wanted, s.
_LOOK = 0.05


class Stopped(Exception):
    """Nobody waits for this any more."""


class _Watch:
    """Asks from a thread of its own while a solve, which asks nothing, is under way."""

    def __init__(self, unwanted: Callable[[], bool]) -> None:
        self._unwanted = unwanted
        self._left = threading.Event()
        self._solving: Any = None
        self._holding = threading.Lock()
        threading.Thread(target=self._run, daemon=True).start()

    def look(self) -> None:
        """Raises Stopped."""
        if self._unwanted():
            raise Stopped

    def hold(self, solving: Any) -> None:
        """What is solving now, None for nothing."""
        with self._holding:
            self._solving = solving

    def leave(self) -> None:
        """No solve follows."""
        self._left.set()

    def _run(self) -> None:
        while not self._left.wait(_LOOK):
            if self._unwanted():
                with self._holding:
                    # Told once only, a solve that is just beginning may not notice.
                    if self._solving is not None:
                        self._solving.stop_search()


_watch: ContextVar[_Watch | None] = ContextVar("_watch", default=None)


@contextmanager
def stopped_once(unwanted: Callable[[], bool]) -> Iterator[None]:
    """Whatever is done in it is stopped once this says so, which is asked from another thread too: the solver raises
    Stopped, and so does `look`."""
    watch = _Watch(unwanted)
    before = _watch.set(watch)
    try:
        yield
    finally:
        _watch.reset(before)
        watch.leave()


def look() -> None:
    """Where much is done without a solve. Raises Stopped."""
    watch = _watch.get()
    if watch is not None:
        watch.look()


def solved(solving: Any, proto: Any) -> Any:
    """The response of a wrapped solver. Raises Stopped."""
    watch = _watch.get()
    if watch is None:
        return solving.solve(proto)
    watch.look()
    watch.hold(solving)
    try:
        response = solving.solve(proto)
    finally:
        watch.hold(None)
    watch.look()
    return response
