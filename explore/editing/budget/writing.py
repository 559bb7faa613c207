"""A survey on disk: a study that holds its designs, with the record, the plot and a sheet of rows beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from explore.editing.budget.reasons import reason
from explore.editing.budget.record import to_text
from explore.editing.budget.sizes import measure_of
from explore.editing.budget.survey import Survey
from explore.editing.budget.words import heading
from explore.files import write_whole
from explore.storage.pages import write_pages
from explore.storage.study import Study, create

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from gallery.sheets.rows import SheetRow

RECORD = "budget.json"
PLOT = ("budget.png", "budget.svg", "budget.pdf")

Numbers = Mapping[int, tuple[int, ...]]


def write(
    survey: Survey, folder: Path, pictures: Sequence[bytes], force: bool, drawn: tuple[str, str], cores: int | None
) -> tuple[Numbers, dict[int, str]]:
    """Write all of it: the numbers of the designs by measure, and why rows are empty, by pairs.

    pictures: the contents of the stamps' files. drawn: the look and the paper of the sheet.
    Raises StudyError as `create` does, and OSError.
    """
    from gallery.sheets.rows import page_count  # loads matplotlib, which takes long

    reasons = {pairs: reason(survey, pairs)[0] for pairs in survey.rows}
    least, most = survey.budgets[0].pairs, survey.budgets[-1].pairs
    made_by = {"command": "budget", "budgets": f"{least}-{most}"}
    study = create(folder, survey.brief, survey.stamps, pictures, force, made_by)
    numbers: dict[int, tuple[int, ...]] = {}
    for reached in survey.reached:
        first = study.next_number
        for design in reached.designs:
            study = study.keep(design.numbered(study.next_number), study.next_job)
        numbers[reached.size.measure] = tuple(range(first, study.next_number))
    write_whole(folder / RECORD, to_text(survey, numbers, reasons))
    drawing = _Drawing(survey, study, numbers, reasons, *drawn)
    write_pages(folder, _drawn, (drawing,), page_count(drawing.rows(), drawing.paper, survey.stamps), cores, PLOT)
    return numbers, reasons


@dataclass(frozen=True)
class _Drawing:
    survey: Survey
    study: Study
    numbers: Numbers
    reasons: Mapping[int, str]
    look: str
    paper: str

    def rows(self) -> list[SheetRow]:
        from gallery.sheets.rows import SheetRow

        survey = self.survey
        by_number = {design.number: design for design in self.study.designs}
        rows = []
        for pairs in survey.rows:
            held = survey.shown(pairs)
            designs = [] if held is None else [by_number[number] for number in self.numbers[held.size.measure]]
            afforded = survey.afforded(pairs)
            budget = survey.budget(pairs)
            told = heading(survey, budget)
            if held is not None and held.size != afforded[-1]:
                told.append(f"here: {measure_of(survey.brief).said(str(held.size.measure))}")
            rows.append(SheetRow(f"{pairs} pairs", told, designs, self.reasons[pairs]))
        return rows


def _drawn(drawing: _Drawing) -> list[Figure]:
    """The pages of the sheet, and the plot."""
    from explore.editing.budget.charting import asked_for, chart
    from gallery.sheets.frontier import plot
    from gallery.sheets.rows import row_sheet

    survey = drawing.survey
    shown = chart(survey)
    look, paper, stamps = drawing.look, drawing.paper, survey.stamps
    sheets = row_sheet(drawing.rows(), title=shown.title, look=look, paper=paper, note=asked_for(survey), stamps=stamps)
    return [*sheets, plot(shown, stamps)]
