"""The sheets of a study, and of how a stamp falls on the grid: side by side, as PDF, PNG and SVG."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from constraints import symmetry as symmetries
from constraints.forms import FORMS
from constraints.stamp import Stamp
from explore.bad_input import BadInput
from explore.storage.pages import write_pages
from explore.storage.study import Study

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from explore.search.laying.falls import Fall

_FALLS = ("grid.png", "grid.svg", "grid.pdf")


def write_sheets(study: Study, look: str, paper: str, cores: int | None = None) -> list[Path]:
    """Draw the squares of a study in one look on one paper; the files written, the picture first."""
    from gallery.sheets import sheet  # loads matplotlib, which takes longer than all else here

    return write_pages(study.folder, _drawn, (study, look, paper), sheet.page_count(len(study.designs), paper), cores)


def _drawn(study: Study, look: str, paper: str) -> list[Figure]:
    from gallery.sheets import sheet

    title, note = _headed(study)
    return sheet.sheet(study.designs, title=title, look=look, paper=paper, note=note, stamp=study.stamp)


def _headed(study: Study) -> tuple[str, str]:
    """The title of a sheet and the line below it."""
    brief = study.brief
    if study.made_by.get("command") == "redraft":
        return study.name, f"redrafted, {brief.rules.pairs} pairs"
    worked = FORMS[brief.piece.form].asked_for(brief.piece.worked)
    wishes = f"{symmetries.told(brief.piece.symmetry)}, {worked}, up to {brief.rules.pairs} pairs"
    return brief.stamp.name or "Patterns without a stamp", f"{wishes}, seed {brief.run.seed}"


def refuse_falls(folder: Path, force: bool) -> None:
    """Refused unless a sheet of falls may be written to the folder."""
    there = [name for name in _FALLS if (folder / name).exists()]
    if there and not force:
        raise BadInput(f"{folder / there[0]} is there already: --force replaces it, --out names another folder")
    if folder.exists() and not folder.is_dir():
        raise BadInput(f"{folder} is not a folder; --out names the folder of the sheet")


def write_falls(folder: Path, stamp: Stamp, found: list[Fall], choice: Fall | None) -> Path:
    """Draw how a stamp falls on the grid, the suggestion marked; the picture written."""
    from gallery.paper import page
    from gallery.sheets import sheet

    told = []
    for fall in found:
        words = [f"{fall.size:g} pitches", f"turned {fall.turn:g}\N{DEGREE SIGN}", f"match {fall.match:.2f}"]
        words += [f"detail {fall.detail:.2f}", f"from {fall.pairs} pairs"]
        told.append([*words, "SUGGESTED"] if fall is choice else words)
    figures = sheet.sheet(
        [fall.design for fall in found],
        title=f"{stamp.name} on the grid",
        paper="screen",
        note="the stamp alone, blocked at each size and turn, worked round",
        stamp=stamp,
        captions=told,
    )
    folder.mkdir(parents=True, exist_ok=True)
    for name in _FALLS:
        page.write(figures, folder / name)
    return folder / _FALLS[0]
