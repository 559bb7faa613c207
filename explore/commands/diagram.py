"""`stampwork diagram`: how every pair of chosen squares runs, enlarged."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.kinds import Number
from explore.commands.going_on import after_papers, ways
from explore.commands.shared import (
    LEAF,
    CornerPins,
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
)
from explore.ending import opens
from explore.exits import Outcome
from explore.terminal import say


@opens
def diagram(
    study: StudyFolder,
    numbers: SquareNumbers,
    scale: Annotated[
        float | None,
        typer.Option(metavar="VALUE", help="How many times as large as the lace. Default: 2.5 to 4, by the pitch."),
        Number(1, 10, "how many times as large, from 1 to 10, such as 3"),
    ] = None,
    paper: Annotated[str, typer.Option(metavar="VALUE", help=f"Paper: {LEAF.allowed}."), LEAF] = "a4",
    footside: Footside = "left",
    method: Method = "closed",
    start_line: StartLine = "suits",
    seam: Seam = "closed",
    corner_pins: CornerPins = False,
    gimp: Gimp = None,
    pin_numbers: Annotated[
        bool, typer.Option("--numbers", help="Number the pins in the order in which they are put up.")
    ] = False,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> Outcome:
    """Draw how every pair of a square runs, enlarged.

    One line is one pair, in the trade's colours, with every twist, turn of a worker and pin. The first page
    explains each mark; what is larger than the paper follows in pages that overlap.

    \b
    Examples:
      stampwork diagram garden-society 7
      stampwork diagram garden-society 3 7 --numbers --footside right --paper a3
      stampwork diagram garden-society 7 --corner-pins --gimp 2,5

    Writes 07-diagram.pdf, and 07-diagram.svg with all of it on one paper, one layer for each kind of mark.
    """
    from constraints.working.habits import Habits
    from explore.papers import diagram as diagrams
    from gallery.diagram.drawn import DiagramOptions

    habits = Habits(ground=method, start_line=start_line, seam=seam, corner_pins=corner_pins, gimp=gimp or ())
    wanted = DiagramOptions(scale or 0.0, footside, pin_numbers)
    asked = papers_asked(study, numbers, out, force, {"diagram": (".pdf", ".svg")})
    for design, (pdf, vector) in asked.each:
        words = diagrams.write(design, asked.name, wanted, paper, pdf, vector, habits)
        say(f"{design.number:02d}: {words}: {pdf} (also .svg)")
    then = after_papers("diagram", study, asked, out, ways(habits, footside))
    return Outcome(to_see=[pdf for _, (pdf, _) in asked.each], told=asked.told, then=then)
