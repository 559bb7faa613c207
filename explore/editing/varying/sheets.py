"""The sheet of a study of cousins or steps: the chosen square first, then what became of it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from explore.editing.varying.setting import VaryingContext
from explore.editing.varying.worked import share, sorts_in
from explore.storage.pages import write_pages
from explore.storage.study import Study

if TYPE_CHECKING:
    from matplotlib.figure import Figure

# Twenty-four and the chosen one.
_PER_PAGE = 25


def write_sheets(
    study: Study, setting: VaryingContext, words: Sequence[str], look: str, paper: str, cores: int | None
) -> list[Path]:
    """Draw a study in one look on one paper; the files written, the picture first.

    words: what each step changed; for cousins none, their share is told.
    """
    from gallery.sheets import sheet

    first = [f"CHOSEN, {setting.design.number:02d} of {study.made_by['study']}", *_shares(study, setting, words)]
    below = [[], *([each] for each in words)] if words else []
    count = sheet.page_count(len(study.designs), paper, _PER_PAGE)
    return write_pages(study.folder, _drawn, (study, first, below, look, paper), count, cores)


def _shares(study: Study, setting: VaryingContext, words: Sequence[str]) -> list[str]:
    """How much of the chosen square each cousin changed; of steps nothing is told so."""
    if words:
        return [""] * len(words)
    base = sorts_in(setting.design)
    return [f"{100 * share(sorts_in(design), base):.0f}% changed" for design in study.designs[1:]]


def _drawn(study: Study, first: list[str], below: list[list[str]], look: str, paper: str) -> list[Figure]:
    from gallery.sheets import sheet

    made, brief = study.made_by, study.brief
    kept = ", ".join([*made["keep"], *(["the print of the stamp"] if study.stamps else [])]) or "nothing"
    what = "Small steps from" if "steps" in made else "Cousins of"
    name = brief.called or "patterns"
    return sheet.sheet(
        study.designs,
        title=f"{what} {name} {made['number']:02d}",
        look=look,
        paper=paper,
        note=f"kept: {kept}; seed {brief.run.seed}",
        stamps=study.stamps,
        per_page=_PER_PAGE,
        first=first,
        below=below,
    )
