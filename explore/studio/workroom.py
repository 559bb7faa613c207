"""What all requests share: the folder, the prints, the processes that work, and what is told of them."""

from __future__ import annotations

import asyncio
import multiprocessing
import threading
from collections.abc import Mapping
from concurrent.futures import wait
from dataclasses import replace
from pathlib import Path
from typing import Any

from constraints.edgings import FOOTSIDE
from constraints.forms import USUAL
from constraints.stamp import Stamp
from explore.asking.stamps import BETWEEN_STAMPS, stamp_name, stamp_names
from explore.bad_input import BadInput
from explore.files import content
from explore.mending.changes import BriefChange, given
from explore.mending.searching import Exploring
from explore.reading import built_in_names
from explore.serving.searches import Running, Searches, Wanted
from explore.storage.free import only_begun
from explore.storage.request import StudyRequest, continued, default_folder
from explore.storage.study import Study, create, open_study, square_path
from explore.studio import fading, typed, wishes
from explore.studio.asked import PrintsAsked
from explore.studio.board import Board
from explore.studio.easel import Easel
from explore.studio.folder import Elsewhere, OpenedFolder
from explore.studio.hanging import WallHunt
from explore.studio.hunt import Errand, LikeHunt, SearchHunt
from explore.studio.ladder import PrintLadder, brief_of_budgets
from explore.studio.likes import COUNT, LikeWish, variation
from explore.studio.prints import Prints
from explore.studio.ribbon import PrintRibbon
from explore.studio.sliding import StripMirror
from explore.studio.streams import Stream
from explore.studio.swatches import edge_swatch
from gallery.seeing.knowing import every_sign

# What every process has read before it is asked for anything.
_READY = ["explore.search.workshops", "explore.reading", "gallery.web.vector"]

# What she may look for is worked out ahead for so long, s.
_AHEAD = 20.0


class Workroom:
    """folder: the one that is opened. named: a print that lies elsewhere and is looked at too. cores: how many work.
    As a context it ends with all that works for it."""

    def __init__(self, folder: Path, named: Path | None = None, cores: int | None = None) -> None:
        self.folder = OpenedFolder(folder.resolve())
        self.prints = Prints(self.folder, named)
        self.searches = Searches(cores)
        self.easel = Easel()
        if "forkserver" in multiprocessing.get_all_start_methods():
            multiprocessing.get_context("forkserver").set_forkserver_preload(_READY)
        self._streams: list[Stream] = []
        self._ribbons: dict[tuple[str, float | None], PrintRibbon] = {}
        self._ladders: dict[tuple[str, float | None], PrintLadder] = {}
        self._mirrors: dict[tuple[str, int, int], StripMirror] = {}
        self._boards: dict[str, Board] = {}
        self._ahead: Running | None = None
        self._guard = threading.Lock()
        # Small changes are made one after the other.
        self.turn = asyncio.Lock()

    def stream(self) -> Stream:
        """One that ends with the studio."""
        self._streams = [each for each in self._streams if not each.over]
        self._streams.append(Stream())
        return self._streams[-1]

    def ribbon(self, reference: str, turn: float | None) -> PrintRibbon:
        """How a print falls on the grid, worked out once. Raises BadInput."""
        stamp = self.prints.stamp(reference, turn)
        brief = wishes.brief_of(self.prints.word(reference), {})
        with self._guard:
            if (reference, turn) not in self._ribbons:
                made = PrintRibbon(stamp, brief, self.searches.share(can_wait=True), self.stream())
                self._ribbons[reference, turn] = made
            return self._ribbons[reference, turn]

    def ladder(self, reference: str, turn: float | None) -> PrintLadder:
        """A print at rising numbers of pairs, worked out once. Raises BadInput."""
        stamp, brief = self.prints.stamp(reference, turn), brief_of_budgets(self.prints.word(reference))
        with self._guard:
            if (reference, turn) not in self._ladders:
                made = PrintLadder(stamp, brief, self.searches.share(can_wait=True), self.stream())
                self._ladders[reference, turn] = made
            return self._ladders[reference, turn]

    def mirror(self, name: str, number: int) -> StripMirror:
        """The mirror along a strip of a study, tried at every place once. Raises BadInput, OSError."""
        folder = self.folder.study(name)
        of = name, number, square_path(folder, number).stat().st_mtime_ns
        with self._guard:
            if of not in self._mirrors:
                study = open_study(folder)
                share = self.searches.share(can_wait=True)
                self._mirrors[of] = StripMirror(study.numbered(number), study.brief, share, self.stream())
            return self._mirrors[of]

    def board(self, name: str) -> Board:
        """The study of that name as it lies on the table. Raises BadInput."""
        with self._guard:
            board = self._boards.get(name)
            if board is not None and (board.busy or board.stream_ended()):
                return board
            folder = self.folder.study(name)
            if board is None:
                board = self._boards[name] = Board(folder, self.easel, self.stream())
        board.refresh()
        return board

    def stamps(self, asked: PrintsAsked) -> tuple[Stamp, ...]:
        """The prints that are asked for, called as in a brief. Raises BadInput."""
        names = stamp_names([self.prints.word(each) for each in asked.references])
        found = [self.prints.stamp(each, asked.turn) for each in asked.references]
        return tuple(replace(stamp, name=name) for stamp, name in zip(found, names, strict=True))

    def look_ahead(self, asked: PrintsAsked) -> None:
        """Work out while she thinks what a search for these wishes begins with. Where a print lies on squares is kept
        in mind, see `search.memory`, so that the search has its first square sooner. Not for long, and of one at a
        time. Raises BadInput."""
        brief, stamps = wishes.brief_of(asked.word(self.prints), asked.flags(self.prints)), self.stamps(asked)
        with self._guard:
            self._stop_ahead()
            self._ahead = self.searches.begin(Wanted(brief, stamps, count=1), can_wait=True)
            enough = threading.Timer(_AHEAD, self._ahead.cancel)
            enough.daemon = True
            enough.start()

    def _stop_ahead(self) -> None:
        if self._ahead is not None:
            self._ahead.cancel()
            self._ahead = None

    def find(self, asked: PrintsAsked) -> Board:
        """Squares for prints, looked for from now on, for a study that begins with the first. Raises BadInput."""
        word, flags = asked.word(self.prints), asked.flags(self.prints)
        brief = wishes.brief_of(word, flags)
        stamps = self.stamps(asked)
        pictures = [content(self.prints.path(each)) for each in asked.references]
        with self._guard:
            self._stop_ahead()
            folder = self._free(default_folder([each.name for each in brief.stamps]).name)
            board = self._boards[folder.name] = Board(folder, self.easel, self.stream())

        def begin() -> Study:
            return create(folder, brief, stamps, pictures)

        of_brief = None, {**flags, "stamp": word}
        request = StudyRequest(brief, stamps, None, begin, brief.run.count, (), of_brief)
        board.wishes, board.back = asked.told(), asked.address()
        board.typed = typed.finding(word, asked.turn, flags, folder.name)
        errand = Errand(request, Exploring(*of_brief, stamps, self.searches.share()))
        board.hunt(lambda own: SearchHunt(own, errand, self.searches))
        return board

    def back(self, board: Board) -> str:
        """The page of the prints with the wishes that a study was found by: as it was begun on this table, else as its
        folder tells; the table where its prints are not here."""
        if board.wishes:
            return board.back
        try:
            brief = fading.brief_in(board.folder)
        except (BadInput, OSError):
            return "/"
        every = [*built_in_names(), *self.prints.references()]
        named = {stamp_name(each.removeprefix("opened:")): each for each in every}
        found = [named[each.name] for each in brief.stamps if each.name in named]
        if not found or len(found) < len(brief.stamps):
            return "/"
        plain = wishes.brief_of(BETWEEN_STAMPS.join(map(self.prints.word, found)), {"form": brief.piece.form})
        changed = {"form": brief.piece.form, **given(plain, BriefChange(brief, 0.0))}
        flags = {name: text for name, text in changed.items() if name in wishes.KEYS and text != USUAL}
        return PrintsAsked(tuple(found), None, tuple(each.spot for each in brief.stamps), flags, {}).address()

    def more(self, name: str, count: int) -> Board:
        """So many squares more for a study, by what she keeps if she wants that. Raises BadInput."""
        board = self.board(name)
        taste = board.learnt()["taste"] if board.marks.told()["liking"] else ""
        errand = Errand(continued((), self.folder.study(name), count, (), taste))
        board.hunt(lambda own: SearchHunt(own, errand, self.searches))
        return board

    def like(self, name: str, wish: LikeWish) -> Board:
        """More squares like one, looked for from now on, for a study of their own. Raises BadInput."""
        source = self.folder.study(name)
        with self._guard:
            folder = self._free(f"{name.removesuffix('-study')}-{wish.number:02d}-cousins")
            board = self._boards[folder.name] = Board(folder, self.easel, self.stream())
        board.typed = typed.varying(name, wish.number, wish.keep, wish.change, COUNT)
        wanted = variation(source, folder, wish)
        board.hunt(lambda own: LikeHunt(own, wanted, self.searches.share()))
        return board

    def grow(self, name: str, wall: Mapping[str, Any]) -> Board:
        """New squares for the empty frames of a study's wall, looked for from now on. Raises BadInput."""
        board = self.board(name)
        without = set(board.marks.told()["away"])
        share = self.searches.share()

        def hang(hung: Mapping[str, Any]) -> None:
            board.changed(lambda marks: marks.hang(hung))

        board.hunt(lambda own: WallHunt(own, board.folder, wall, without, share, hang))
        return board

    def _free(self, usual: str) -> Path:
        """A folder for a new study, which no other one here is called, nor any that is being looked for."""
        for number in range(1, 10**6):
            name = usual if number == 1 else f"{usual}-{number}"
            path = self.folder.within(name)
            board = self._boards.get(name)
            if (board is None or not board.busy) and (not path.exists() or (path.is_dir() and _unused(path))):
                return path
        raise Elsewhere("there is no name left for a study")

    def warm(self) -> None:
        """Begin the processes, so that the first thing that is asked of them need not wait for that."""
        share = self.searches.share()
        crew = [share.submit(-1, _nothing, _ready) for _ in range(share.crew.cores)]
        wait([*crew, self.easel.ask(_nothing)])
        # Drawing has much to load.
        wait([self.easel.draw(edge_swatch, FOOTSIDE)])

    def hush(self) -> None:
        """Nothing more is told to anybody, and who waits for a drawing waits no longer."""
        for each in self._streams:
            each.close()
        self.easel.close()

    def __enter__(self) -> Workroom:
        return self

    def __exit__(self, *_: object) -> None:
        self.hush()
        self.searches.close(at_once=True)


def _nothing() -> None:
    """What costs nothing."""


def _ready(nothing: None) -> None:
    """Has the signs in mind with which prints are compared. It takes a while: each process gets one such task."""
    every_sign()


def _unused(folder: Path) -> bool:
    try:
        return not any(folder.iterdir()) or only_begun(folder)
    except (BadInput, OSError):
        return False
