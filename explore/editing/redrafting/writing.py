"""The files of a redraft: the original beside the grid, the readings, the rows, a stamp, a study with a strip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from matplotlib.figure import Figure

from constraints.design import Design
from constraints.lattice import FloatArray
from explore.editing.redrafting.bed import Bed
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.readings import BlockReading
from explore.editing.redrafting.redraft import Redraft, upright
from explore.editing.redrafting.rows import rows_text
from explore.editing.redrafting.stamps import unfolded
from explore.files import write_whole
from gallery.paper.page import write, write_pages
from gallery.sheets.readings import ReadingPanel, readings
from gallery.sheets.redraft import Doubtful, Original, Redrafted, beside

BESIDE, READINGS, ROWS = "redraft", "readings", "rows.txt"
_ENDINGS = (".png", ".pdf", ".svg")


def names() -> list[str]:
    """The files that every redraft writes."""
    return [f"{stem}{ending}" for stem in (BESIDE, READINGS) for ending in _ENDINGS] + [ROWS]


def write_beside(made: Redraft, folder: Path, facts: Sequence[str]) -> Path:
    """The original beside the redraft; returns the picture of the first page."""
    draft = made.draft
    drawn = Redrafted(
        _points(draft.pinholes),
        _points(draft.centres),
        _points(draft.headside),
        [Doubtful(each.number, each.at, each.place, each.taken, each.why) for each in draft.doubts],
        draft.columns,
        draft.rows,
    )
    extent = (-1.5, drawn.right + 1.5, draft.rows[1] + 1.5, draft.rows[0] - 1.5)
    picture = upright(made, extent)
    original = None if picture is None else Original(picture, extent)
    return _write(beside(drawn, original, title=made.name, facts=facts), folder / BESIDE)


@dataclass(frozen=True)
class ShownReading:
    """A reading as it is shown. words: what it is, parts set off by "; ". draft: the pins, of a repeat or of all.
    design: a few repeats of the strip it makes, None if it is none."""

    words: str
    reading: BlockReading
    bed: Bed
    draft: Draft
    design: Design | None = None


def write_readings(found: Sequence[ShownReading], name: str, facts: Sequence[str], folder: Path) -> Path:
    """The sheet of readings; returns the picture of its first page."""
    panels = []
    for number, each in enumerate(found, start=1):
        blocks = [unfolded(block, each.bed) for block in each.reading.blocks]
        pins = _points([*each.draft.taken, *each.draft.taken_centres])
        panels.append(
            ReadingPanel(str(number), each.words.split("; "), blocks, each.reading.figures, pins, each.design)
        )
    return _write(readings(panels, title=f"{name}: readings", facts=facts), folder / READINGS)


def write_rows(made: Redraft, folder: Path) -> Path:
    """The pins written down, to change by hand and read again."""
    path = folder / ROWS
    write_whole(path, rows_text(made.draft, f"{made.name}, redrafted"))
    return path


def _write(pages: list[Figure], stem: Path) -> Path:
    """All pages as PDF, each as PNG, the first as SVG. Pages of an earlier, longer one go."""
    stem.parent.mkdir(parents=True, exist_ok=True)
    write_pages(pages, stem.with_suffix(".png"))
    write(pages, stem.with_suffix(".svg"))
    for number in range(len(pages) + 1, len(pages) + 1000):
        left = stem.with_name(f"{stem.name}-{number}.png")
        if not left.exists():
            break
        left.unlink()
    return stem.with_suffix(".png")


def _points(places: Sequence[tuple[float, float]]) -> FloatArray:
    return np.array(places, dtype=np.float64).reshape(-1, 2)
