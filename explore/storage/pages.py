"""The pages of a study's sheet, drawn and written by workers, in place of those of an earlier one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from explore.search.workers import WorkerPool
from explore.storage.study import sheet_files

if TYPE_CHECKING:
    from matplotlib.figure import Figure

Draw = Callable[..., list["Figure"]]


def write_pages(
    folder: Path, draw: Draw, given: tuple[Any, ...], count: int, cores: int | None, more: Sequence[str] = ()
) -> list[Path]:
    """Write a sheet of so many pages; the files written, the picture first.

    The PDF holds all pages; PNG and SVG hold one page each: sheet.png, sheet-2.png and so on. Pages of an
    earlier sheet that is replaced are removed. draw: called with `given`, gives the pages, and one figure more if
    there are files for it.
    """
    pages = range(1, count + 1)
    shares = {
        f"sheet{'' if page == 1 else f'-{page}'}{suffix}": (page - 1, page)
        for suffix in (".png", ".svg")
        for page in pages
    }
    shares |= {"sheet.pdf": (0, count), **dict.fromkeys(more, (count, count + 1))}
    # Drawing takes a fraction of writing, so that every worker draws for itself.
    with WorkerPool(_drawn, (folder, draw, given), cores) as workers:
        written = [path for _, path in workers.in_order(_write, enumerate(shares.items()))]
    for path in sheet_files(folder):
        if path not in written:
            path.unlink()
    return written


def _drawn(folder: Path, draw: Draw, given: tuple[Any, ...]) -> tuple[Path, list[Figure]]:
    return folder, draw(*given)


def _write(drawn: tuple[Path, list[Figure]], number: int, share: tuple[str, tuple[int, int]]) -> Path:
    from gallery.paper import page

    folder, figures = drawn
    name, (first, last) = share
    page.write(figures[first:last], folder / name)
    return folder / name
