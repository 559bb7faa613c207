"""`stampwork redraft`: from an old pricking to the grid."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from constraints.edgings import EDGINGS, FOOTSIDE
from explore.asking.kinds import LENGTH, Number, Whole
from explore.asking.names import Choice
from explore.commands.shared import ReplaceFiles, mends_of, value
from explore.exits import BAD_INPUT, DONE, CommandEnd
from explore.terminal import note, say

_AS = Choice(("strip", "stamp"))
_SIDE = Choice(("left", "right", "top", "bottom"))
_HEADSIDE = Choice((FOOTSIDE, *EDGINGS))
_STITCH = Choice(("cloth", "half", "whole"))
_PITCH = Number(0.5, 100, "a length from 0.5 to 100 mm, such as 5mm", LENGTH, "mm")


def redraft(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="A scan or photograph of the pricking, or its rows in a text.")
    ],
    take: Annotated[str | None, typer.Option(metavar="NUMBERS", help="Doubtful dots that count, such as 3,7.")] = None,
    drop: Annotated[str | None, typer.Option(metavar="NUMBERS", help="Doubtful dots that do not.")] = None,
    footside: Annotated[
        str | None, typer.Option(metavar="SIDE", help=f"Where it lies on the picture: {_SIDE.allowed}.")
    ] = None,
    page: Annotated[str, typer.Option(metavar="NUMBER", help="Page of a PDF.")] = "1",
    pitch: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="The pitch, where the file does not say how large it is.")
    ] = None,
    reading: Annotated[
        str | None, typer.Option(metavar="NUMBER", help="Make the strip or stamp of this reading.")
    ] = None,
    use: Annotated[str, typer.Option("--as", metavar="WHAT", help=f"What is made of it: {_AS.allowed}.")] = "strip",
    headside: Annotated[
        str | None, typer.Option(metavar="KIND", help=f"What the right edge is: {_HEADSIDE.allowed}. Default: any.")
    ] = None,
    at_valley: Annotated[
        str | None, typer.Option(metavar="PAIRS", help="Pairs at the narrowest of a scallop. Default: twice its depth.")
    ] = None,
    stitch: Annotated[str, typer.Option(metavar="STITCH", help=f"Of the blocks: {_STITCH.allowed}.")] = "cloth",
    passives: Annotated[str, typer.Option(metavar="PAIRS", help="Passive pairs along a footside.")] = "0",
    repeats: Annotated[str, typer.Option(metavar="NUMBER", help="Repeats of the strip.")] = "4",
    out: Annotated[
        Path | None,
        typer.Option(help="Folder of the files or the study. Default: called after the file, such as edging-redraft."),
    ] = None,
    force: ReplaceFiles = False,
) -> int:
    """Redraft an old pricking onto the grid.

    Finds the pinholes, pitch and tilt; rings and numbers what is doubtful; finds the repeat; and lists
    the blocks that its pins allow, likeliest first: pinholes alone do not say what is worked between
    them. With --reading, one of them becomes a strip in a study of its own, or a stamp.

    \b
    Examples:
      stampwork redraft edging.jpg
      stampwork redraft edging.jpg --take 3,7 --drop 5 --reading 1 --repeats 8
      stampwork redraft insertion.png --reading 2 --as stamp

    Writes redraft and readings (.png, .pdf, .svg) and rows.txt, the pins row for row: change it by hand and
    redraft it again.
    """
    from explore.editing.redrafting import making, telling
    from explore.editing.redrafting.blank import StripWorking
    from explore.editing.redrafting.door import Redrafting
    from explore.editing.redrafting.proposals import NoReading
    from explore.editing.redrafting.redraft import redraft as read
    from explore.editing.redrafting.settling import number_list

    value("--as", use, _AS), value("--footside", footside, _SIDE), value("--headside", headside, _HEADSIDE)
    value("--stitch", stitch, _STITCH)
    asked = making.RedraftRequest(
        use=use,
        reading=value("--reading", reading, Whole(1, 500)),
        pitch_mm=value("--pitch", pitch, _PITCH),
        out=out,
        force=force,
        working=StripWorking(
            repeats=value("--repeats", repeats, Whole(2, 1000)),
            stitch=stitch,
            passives=value("--passives", passives, Whole(0, 100)),
            kind=headside,
            at_valley=value("--at-valley", at_valley, Whole(3, 12)),
        ),
    )
    number = value("--page", page, Whole(1, 9999))
    taken, dropped = number_list("--take", take), number_list("--drop", drop)
    made = read(file, number, footside, taken, dropped, headside)
    door = Redrafting(file, made, asked, number, footside, taken, dropped)
    try:
        done = making.make(made, asked)
    except NoReading as error:
        raise CommandEnd(BAD_INPUT, f"{file} {error}{telling.aslant(made)}{mends_of(door.offers(), door)}") from None
    rival = made.draft.rival
    if rival is not None and door.holds({"headside": rival}):
        note(telling.rival(made))
    for line in (*telling.notes(made), *done.notes):
        note(line)
    for line in done.lines:
        say(line)
    return DONE
