"""A search that fills a study while it lies on the table: for a brief, or for squares like one."""

from __future__ import annotations

import threading
from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Protocol

from constraints.stopping import Stopped
from explore.bad_input import BadInput
from explore.editing.varying import making
from explore.mending.changes import offers
from explore.mending.searching import Exploring
from explore.mending.trying import tried
from explore.search.accepting import JobResult
from explore.search.crew import Share
from explore.search.search import Impossible
from explore.serving.events import End, Ended, Event, Found, InVain, PlacesLaid
from explore.serving.searches import Wanted
from explore.storage import session
from explore.storage.request import StudyRequest
from explore.studio.streams import Stream
from explore.studio.wishes import mend

# What the page is told of an end, with what was found.
_ENDS = {
    End.ENOUGH: "{} found.",
    End.FEWER: "{} found; more were not found in the time that a search takes.",
    End.NONE: "None was found in the time that a search takes.",
    End.IMPOSSIBLE: "It cannot be had.",
    End.CANCELLED: "Stopped; {} found.",
    End.FAILED: "The search broke off.",
}


class Filled(Protocol):
    """What a hunt fills. stream: told how it goes."""

    stream: Stream

    def refresh(self) -> None: ...


class Begun(Protocol):
    """A search that runs, as `serving` has it."""

    def cancel(self) -> None: ...

    def events(self) -> Iterator[Event]: ...


class Beginner(Protocol):
    """What begins searches."""

    def begin(self, wanted: Wanted) -> Begun: ...


class Hunt(ABC):
    """count: pieces that are wanted. what: one of them, in a word. over: whether it has ended."""

    def __init__(self, board: Filled, count: int, what: str) -> None:
        self.board, self.count, self.what = board, count, what
        self.found, self.over, self._stopped = 0, False, False
        self.tell("looking")
        threading.Thread(target=self._run, daemon=True).start()

    def stop(self) -> None:
        """End it; what was found stays."""
        self._stopped = True
        self._end()

    def tell(self, state: str, words: str = "", mends: list[dict[str, Any]] | None = None) -> None:
        """How it stands: "looking", "mending" or "ended"."""
        about = {"found": self.found, "wanted": self.count, "words": words, "mends": mends or []}
        self.board.stream.tell(kind="search", state=state, **about)

    def watch(self, step: JobResult) -> None:
        """A job is done, and its square saved."""
        if step.design is not None:
            self.found += 1
            self.board.refresh()
            self.tell("looking")

    @property
    def told(self) -> str:
        """What was found, in words."""
        return f"1 {self.what}" if self.found == 1 else f"{self.found} {self.what}s"

    def _run(self) -> None:
        try:
            self._hunt()
        except Stopped:
            self.tell("ended", _ENDS[End.CANCELLED].format(self.told))
        except (BadInput, OSError) as error:
            self._end()
            words = str(getattr(error, "strerror", None) or error)
            self.tell("ended", f"{_ENDS[End.FAILED]} {words[:1].upper()}{words[1:]}.")
        self.over = True

    @abstractmethod
    def _hunt(self) -> None:
        """Do it. Raises BadInput, OSError, Stopped."""

    @abstractmethod
    def _end(self) -> None:
        """Let go of the processes."""


@dataclass(frozen=True)
class Errand:
    """A search to be run for a study. request: as `explore` would take it; door: of a new one, what mends it."""

    request: StudyRequest
    door: Exploring | None = None


class SearchHunt(Hunt):
    """The search of `explore`."""

    def __init__(self, board: Filled, errand: Errand, searches: Beginner) -> None:
        self._errand, self._searches = errand, searches
        self._running: Begun | None = None
        self._ended = Ended(End.FAILED, 0)
        super().__init__(board, errand.request.count, errand.request.brief.piece.form)

    def _end(self) -> None:
        if self._running is not None:
            self._running.cancel()

    def _hunt(self) -> None:
        request = self._errand.request
        study = request.study
        wanted = Wanted(
            request.brief,
            request.stamps,
            study.designs if study else (),
            study.next_job if study else 0,
            study.next_number if study else 1,
            request.count,
        )
        self._running = self._searches.begin(wanted)
        if self._stopped:
            self._running.cancel()
        session.run(request, self._steps(self._running), self.watch)
        self._tell_end(self._ended)

    def _steps(self, running: Begun) -> Iterator[JobResult]:
        for event in running.events():
            yield from self._step(event)

    def _step(self, event: Event) -> Iterator[JobResult]:
        match event:
            case Found():
                yield JobResult(event.job, event.design)
            case InVain():
                yield JobResult(event.job, None, event.why)
            case PlacesLaid():
                self.tell("looking", f"The print is tried in {event.places} of {event.of} places.")
            case Ended():
                self._ended = event

    def _tell_end(self, ended: Ended) -> None:
        words = _ENDS[ended.end].format(self.told)
        if ended.why and ended.end is not End.ENOUGH:
            words += f" {ended.why[:1].upper()}{ended.why[1:]}."
        if ended.end not in (End.NONE, End.IMPOSSIBLE) or self._errand.door is None:
            self.tell("ended", words)
            return
        self.tell("mending", words)
        self.tell("ended", words, self._mends(ended, self._errand.door))

    def _mends(self, ended: Ended, door: Exploring) -> list[dict[str, Any]]:
        """What mends a search in vain, tried as commands try it."""
        proven = ended.end is End.IMPOSSIBLE
        every = offers(self._errand.request.brief, ended.near, proven, door.flags.get("width", ""))
        return [mend(each) for each in tried(every, door, lambda done, most: None).mends]


class LikeHunt(Hunt):
    """Cousins of a square, as `vary` finds them."""

    def __init__(self, board: Filled, wanted: making.Variation, share: Share) -> None:
        self._wanted, self._share = wanted, share
        brief = wanted.studio.brief
        super().__init__(board, brief.run.count, brief.piece.form)

    def _end(self) -> None:
        self._share.stop()

    def _hunt(self) -> None:
        try:
            made = making.make_cousins(self._wanted, self._share, self.watch)
        except (Impossible, making.NothingVaried) as nothing:
            words = str(nothing)
            self.tell("ended", f"{words[:1].upper()}{words[1:]}. Let more change, or hold less.")
            return
        self.board.refresh()
        self.tell("ended", f"{made.lines[0]}. The first {self.what} is the one that you chose.")
