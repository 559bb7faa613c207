"""`stampwork diagram`: how every pair of chosen squares runs, enlarged."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.kinds import Number
from explore.asking.names import Choice
from explore.commands.shared import PapersFolder, ReplaceFiles, SquareNumbers, StudyFolder, value
from explore.endings import DONE
from explore.terminal import note, say

_LEAF, _FOOTSIDE = Choice(("a4", "a3", "letter")), Choice(("left", "right"))
_SCALE = Number(1, 10, "how many times as large, from 1 to 10, such as 3")


def diagram(
    study: StudyFolder,
    numbers: SquareNumbers,
    scale: Annotated[
        str | None,
        typer.Option(metavar="VALUE", help="How many times as large as the lace. Default: 2.5 to 4, by the pitch."),
    ] = None,
    paper: Annotated[str, typer.Option(metavar="VALUE", help=f"Paper: {_LEAF.allowed}.")] = "a4",
    footside: Annotated[
        str, typer.Option(metavar="VALUE", help=f"Where the footside lies as it is worked: {_FOOTSIDE.allowed}.")
    ] = "left",
    pin_numbers: Annotated[
        bool, typer.Option("--numbers", help="Number the pins in the order in which they are put up.")
    ] = False,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> int:
    """Draw how every pair of a square runs, enlarged.

    One line is one pair, in the trade's colours, with every twist, turn of a worker and pin. The first page
    explains each mark; what is larger than the paper follows in pages that overlap.

    \b
    Examples:
      stampwork diagram garden-society 7
      stampwork diagram garden-society 3 7 --numbers --footside right --paper a3

    Writes 07-diagram.pdf, and 07-diagram.svg with all of it on one paper, one layer for each kind of mark.
    """
    value("--paper", paper, _LEAF), value("--footside", footside, _FOOTSIDE)
    enlarged = value("--scale", scale, _SCALE)

    from explore.keeping.study import open_study
    from explore.papers import diagram as diagrams
    from explore.papers import places as papers
    from gallery.diagram.drawn import Wanted

    opened = open_study(study)
    wanted = Wanted(enlarged or 0.0, footside, pin_numbers)
    squares = papers.chosen(opened, numbers)
    folder = papers.paper_folder(opened, out)
    files = [papers.paper_files(folder, each.number, "diagram", (".pdf", ".svg"), force) for each in squares]
    for each in opened.notes:
        note(each)
    for square, (pdf, vector) in zip(squares, files, strict=True):
        words = diagrams.write(square, opened.folder.resolve().name, wanted, paper, pdf, vector)
        say(f"{square.number:02d}: {words}: {pdf} (also .svg)")
    return DONE
