"""`stampwork work`: the order in which chosen squares are worked."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.names import Choice
from explore.commands.shared import PapersFolder, ReplaceFiles, SquareNumbers, StudyFolder, value
from explore.endings import DONE
from explore.terminal import note, say

_LEAF, _FOOTSIDE = Choice(("a4", "letter")), Choice(("left", "right"))
_METHOD, _FINISH = Choice(("closed", "open")), Choice(("knots", "plaits", "fringe"))


def order_of_work(
    study: StudyFolder,
    numbers: SquareNumbers,
    method: Annotated[
        str,
        typer.Option(metavar="VALUE", help="Pins of the ground: closed (CT pin CT) or open (TC pin TC)."),
    ] = "closed",
    footside: Annotated[
        str, typer.Option(metavar="VALUE", help=f"Where the footside lies as it is worked: {_FOOTSIDE.allowed}.")
    ] = "left",
    finish: Annotated[
        str, typer.Option(metavar="VALUE", help=f"Worked across, the pairs on the last edge: {_FINISH.allowed}.")
    ] = "knots",
    paper: Annotated[str, typer.Option(metavar="VALUE", help=f"Paper: {_LEAF.allowed}.")] = "a4",
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> int:
    """Tell in which order a square is worked.

    Where the pairs are hung, then step by step the diagonals of the ground, blocks, spiders and roses with their
    pins and pairs, where the pillow is turned, and how to finish.

    \b
    Examples:
      stampwork work garden-society 7
      stampwork work garden-society 3 7 --method open --footside right

    Writes 07-work.txt and 07-work.pdf. Pins have the numbers that pricking and diagram give them.
    """
    value("--method", method, _METHOD), value("--footside", footside, _FOOTSIDE)
    value("--finish", finish, _FINISH), value("--paper", paper, _LEAF)

    from constraints.piece import ACROSS
    from constraints.working.habits import Habits
    from explore.keeping.study import open_study
    from explore.papers import places as papers
    from explore.papers import work as orders
    from explore.papers.worked import worked
    from gallery.order.words import Telling

    opened = open_study(study)
    squares = papers.chosen(opened, numbers)
    folder = papers.paper_folder(opened, out)
    files = [papers.paper_files(folder, each.number, "work", (".txt", ".pdf"), force) for each in squares]
    for each in opened.notes:
        note(each)
    name = opened.folder.resolve().name
    for square, (text, pdf) in zip(squares, files, strict=True):
        if finish != "knots" and square.worked != ACROSS:
            note(f"{square.number:02d} is worked round and ends with sewings; --finish is for squares worked across")
        telling = Telling(f"Order of work {square.number:02d}, {name}", footside == "right", finish)
        words = orders.write(worked(square, Habits(ground=method)), telling, paper, text, pdf)
        say(f"{square.number:02d}: {words}: {pdf} (also .txt)")
    return DONE
