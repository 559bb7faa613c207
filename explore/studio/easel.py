"""A process that draws and measures for the page, beside those that search, so that these never keep her waiting."""

from __future__ import annotations

import io
import multiprocessing
import threading
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor
from functools import lru_cache, partial
from heapq import heappop, heappush
from itertools import count
from pathlib import Path
from typing import Any, TypeVar

from constraints.design import Design
from constraints.stamp import Stamp
from constraints.stopping import Stopped
from explore.search.crew import begin_worker
from explore.storage.outlines import stamp_of
from explore.storage.study import read_square
from explore.studio.colours import USUAL, Colours
from gallery.looks.palette import in_her_colours

_Out = TypeVar("_Out")
# How wide a picture is seen, points: beside others, and large.
_SMALL, _LARGE = 220.0, 640.0
LOOKS = ("drawing", "lace", "threads")
# Drawings that are kept, bytes in all.
_MOST_KEPT = 48 * 10**6


class Easel:
    """One process; begun when something is first asked of it, and anew if it was killed, as a system does that has no
    memory left."""

    def __init__(self) -> None:
        self._pool = _process()
        self._kept: OrderedDict[tuple[Any, ...], bytes] = OrderedDict()
        # Those that wait, in the order in which they are done: by their rank, then by their number.
        self._waiting: list[tuple[int, int, Future[Any], Callable[..., Any], tuple[Any, ...]]] = []
        self._numbers = count()
        self._busy = self._over = False
        self._guard = threading.Lock()

    def ask(self, work: Callable[..., _Out], *given: Any) -> Future[_Out]:
        """work(*given), done there before all drawings that wait."""
        return self._submit(0, work, given)

    def draw(self, work: Callable[..., _Out], *given: Any) -> Future[_Out]:
        """The same of a drawing, done when nothing else is asked."""
        return self._submit(1, work, given)

    def _submit(self, rank: int, work: Callable[..., _Out], given: tuple[Any, ...]) -> Future[_Out]:
        asked: Future[_Out] = Future()
        with self._guard:
            if self._over:
                asked.set_exception(Stopped("the studio ends"))
                return asked
            heappush(self._waiting, (rank, next(self._numbers), asked, work, given))
        self._deal()
        return asked

    def _deal(self) -> None:
        """Hand on what waits, if the process is idle."""
        while True:
            with self._guard:
                if self._busy or not self._waiting:
                    return
                _, _, asked, work, given = heappop(self._waiting)
                if not asked.set_running_or_notify_cancel():
                    continue
                self._busy = True
            try:
                self._pool.submit(work, *given).add_done_callback(partial(self._hand_back, asked))
            except BrokenExecutor as error:
                asked.set_exception(error)
                return
            except RuntimeError:  # closed meanwhile
                asked.set_exception(Stopped("the studio ends"))
                return

    def _hand_back(self, asked: Future[Any], done: Future[Any]) -> None:
        with self._guard:
            self._busy = False
            if not (self._over or done.cancelled()) and isinstance(done.exception(), BrokenExecutor):
                self._pool = _process()
        self._deal()
        if done.cancelled() or (self._over and done.exception()):
            asked.set_exception(Stopped("the studio ends"))
        elif error := done.exception():
            asked.set_exception(error)
        else:
            asked.set_result(done.result())

    def kept(self, key: tuple[Any, ...]) -> bytes | None:
        """What was kept under a key."""
        found = self._kept.get(key)
        if found is not None:
            self._kept.move_to_end(key)
        return found

    def keep(self, key: tuple[Any, ...], data: bytes) -> None:
        """Keep a drawing until others need its place."""
        self._kept[key] = data
        while sum(map(len, self._kept.values())) > _MOST_KEPT:
            self._kept.popitem(last=False)

    def close(self) -> None:
        """End it, whatever it has in hand."""
        with self._guard:
            self._over = True
            waiting, self._waiting = self._waiting, []
        for each in waiting:
            each[2].set_exception(Stopped("the studio ends"))
        for process in list((self._pool._processes or {}).values()):
            process.kill()
        self._pool.shutdown(wait=True, cancel_futures=True)


def _process() -> ProcessPoolExecutor:
    methods = multiprocessing.get_all_start_methods()
    context = multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")
    return ProcessPoolExecutor(1, mp_context=context, initializer=begin_worker)


# What follows runs in the process.


def square_drawn(path: Path, look: str, colours: Colours = USUAL) -> bytes:
    """A square of a study in a look, one of LOOKS, as SVG; as lace in her colours."""
    return drawn(read_square(path), look, colours).encode()


def drawn(design: Design, look: str, colours: Colours = USUAL) -> str:
    """A square in a look as SVG; of a long strip its first repeats."""
    from gallery.looks.excerpt import TALL, excerpt
    from gallery.web.vector import vector

    shown = excerpt(design, TALL)
    if look == "drawing":
        return vector(shown, look, _LARGE).svg()
    large = look == "threads"
    lace = vector(shown, "lace", _LARGE if large else _SMALL, detailed=large)
    return (lace if colours == USUAL else lace.recoloured(lambda each: in_her_colours(each, *colours))).svg()


def picture_mm(design: Design) -> float:
    """The side of such a picture, mm, where the lace in it is as large as once it is made."""
    from gallery.looks.excerpt import TALL, excerpt
    from gallery.looks.named import extent

    return extent(excerpt(design, TALL)) * design.pitch_mm


def told_of_square(path: Path, stamps: tuple[str, ...]) -> dict[str, Any]:
    """A square in figures and words, and whether it has corners to keep. stamps: outlines as texts."""
    from gallery.web.telling import facts, told_of, words_of

    design = read_square(path)
    told = told_of(design, tuple(map(_stamp, stamps)))
    words = words_of(told)
    few = [words[name] for name in ("known", "lies") if words[name]]
    return {
        "facts": facts(told, design.form.name != "square"),
        "few": few,
        "surely": told["surely"] or 0.0,
        "corners": design.form.repeating is None,
    }


@lru_cache(maxsize=8)
def _stamp(text: str) -> Stamp:
    return stamp_of(text)


def booklet_told(path: Path) -> dict[str, Any]:
    """The pages of a booklet and its parts, each with its first page, from 0."""
    from pypdf import PdfReader

    reader = PdfReader(path)
    parts = [
        {"words": str(each.title), "first": reader.get_destination_page_number(each)}
        for each in reader.outline
        if not isinstance(each, list)
    ]
    return {"pages": len(reader.pages), "parts": parts}


def page_drawn(path: Path, number: int, wide: int) -> bytes:
    """A page of a booklet as PNG, so many pixels wide. number: from 0. Raises IndexError."""
    import pypdfium2

    document = pypdfium2.PdfDocument(path)
    try:
        if number >= len(document):
            raise IndexError(number)
        page = document[number]
        picture = page.render(scale=wide / page.get_width()).to_pil()
    finally:
        document.close()
    held = io.BytesIO()
    picture.save(held, "PNG")
    return held.getvalue()


def order_told(path: Path, ways: dict[str, str]) -> dict[str, Any]:
    """The order of work of a square. `lines`: each its `kind`, `words`, `number` of a step, `part`, the heading above
    it, and `look`: if she looks after it where the pairs hang, then pairs, what they are at an edge, and where, of all
    of them. `edge`: from which pairs are counted."""
    from constraints.working.habits import Habits
    from explore.papers.worked import worked
    from gallery.order.checks import checks
    from gallery.order.edges import counted_from
    from gallery.order.words import HEADING, TITLE, Telling, order_lines

    design = read_square(path)
    done = worked(design, Habits(ground=ways.get("method", "closed"), start_line="suits"))
    lines = order_lines(done, Telling("", ways.get("footside") == "right", ways.get("finish", "knots")))
    looks = checks(done, lines)
    told, part = [], ""
    for at, line in enumerate(lines):
        if line.kind == HEADING:
            part = line.words
        elif line.kind != TITLE:
            look = [[each.pairs, each.who, each.where] for each in looks.get(at, ())]
            told.append({"kind": line.kind, "words": line.words, "number": line.number, "part": part, "look": look})
    return {"lines": told, "edge": counted_from(design)}


def map_drawn(path: Path, ways: dict[str, str]) -> bytes:
    """The map of a square with the numbers of its blocks, as SVG."""
    from constraints.working.habits import Habits
    from explore.papers.worked import worked
    from gallery.order.block_map import BlockMap
    from gallery.paper.page import house_rules, new_page

    done = worked(read_square(path), Habits(ground=ways.get("method", "closed"), start_line="suits"))
    side = 100.0
    with house_rules():
        figure, axes = new_page(side, side + 8)
        BlockMap(done, ways.get("footside") == "right", (side - 6, side - 6), (side / 2, side / 2)).draw(axes)
        held = io.BytesIO()
        figure.savefig(held, format="svg")
    return held.getvalue()
