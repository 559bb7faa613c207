"""A study on the table: its squares as they are found, what she keeps of them, and the search that goes on for it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from concurrent.futures import Future
from pathlib import Path
from typing import Any

from constraints.forms import USUAL
from explore.bad_input import BadInput
from explore.search.crew import ENDED
from explore.storage.free import BRIEF
from explore.storage.leavings import BESIDE, PICKS
from explore.storage.picks import picks_in
from explore.storage.state import outline_of, state_of, text_of
from explore.storage.study import square_files, square_path
from explore.studio import colours, fading, typed
from explore.studio.easel import Easel, told_of_square
from explore.studio.hunt import Hunt
from explore.studio.marks import StudyMarks
from explore.studio.scribe import Scribe, write_booklet
from explore.studio.streams import Stream
from explore.studio.tasting import MORE, learnt_of, learnt_with, wanting


class Board:
    """folder: of the study, which need not be there yet. stream: what is told of it: `square`, `facts`, `marks`,
    `wishes`, `faded`, `search`. wishes: that it was begun with on this table, and back, the page where
    she made them. typed: the command that does the same."""

    def __init__(self, folder: Path, easel: Easel, stream: Stream) -> None:
        self.folder, self.stream = folder, stream
        self.marks = StudyMarks(folder, folder.name)
        self.wishes: dict[str, Any] = {}
        self.back = "/"
        self._easel = easel
        self._shown: dict[int, int] = {}
        self._seen_marks = -1
        self._guard = threading.Lock()
        self._hunt: Hunt | None = None
        self.made_by = ""
        self.typed = ""
        self._stamps: tuple[str, ...] = ()
        self.scribes: dict[int, Scribe] = {}
        self._wished = False
        self._learnt: tuple[Any, Future[dict[str, Any]]] | None = None
        self._wanting: tuple[Any, str] | None = None

    @property
    def what(self) -> str:
        """What one of its pieces is called: the name of their form."""
        return form_of(self.folder, str(self.wishes.get("flags", {}).get("form", USUAL)))

    def stream_ended(self) -> bool:
        """Whether a search of it has ended, before there was anything in its folder."""
        return self._hunt is not None and self._hunt.over and not self.folder.exists()

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
                self.stream.tell(kind="marks", **self._with_command(self.marks.told()))
            if not self._wished:
                self._tell_wishes(self.marks.wished())

    def _tell_wishes(self, changed: bool) -> None:
        """Tell the wishes, and if they were changed which squares they no longer hold of: those that are found for them
        hold."""
        self._wished = True
        self.stream.tell(kind="wishes", **fading.told(fading.brief_in(self.folder)))
        if not changed:
            return
        squares = tuple((str(path), path.stat().st_mtime_ns) for path in square_files(self.folder))
        future = self._easel.ask(fading.faded, squares, text_of(self.folder / BRIEF))
        future.add_done_callback(self._tell_faded)

    def _tell_faded(self, done: Future[dict[str, str]]) -> None:
        try:
            self.stream.tell(kind="faded", whys=done.result())
        except ENDED:
            return  # the studio ends

    def wish(self, given: object) -> None:
        """Change the wishes of the study. Raises BadInput, OSError."""
        with self._guard:
            if self.busy:
                raise BadInput("it is looking for squares; stop that first")
            if self.made_by:
                raise BadInput(f"no search can go on with what {self.made_by} made")
            fading.write(self.folder, fading.changed(fading.brief_in(self.folder), given))
            self.marks.set_wished()
            self._tell_wishes(True)

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
        except (*ENDED, BadInput, OSError):
            return  # the studio ends, or the square went meanwhile

    def _with_command(self, told: dict[str, Any]) -> dict[str, Any]:
        return {**told, "command": typed.picking(self.folder.name, told["kept"])}

    def changed(self, change: Callable[[StudyMarks], dict[str, Any]]) -> dict[str, Any]:
        """A change of marks, told to every tab; the same with the number of that event, `order`. Raises BadInput,
        OSError."""
        with self._guard:
            told = self._with_command(change(self.marks))
            self._seen_marks = sum(path.stat().st_mtime_ns for path in self._mark_files() if path.exists())
            return {**told, "order": self.stream.tell(kind="marks", **told)}

    def learnt(self) -> dict[str, Any]:
        """What is learnt of what is kept, as `tasting` tells it. Raises BadInput, OSError."""
        of = self._kept_of_all()
        with self._guard:
            failed = self._learnt is not None and self._learnt[1].done() and self._learnt[1].exception()
            if self._learnt is None or self._learnt[0] != of or failed:
                # What she waits to see comes first: the first time this takes a second.
                self._learnt = of, self._easel.draw(learnt_of, *of)
            learnt = self._learnt[1]
        return learnt.result()

    def learnt_and_wanting(self) -> dict[str, Any]:
        """The same, and if that is nothing yet how many more would do. Raises BadInput, OSError."""
        told, of = self.learnt(), self._kept_of_all()
        if not told["open"]:
            return told
        if self._wanting is None or self._wanting[0] != of:
            # Tried one by one, so that drawings come between.
            more = next((more for more in MORE if self._easel.draw(learnt_with, *of, more).result()), 0)
            self._wanting = of, wanting(more)
        return {**told, "words": f"{told['words']} {self._wanting[1]}"}

    def _kept_of_all(self) -> tuple[tuple[tuple[str, int], ...], frozenset[int]]:
        """All squares, each with the time of its last change, ns; the numbers of those that are kept."""
        squares = tuple((str(path), path.stat().st_mtime_ns) for path in square_files(self.folder))
        return squares, frozenset(self.marks.told()["kept"])

    def write_booklet(self, number: int, square: Path, ways: Mapping[str, str], pdf: Path, stream: Stream) -> None:
        """Write the booklet of a square from now on. Raises BadInput if that is being done."""
        self.write(number, write_booklet, (str(square), self.folder.name, dict(ways), str(pdf)), stream)

    def write(self, number: int, work: Callable[..., dict[str, Any]], given: tuple[Any, ...], stream: Stream) -> None:
        """Write papers from now on, as `Scribe` takes them. number: of their square, 0 for those of the wall. Raises
        BadInput if that is being done."""
        with self._guard:
            before = self.scribes.get(number)
            if before is not None and not before.stream.over:
                raise BadInput("its papers are being made already")
            self.scribes[number] = Scribe(work, given, stream)

    # --- the search ---------------------------------------------------------------------------------------

    @property
    def busy(self) -> bool:
        """Whether squares are being looked for."""
        return self._hunt is not None and not self._hunt.over

    def hunt(self, begin: Callable[[Board], Hunt]) -> None:
        """Look for squares from now on. Raises BadInput if that is being done."""
        with self._guard:
            if self.busy:
                raise BadInput("it is looking for squares already")
            self._hunt = begin(self)

    def stop(self) -> None:
        """End the search; what was found stays."""
        if self._hunt is not None:
            self._hunt.stop()


def form_of(folder: Path, usual: str = USUAL) -> str:
    """The name of the form that the pieces of a study have; the usual one where there is nothing yet."""
    try:
        return fading.brief_in(folder).piece.form
    except (BadInput, OSError):
        return usual


def numbers_kept(folder: Path) -> list[int]:
    """The squares kept of a study; none where that cannot be read."""
    try:
        return list(picks_in(folder / PICKS).numbers) if (folder / PICKS).exists() else []
    except (BadInput, OSError):
        return []


def colours_in(folder: Path) -> colours.Colours:
    """Of her thread and cloth in a study; the usual ones where that cannot be read."""
    try:
        return StudyMarks(folder, folder.name).colours()
    except (BadInput, OSError):
        return colours.USUAL
