"""The sheets of a study: its designs side by side, as PDF, PNG and SVG."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from constraints.forms import FORMS
from explore.storage.pages import write_pages
from explore.storage.study import Study

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def write_sheets(study: Study, look: str, paper: str, cores: int | None = None) -> list[Path]:
    """Draw the squares of a study in one look on one paper; the files written, the picture first."""
    from gallery.sheets import sheet  # loads matplotlib, which takes longer than all else here

    return write_pages(study.folder, _drawn, (study, look, paper), sheet.page_count(len(study.designs), paper), cores)


def _drawn(study: Study, look: str, paper: str) -> list[Figure]:
    from gallery.sheets import sheet

    title, note = _headed(study)
    # Of an old pricking no symmetry was asked.
    silent = ("symmetry",) if study.made_by.get("command") == "redraft" else ()
    return sheet.sheet(
        study.designs, title=title, look=look, paper=paper, note=note, stamps=study.stamps, silent=silent
    )


def _headed(study: Study) -> tuple[str, str]:
    """The title of a sheet and the line below it."""
    brief = study.brief
    if study.made_by.get("command") == "redraft":
        return study.name, f"redrafted, {brief.rules.pairs} pairs"
    form = FORMS[brief.piece.form]
    # How each square is worked, the sheet tells.
    asked = "" if len(form.ways) > 1 else f"{form.asked_for(brief.piece.worked)}, "
    wishes = f"{asked}up to {brief.rules.pairs} pairs, seed {brief.run.seed}"
    return brief.called or "Patterns without a stamp", wishes
