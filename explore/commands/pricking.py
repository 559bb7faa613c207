"""`stampwork pricking`: the pinholes of chosen squares at true size."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.kinds import LENGTH, Number
from explore.asking.names import Choice
from explore.commands.going_on import after_papers, ways
from explore.commands.shared import (
    LEAF,
    CornerPins,
    Footside,
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
from explore.terminal import note_each, say

_PART = Choice(("whole", "half", "quarter"))
_PEN = Number(0.3, 0.7, "a width from 0.3 to 0.7 mm, such as 0.5mm", LENGTH, "mm")


@opens
def pricking(
    study: StudyFolder,
    numbers: SquareNumbers,
    paper: Annotated[str, typer.Option(metavar="VALUE", help=f"Paper: {LEAF.allowed}."), LEAF] = "a4",
    part: Annotated[
        str, typer.Option(metavar="VALUE", help=f"What is pricked on its own and joined: {_PART.allowed}."), _PART
    ] = "whole",
    footside: Footside = "left",
    start_line: StartLine = "suits",
    seam: Seam = "closed",
    corner_pins: CornerPins = False,
    pen: Annotated[float, typer.Option(metavar="VALUE", help="Width of the dots, 0.3 to 0.7 mm."), _PEN] = 0.5,
    by_stitch: Annotated[
        bool, typer.Option("--by-stitch", help="Finer dots under half stitch, bolder ones under cloth.")
    ] = False,
    arrows: Annotated[bool, typer.Option("--arrows", help="Mark where workers come into their blocks.")] = False,
    cross_overs: Annotated[bool, typer.Option("--cross-overs", help="Mark the cross-overs of rose ground.")] = False,
    pin_numbers: Annotated[
        bool, typer.Option("--numbers", help="Number the pins in the order in which they are put up.")
    ] = False,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> Outcome:
    """Print the pinholes of a square at true size.

    What is larger than the paper is cut into pages that overlap, with crosses to lay them by and a map.
    Measure the printed bar before pricking.

    \b
    Examples:
      stampwork pricking garden-society 7
      stampwork pricking garden-society 3 7 --paper a3 --numbers --footside right
      stampwork pricking garden-society 7 --part quarter

    Writes 07-pricking.pdf, and 07-pricking.svg with all of it on one paper, one layer for each kind of mark.
    """
    from constraints.working.habits import Habits
    from explore.papers import pricking as prickings
    from gallery.pricking.drawn import PrickingOptions

    habits = Habits(start_line=start_line, seam=seam, corner_pins=corner_pins)
    options = PrickingOptions(pen, by_stitch, footside, arrows, cross_overs, pin_numbers)
    asked = papers_asked(study, numbers, out, force, {"pricking": (".pdf", ".svg")})
    for design, (pdf, vector) in asked.each:
        done = prickings.write(design, asked.name, options, part, paper, pdf, vector, habits)
        note_each(done.notes)
        say(f"{design.number:02d}: {done.words}: {pdf} (also .svg)")
    then = after_papers("pricking", study, asked, out, ways(habits, footside))
    return Outcome(to_see=[pdf for _, (pdf, _) in asked.each], told=asked.told, then=then)
