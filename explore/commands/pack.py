"""`stampwork pack`: all papers of a square in one booklet."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.kinds import Whole
from explore.asking.names import Choice
from explore.commands.shared import Cores, PapersFolder, ReplaceFiles, SquareNumbers, StudyFolder, value
from explore.endings import DONE
from explore.terminal import note, say

_LEAF, _FOOTSIDE = Choice(("a4", "a3", "letter")), Choice(("left", "right"))


def booklet(
    study: StudyFolder,
    numbers: SquareNumbers,
    title: Annotated[str | None, typer.Option(help="On the cover. Default: the study and the number.")] = None,
    footside: Annotated[
        str, typer.Option(metavar="VALUE", help=f"Where the footside lies as it is worked: {_FOOTSIDE.allowed}.")
    ] = "left",
    paper: Annotated[
        str, typer.Option(metavar="VALUE", help=f"Paper of pricking and diagram: {_LEAF.allowed}.")
    ] = "a4",
    cores: Cores = None,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> int:
    """Put all papers of a square into one booklet.

    A cover, materials, pricking, working diagram and order of work, ready to print or to send.

    \b
    Example:
      stampwork pack garden-society 7 --title "Garden at Dusk"

    Writes 07-booklet.pdf. Print at 100 %, and measure the bar before pricking.
    """
    value("--footside", footside, _FOOTSIDE), value("--paper", paper, _LEAF)
    workers = value("--cores", cores, Whole(1, 1024))

    from explore.keeping.study import open_study
    from explore.papers import booklet as booklets
    from explore.papers import places

    opened = open_study(study)
    squares = places.chosen(opened, numbers)
    folder = places.paper_folder(opened, out)
    files = [places.paper_files(folder, each.number, "booklet", (".pdf",), force)[0] for each in squares]
    for line in opened.notes:
        note(line)
    name = opened.folder.resolve().name
    for square, pdf in zip(squares, files, strict=True):
        words = title or f"{name}, No. {square.number}"
        count = booklets.write(square, name, words, footside, paper, pdf, workers)
        say(f"{square.number:02d}: {count} pages: {pdf}")
    return DONE
