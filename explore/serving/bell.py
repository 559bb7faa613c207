"""A bell that any thread rings and that event loops hear."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager


class Bell:
    """Rung when there is something new; what it is, whoever hears it looks up."""

    def __init__(self) -> None:
        self._wakers: list[Callable[[], None]] = []
        self._guard = threading.Lock()

    def ring(self) -> None:
        with self._guard:
            for wake in self._wakers:
                wake()

    @contextmanager
    def heard(self) -> Iterator[asyncio.Event]:
        """Within it an event of the running loop that is set whenever the bell rings."""
        loop, rung = asyncio.get_running_loop(), asyncio.Event()

        def wake() -> None:
            if not loop.is_closed():
                loop.call_soon_threadsafe(rung.set)

        with self._guard:
            self._wakers.append(wake)
        try:
            yield rung
        finally:
            with self._guard:
                self._wakers.remove(wake)
