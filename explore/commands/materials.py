"""`stampwork materials`: what chosen squares take."""

from __future__ import annotations

from typing import Annotated

import typer

from explore.asking.kinds import SHARE, Number, Span, Whole
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
    habits_of,
    papers_asked,
    value,
)
from explore.exits import DONE
from explore.terminal import note, say

_SHARE = Number(0.0, 5.0, "a share such as 0.15 or 15%", SHARE)
_LENGTH = Number(0.0, 10000.0, "a length in mm, such as 400")
_PACE = Number(1.0, 10000.0, "a number or a range, such as 120-300")


def what_it_takes(
    study: StudyFolder,
    numbers: SquareNumbers,
    take_up: Annotated[
        str, typer.Option(metavar="SHARE", help="Thread that crossing and twisting uses up, beyond the straight way.")
    ] = "15%",
    reserve: Annotated[str, typer.Option(metavar="SHARE", help="Thread in hand for knots and mistakes.")] = "10%",
    handling: Annotated[str, typer.Option(metavar="MM", help="Thread that only holds each bobbin.")] = "400",
    pace: Annotated[str, typer.Option(metavar="RANGE", help="Crossings she makes in an hour.")] = "120-300",
    method: Method = "closed",
    start_line: StartLine = "corner",
    seam: Seam = "closed",
    corner_pins: CornerPins = False,
    gimp: Gimp = None,
    cores: Cores = None,
    out: PapersFolder = None,
    force: ReplaceFiles = False,
) -> int:
    """Add up what a square takes.

    Bobbins, pins, thread for each bobbin and in all, card, pillow, hours; and a small swatch with the same stitches
    to try the thread on.

    \b
    Example:
      stampwork materials garden-society 7 --pace 200-250

    Writes 07-materials.txt, 07-materials.pdf and 07-swatch.json. All defaults are common practice, no source.
    """
    shares = [value("--take-up", take_up, _SHARE), value("--reserve", reserve, _SHARE)]
    length, span = value("--handling", handling, _LENGTH), value("--pace", pace, Span(_PACE))
    workers = value("--cores", cores, Whole(1, 1024))
    habits = habits_of(method, start_line, seam, corner_pins, gimp)

    from constraints.materials import Allowances, materials
    from explore.papers import materials as papers
    from explore.papers.worked import worked

    added = Allowances(take_up=shares[0], reserve=shares[1], handling_mm=length, crossings_an_hour=span)
    asked = papers_asked(study, numbers, out, force, {"materials": (".txt", ".pdf"), "swatch": (".json",)})
    for design, paths in asked.each:
        found = materials(worked(design, habits), added)
        swatch = papers.swatch_of(design, workers)
        papers.write(asked.name, found, added, swatch, paths)
        for head, words in papers.told(found, added):
            say(f"{head}: {words}")
        if swatch is None:
            note(f"{design.number:02d}: no small square with these stitches was found, so there is no swatch")
        elif lacking := papers.lacking(swatch, design):
            note(f"{design.number:02d}: the swatch has no room for {lacking}")
        say(f"page: {paths[1]} (also .txt)" + (f"; swatch: {paths[2]}" if swatch else ""))
    return DONE
