"""A study on the table: its squares as they are found, what she keeps of them, and the search that goes on for it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import CancelledError, Future
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from constraints.stopping import Stopped
from explore.bad_input import BadInput
from explore.mending.searching import Exploring
from explore.mending.trying import tried
from explore.search.accepting import JobResult
from explore.serving.events import End, Ended, Event, Found, InVain, PlacesLaid
from explore.serving.searches import Running, Searches, Wanted
from explore.storage import session
from explore.storage.leavings import BESIDE, PICKS
from explore.storage.picks import picks_in
from explore.storage.request import StudyRequest
from explore.storage.state import outline_of, state_of, text_of
from explore.storage.study import square_files, square_path
from explore.studio.easel import Easel, told_of_square
from explore.studio.marks import StudyMarks
from explore.studio.scribe import Scribe
from explore.studio.streams import Stream
from explore.studio.wishes import mend

# What the page is told of an end. FEWER is told with the number that was found.
_ENDS = {
    End.ENOUGH: "{} found.",
    End.FEWER: "{} found; more were not found in the time that a search takes.",
    End.NONE: "None was found in the time that a search takes.",
    End.IMPOSSIBLE: "It cannot be had.",
    End.CANCELLED: "Stopped; {} found.",
    End.FAILED: "The search broke off.",
}


@dataclass(frozen=True)
class Errand:
    """A search to be run for a study. request: as `explore` would take it; door: of a new one, what mends it."""

    request: StudyRequest
    door: Exploring | None = None


class Board:
    """folder: of the study, which need not be there yet. told: what the stream says of it: `square`, `facts`, `marks`,
    `search`."""

    def __init__(self, folder: Path, easel: Easel, stream: Stream) -> None:
        self.folder, self.stream = folder, stream
        self.marks = StudyMarks(folder, folder.name)
        self.wishes: dict[str, Any] = {}
        self._easel = easel
        self._shown: dict[int, int] = {}
        self._seen_marks = -1
        self._guard = threading.Lock()
        self._running: Running | None = None
        self.busy = self.ended = False
        self.made_by = ""
        self._stamps: tuple[str, ...] = ()
        self.scribes: dict[int, Scribe] = {}

    def stream_ended(self) -> bool:
        """Whether a search of it has ended, before there was anything in its folder."""
        return self.ended and not self.folder.exists()

    # --- what lies in the folder --------------------------------------------------------------------------

    def refresh(self) -> None:
        """Tell what another tab or a command has changed in the folder. Raises BadInput, OSError."""
        if not self.folder.is_dir():
            return
        with self._guard:
            there = {int(path.stem): path.stat().st_mtime_ns for path in square_files(self.folder)}
            new = {number: at for number, at in there.items() if self._shown.get(number) != at}
            for number, at in new.items():
                self._show(number, at)
            changed = sum(path.stat().st_mtime_ns for path in self._mark_files() if path.exists())
            if changed != self._seen_marks:
                self._seen_marks = changed
                self.stream.tell(kind="marks", **self.marks.told())

    def _mark_files(self) -> list[Path]:
        return [self.folder / PICKS, self.folder / BESIDE]

    def _show(self, number: int, at: int) -> None:
        self._shown[number] = at
        self.stream.tell(kind="square", number=number, at=str(at))
        future = self._easel.ask(told_of_square, square_path(self.folder, number), self._outlines())
        future.add_done_callback(lambda done: self._tell_facts(number, done))

    def _outlines(self) -> tuple[str, ...]:
        """The stamps of the study, as texts."""
        if not self._stamps:
            state = state_of(self.folder)
            self.made_by = state.get("made_by", {}).get("command", "")
            self._stamps = tuple(text_of(self.folder / outline_of(each)) for each in state["stamps"])
        return self._stamps

    def _tell_facts(self, number: int, done: Future[dict[str, Any]]) -> None:
        try:
            self.stream.tell(kind="facts", number=number, **done.result())
        except (CancelledError, RuntimeError, BadInput, OSError):
            return  # the studio ends, or the square went meanwhile

    def changed(self, change: Callable[[StudyMarks], dict[str, Any]]) -> dict[str, Any]:
        """A change of marks, told to every tab. Raises BadInput, OSError."""
        with self._guard:
            told = change(self.marks)
            self._seen_marks = sum(path.stat().st_mtime_ns for path in self._mark_files() if path.exists())
            self.stream.tell(kind="marks", **told)
            return told

    def write_booklet(self, number: int, square: Path, ways: Mapping[str, str], pdf: Path, stream: Stream) -> None:
        """Write the booklet of a square from now on. Raises BadInput if that is being done."""
        with self._guard:
            before = self.scribes.get(number)
            if before is not None and not before.stream.over:
                raise BadInput("its papers are being made already")
            self.scribes[number] = Scribe(square, self.folder.name, ways, pdf, stream)

    # --- the search ---------------------------------------------------------------------------------------

    def run(self, errand: Errand, searches: Searches) -> None:
        """Search from now on; at once back. Raises BadInput if it searches already."""
        with self._guard:
            if self.busy:
                raise BadInput("it is looking for squares already")
            self.busy = True
        self.stream.tell(kind="search", state="looking", found=0, wanted=errand.request.count, words="")
        threading.Thread(target=self._run, args=(errand, searches), daemon=True).start()

    def stop(self) -> None:
        """End the search; what was found stays."""
        if self._running is not None:
            self._running.cancel()

    def _run(self, errand: Errand, searches: Searches) -> None:
        request, ended = errand.request, Ended(End.FAILED, 0)
        study = request.study
        wanted = Wanted(
            request.brief,
            request.stamps,
            study.designs if study else (),
            study.next_job if study else 0,
            study.next_number if study else 1,
            request.count,
        )
        found = 0

        def steps(running: Running) -> Iterator[JobResult]:
            nonlocal ended
            for event in running.events():
                if isinstance(event, Ended):
                    ended = event
                yield from self._step(event, request.count)

        def watch(step: JobResult) -> None:
            nonlocal found
            if step.design is not None:
                found += 1
                self.refresh()
                self.stream.tell(kind="search", state="looking", found=found, wanted=request.count, words="")

        try:
            self._running = searches.begin(wanted)
            session.run(request, steps(self._running), watch)
        except (BadInput, OSError) as error:
            self._running.cancel() if self._running else None
            ended = Ended(End.FAILED, found, str(getattr(error, "strerror", None) or error))
        self._tell_end(errand, ended, found, searches)
        self.busy, self.ended = False, True

    def _step(self, event: Event, count: int) -> Iterator[JobResult]:
        match event:
            case Found():
                yield JobResult(event.job, event.design)
            case InVain():
                yield JobResult(event.job, None, event.why)
            case PlacesLaid():
                words = f"The print is tried in {event.places} of {event.of} places."
                self.stream.tell(kind="search", state="looking", found=0, wanted=count, words=words)

    def _tell_end(self, errand: Errand, ended: Ended, found: int, searches: Searches) -> None:
        words = _ENDS[ended.end].format(f"{found} squares" if found != 1 else "1 square")
        if ended.why and ended.end is not End.ENOUGH:
            words += f" {ended.why[:1].upper()}{ended.why[1:]}."
        in_vain = ended.end in (End.NONE, End.IMPOSSIBLE)
        about = {"kind": "search", "found": found, "wanted": errand.request.count, "words": words}
        if not in_vain or errand.door is None:
            self.stream.tell(state="ended", mends=[], **about)
            return
        self.stream.tell(state="mending", **about)
        self.stream.tell(state="ended", mends=_mends(errand, ended), **about)


def _mends(errand: Errand, ended: Ended) -> list[dict[str, Any]]:
    """What mends a search in vain, tried as commands try it."""
    from explore.mending.changes import offers

    assert errand.door is not None
    proven = ended.end is End.IMPOSSIBLE
    every = offers(errand.request.brief, ended.near, proven, errand.door.flags.get("width", ""))
    try:
        return [mend(each) for each in tried(every, errand.door, lambda done, most: None).mends]
    except (Stopped, RuntimeError):
        return []  # the studio ends


def numbers_kept(folder: Path) -> list[int]:
    """The squares kept of a study; none where that cannot be read."""
    try:
        return list(picks_in(folder / PICKS).numbers) if (folder / PICKS).exists() else []
    except (BadInput, OSError):
        return []
