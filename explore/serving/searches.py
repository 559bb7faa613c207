"""Searches that run side by side, each told event by event and stopped when nobody waits for it.

A search runs in a thread of its own, which only waits: the work is done by the processes of one crew, and what comes of
it is what the same search gives alone, in the same order. Events are kept, so that whoever comes later, or comes again,
is told all of them.
"""

from __future__ import annotations

import threading
from collections.abc import AsyncIterator, Iterator, Sequence
from dataclasses import dataclass

from constraints.brief import Brief
from constraints.design import Design
from constraints.stamp import Stamp
from constraints.stopping import Stopped, stopped_once
from explore.search.crew import Crew, Share
from explore.search.search import Impossible, search
from explore.serving.bell import Bell
from explore.serving.events import End, Ended, Event, Found, InVain, PlacesLaid


@dataclass(frozen=True, eq=False)
class Wanted:
    """What a search is asked for. kept: squares that those found must differ from; first_job, first_number: where it
    goes on; count: how many squares, None for as many as the brief says."""

    brief: Brief
    stamps: tuple[Stamp, ...] = ()
    kept: Sequence[Design] = ()
    first_job: int = 0
    first_number: int = 1
    count: int | None = None


class Searches:
    """A crew and the searches that it works for. As a context it ends with all of them."""

    def __init__(self, cores: int | None = None) -> None:
        self._crew = Crew(cores)
        self._running: list[Running] = []

    def begin(self, wanted: Wanted, can_wait: bool = False) -> Running:
        """A search that runs from now on; one that can wait only while no other has anything to be done."""
        self._running = [each for each in self._running if not each.ended]
        self._running.append(Running(wanted, Share(self._crew, can_wait)))
        return self._running[-1]

    def share(self, can_wait: bool = False) -> Share:
        """A share of the crew for work that is no search. can_wait: until no search has anything to be done."""
        return Share(self._crew, can_wait)

    def close(self, at_once: bool = False) -> None:
        """Stop all searches and end the processes; at once, whatever they have in hand."""
        for each in self._running:
            each.cancel()
        self._crew.close(at_once)

    def __enter__(self) -> Searches:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


class Running:
    """A search that runs, or has ended."""

    def __init__(self, wanted: Wanted, share: Share) -> None:
        self._wanted, self._share = wanted, share
        self._events: list[Event] = []
        self._told = threading.Condition()
        self._bell = Bell()
        threading.Thread(target=self._run, daemon=True).start()

    @property
    def ended(self) -> bool:
        return bool(self._events) and isinstance(self._events[-1], Ended)

    def cancel(self) -> None:
        """End it now: its last event is told at once, and what the processes have in hand for it ends amid a solve."""
        found = sum(isinstance(each, Found) for each in self._events)
        self._tell(Ended(End.CANCELLED, found))
        self._share.stop()

    def events(self) -> Iterator[Event]:
        """Every event from the first on, each as soon as it is told."""
        told = 0
        while True:
            with self._told:
                while len(self._events) == told:
                    self._told.wait()
                new = self._events[told:]
            told += len(new)
            yield from new
            if isinstance(new[-1], Ended):
                return

    async def __aiter__(self) -> AsyncIterator[Event]:
        """The same in an event loop."""
        told = 0
        with self._bell.heard() as more:
            while True:
                more.clear()
                new = self._events[told:]
                told += len(new)
                for each in new:
                    yield each
                if new and isinstance(new[-1], Ended):
                    return
                if not new:
                    await more.wait()

    def _tell(self, event: Event) -> None:
        with self._told:
            if self.ended:
                return
            self._events.append(event)
            self._told.notify_all()
            self._bell.ring()

    def _run(self) -> None:
        try:
            # What is proven of a brief is worked out in this thread.
            with stopped_once(lambda: self._share.stopped):
                self._tell(self._searched())
        except Stopped:
            return
        except Impossible as proven:
            self._tell(Ended(End.IMPOSSIBLE, 0, str(proven), proven.near))
        except BaseException as failed:
            self._tell(Ended(End.FAILED, 0, f"{type(failed).__name__}: {failed}"))
            raise

    def _searched(self) -> Ended:
        wanted = self._wanted
        found, why = 0, ""
        near: tuple[Brief, ...] = ()
        for step in search(
            wanted.brief,
            *wanted.stamps,
            kept=wanted.kept,
            first_job=wanted.first_job,
            first_number=wanted.first_number,
            count=wanted.count,
            cores=self._share,
            laying=lambda done, total: self._tell(PlacesLaid(done, total)),
        ):
            if step.design is not None:
                found += 1
                self._tell(Found(step.job, step.design))
            else:
                why, near = step.note, step.near or near
                self._tell(InVain(step.job, step.note))
        enough = found >= (wanted.brief.run.count if wanted.count is None else wanted.count)
        return Ended(End.ENOUGH if enough else End.FEWER if found else End.NONE, found, "" if enough else why, near)
