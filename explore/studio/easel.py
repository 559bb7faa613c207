"""A process that draws and measures for the page, beside those that search, so that these never keep her waiting."""

from __future__ import annotations

import multiprocessing
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from constraints.design import Design
from constraints.stamp import Stamp
from explore.search.crew import begin_worker
from explore.storage.outlines import stamp_of
from explore.storage.study import read_square

_Out = TypeVar("_Out")
# How wide a picture is seen, points: beside others, and large.
_SMALL, _LARGE = 220.0, 640.0
LOOKS = ("drawing", "lace", "threads")
# Drawings that are kept, bytes in all.
_MOST_KEPT = 48 * 10**6


class Easel:
    """One process; begun when something is first asked of it."""

    def __init__(self) -> None:
        methods = multiprocessing.get_all_start_methods()
        context = multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")
        self._pool = ProcessPoolExecutor(1, mp_context=context, initializer=begin_worker)
        self._kept: OrderedDict[tuple[Any, ...], bytes] = OrderedDict()

    def ask(self, work: Callable[..., _Out], *given: Any) -> Future[_Out]:
        """work(*given), done there in its turn."""
        return self._pool.submit(work, *given)

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
        for process in list((self._pool._processes or {}).values()):
            process.kill()
        self._pool.shutdown(wait=True, cancel_futures=True)


# What follows runs in the process.


def square_drawn(path: Path, look: str) -> bytes:
    """A square of a study in a look, one of LOOKS, as SVG."""
    return drawn(read_square(path), look).encode()


def drawn(design: Design, look: str) -> str:
    """A square in a look as SVG; of a long strip its first repeats."""
    from gallery.looks.excerpt import excerpt
    from gallery.sheets.grid import TALL
    from gallery.web.vector import vector

    shown = excerpt(design, TALL)
    if look == "threads":
        return vector(shown, "lace", _LARGE, detailed=True).svg()
    return vector(shown, look, _LARGE if look == "drawing" else _SMALL, None if look == "drawing" else False).svg()


def told_of_square(path: Path, stamps: tuple[str, ...]) -> dict[str, Any]:
    """A square in figures and words. stamps: outlines as texts."""
    from gallery.web.telling import facts, told_of, words_of

    design = read_square(path)
    told = told_of(design, tuple(map(_stamp, stamps)))
    words = words_of(told)
    few = [words[name] for name in ("known", "rank", "lies") if words[name]]
    return {"facts": facts(told, design.form.name != "square"), "few": few, "surely": told["surely"] or 0.0}


@lru_cache(maxsize=8)
def _stamp(text: str) -> Stamp:
    return stamp_of(text)
