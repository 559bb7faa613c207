"""What is told to every tab that listens: events in their order, from the first on or from where a tab left off."""

from __future__ import annotations

import json
import threading
from collections.abc import AsyncIterator, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from explore.search.crew import ENDED
from explore.serving.bell import Bell

Told = Mapping[str, Any]


# Of what tells how something stands now only the last is kept.
_LAST_ALONE = {"marks", "search", "faded", "wishes"}


class Stream:
    """Events that are kept, so that whoever comes later is told all of them; of some kinds the last alone. Any thread
    may tell."""

    def __init__(self) -> None:
        self._events: list[tuple[int, Told]] = []
        self._last = 0
        self._over = False
        self._guard = threading.Lock()
        self._bell = Bell()

    def tell(self, **event: Any) -> int:
        """One event more; its number, by which it is known which of two came later."""
        with self._guard:
            if not self._over:
                if (kind := event.get("kind")) in _LAST_ALONE:
                    self._events = [each for each in self._events if each[1].get("kind") != kind]
                self._last += 1
                self._events.append((self._last, event))
            self._bell.ring()
            return self._last

    @contextmanager
    def of_work(self) -> Iterator[None]:
        """Work whose events these are. Where it breaks off by a defect, whoever listens is told so, and the defect goes
        on; where it ends with the studio, it just ends."""
        broken = True
        try:
            yield
            broken = False
        except ENDED:
            broken = False
        finally:
            if broken:
                self.tell(kind="failed")

    def close(self) -> None:
        """Nothing more is told: whoever listens hears the end."""
        with self._guard:
            self._over = True
            self._bell.ring()

    @property
    def over(self) -> bool:
        return self._over

    async def listen(self, after: int = 0) -> AsyncIterator[tuple[int, Told]]:
        """Every event that has a number above `after`, as soon as it is told, with its number; they begin at 1."""
        with self._bell.heard() as more:
            while True:
                more.clear()
                with self._guard:
                    over, new = self._over, [each for each in self._events if each[0] > after]
                for number, event in new:
                    after = number
                    yield number, event
                if over and not new:
                    return
                if not new:
                    await more.wait()

    async def lines(self, after: int = 0) -> AsyncIterator[bytes]:
        """The same as server-sent events (HTML standard, section 9.2)."""
        # So that a tab knows at once that somebody is there.
        yield b": here\n\n"
        async for number, event in self.listen(after):
            data = json.dumps(event, ensure_ascii=False, separators=(",", ":"))
            yield f"id: {number}\ndata: {data}\n\n".encode()
