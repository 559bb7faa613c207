"""`stampwork work`: the order in which chosen squares are worked."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.names import Choice
from explore.commands.going_on import after_papers, ways
from explore.commands.shared import (
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
)
from explore.ending import opens
from explore.exits import Outcome
from explore.terminal import note, say

_LEAF = Choice(("a4", "letter"))


@opens
def order_of_work(
    study: StudyFolder,
    numbers: SquareNumbers,
    method: Method = "closed",
    start_line: StartLine = "suits",
    seam: Seam = "closed",
    corner_pins: CornerPins = False,
    gimp: Gimp = None,
    footside: Footside = "left",
    finish: Finish = "knots",
    paper: Annotated[str, typer.Option(metavar="VALUE", help=f"Paper: {_LEAF.allowed}."), _LEAF] = "a4",
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> Outcome:
    """Tell in which order a square is worked.

    Where the pairs are hung, then step by step the diagonals of the ground, blocks, spiders and roses with their
    pins and pairs, where the pillow is turned, and how to finish.

    \b
    Examples:
      stampwork work garden-society 7
      stampwork work garden-society 3 7 --method open --footside right
      stampwork work edgings 2 --finish sewings
      stampwork work garden-society 7 --start-line horizontal --corner-pins --gimp 2,5

    Writes 07-work.txt and 07-work.pdf. Pins have the numbers that pricking and diagram give them.
    """
    from constraints.working.habits import Habits
    from explore.papers import work as orders
    from explore.papers.worked import finishes, worked
    from gallery.order.words import Telling

    habits = Habits(ground=method, start_line=start_line, seam=seam, corner_pins=corner_pins, gimp=gimp or ())
    asked = papers_asked(study, numbers, out, force, {"work": (".txt", ".pdf")})
    for design, (text, pdf) in asked.each:
        if line := finishes(design, finish):
            note(line)
        telling = Telling(f"Order of work {design.number:02d}, {asked.name}", footside == "right", finish)
        words = orders.write(worked(design, habits), telling, paper, text, pdf)
        say(f"{design.number:02d}: {words}: {pdf} (also .txt)")
    then = after_papers("work", study, asked, out, ways(habits, footside, finish))
    return Outcome(to_see=[pdf for _, (_, pdf) in asked.each], told=asked.told, then=then)
