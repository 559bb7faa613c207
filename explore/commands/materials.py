"""`stampwork materials`: what chosen squares take."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.kinds import SHARE, Number
from explore.asking.several import Span
from explore.commands.going_on import after_papers, ways
from explore.commands.shared import (
    Cores,
    CornerPins,
    Gimp,
    Method,
    PapersFolder,
    ReplaceFiles,
    Seam,
    SquareNumbers,
    StartLine,
    StudyFolder,
    papers_asked,
)
from explore.ending import opens
from explore.exits import Outcome
from explore.terminal import note, say

_SHARE = Number(0.0, 5.0, "a share such as 0.15 or 15%", SHARE, "%")


@opens
def what_it_takes(
    study: StudyFolder,
    numbers: SquareNumbers,
    take_up: Annotated[
        float,
        typer.Option(metavar="SHARE", help="Thread that crossing and twisting uses up, beyond the straight way."),
        _SHARE,
    ] = 0.15,
    reserve: Annotated[
        float, typer.Option(metavar="SHARE", help="Thread in hand for knots and mistakes."), _SHARE
    ] = 0.10,
    handling: Annotated[
        float,
        typer.Option(metavar="MM", help="Thread that only holds each bobbin."),
        Number(0.0, 10000.0, "a length in mm, such as 400"),
    ] = 400.0,
    pace: Annotated[
        tuple[float, float],
        typer.Option(metavar="RANGE", help="Crossings you make in an hour."),
        Span(Number(1.0, 10000.0, "a number or a range, such as 120-300")),
    ] = (120.0, 300.0),
    method: Method = "closed",
    start_line: StartLine = "suits",
    seam: Seam = "closed",
    corner_pins: CornerPins = False,
    gimp: Gimp = None,
    cores: Cores = None,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> Outcome:
    """Add up what a square takes.

    Bobbins, pins, thread for each bobbin and in all, card, pillow, hours; and a small swatch with the same stitches
    to try the thread on.

    \b
    Example:
      stampwork materials garden-society 7 --pace 200-250

    Writes 07-materials.txt, 07-materials.pdf and 07-swatch.json. All defaults are common practice, no source.
    """
    from constraints.materials import Allowances, materials
    from constraints.working.habits import Habits
    from explore.papers import materials as papers
    from explore.papers.worked import worked

    habits = Habits(ground=method, start_line=start_line, seam=seam, corner_pins=corner_pins, gimp=gimp or ())
    added = Allowances(take_up, reserve, handling, pace)
    asked = papers_asked(study, numbers, out, force, {"materials": (".txt", ".pdf"), "swatch": (".json",)})
    every = []
    for design, paths in asked.each:
        found = materials(worked(design, habits), added)
        swatch = papers.swatch_of(design, cores)
        papers.write(asked.name, found, added, swatch, paths)
        every.append(papers.figures_of(found, added))
        for head, words in every[-1]["told"].items():
            say(f"{head}: {words}")
        if swatch is None:
            note(f"{design.number:02d}: no small square with these stitches was found, so there is no swatch")
        elif lacking := papers.lacking(swatch, design):
            note(f"{design.number:02d}: the swatch has no room for {lacking}")
        say(f"page: {paths[1]} (also .txt)" + (f"; swatch: {paths[2]}" if swatch else ""))
    then = after_papers("materials", study, asked, out, ways(habits))
    told = {"materials": every, **asked.told}
    return Outcome(to_see=[paths[1] for _, paths in asked.each], told=told, then=then)
