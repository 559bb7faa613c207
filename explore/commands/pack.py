"""`stampwork pack`: all papers of a square in one booklet."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.commands.going_on import after_papers, ways
from explore.commands.shared import (
    LEAF,
    Cores,
    CornerPins,
    Finish,
    Footside,
    Gimp,
    Method,
    PapersFolder,
    ReplaceFiles,
    Seam,
    SquareNumbers,
    StartLine,
    StudyFolder,
    papers_asked,
    typed,
)
from explore.ending import opens
from explore.exits import Outcome
from explore.lines import one_line
from explore.terminal import say


@opens
def booklet(
    study: StudyFolder,
    numbers: SquareNumbers,
    title: Annotated[str | None, typer.Option(help="On the cover. Default: the study and the number.")] = None,
    footside: Footside = "left",
    method: Method = "closed",
    start_line: StartLine = "suits",
    seam: Seam = "closed",
    corner_pins: CornerPins = False,
    gimp: Gimp = None,
    finish: Finish = "knots",
    paper: Annotated[
        str, typer.Option(metavar="VALUE", help=f"Paper of pricking and diagram: {LEAF.allowed}."), LEAF
    ] = "a4",
    cores: Cores = None,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> Outcome:
    """Put all papers of a square into one booklet.

    A cover, materials, pricking, working diagram and order of work, ready to print or to send.

    \b
    Example:
      stampwork pack garden-society 7 --title "Garden at Dusk"

    Writes 07-booklet.pdf. Print at 100 %, and measure the bar before pricking.
    """
    from constraints.working.habits import Habits
    from explore.papers import booklet as booklets

    habits = Habits(ground=method, start_line=start_line, seam=seam, corner_pins=corner_pins, gimp=gimp or ())
    asked = papers_asked(study, numbers, out, force, {"booklet": (".pdf",)})
    heading = one_line(typed("--title", title) or "")
    for design, (pdf,) in asked.each:
        words = heading or f"{asked.name}, No. {design.number}"
        wanted = booklets.BookletOptions(words, footside, paper, finish, habits)
        count = booklets.write(design, asked.name, wanted, pdf, cores)
        say(f"{design.number:02d}: {count} pages: {pdf}")
    then = after_papers("pack", study, asked, out, ways(habits, footside, finish))
    return Outcome(to_see=[pdf for _, (pdf,) in asked.each], told=asked.told, then=then)
