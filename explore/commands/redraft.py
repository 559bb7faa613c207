"""`stampwork redraft`: from an old pricking to the grid."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from constraints.edgings import EDGINGS, FOOTSIDE
from constraints.stitches import CLOTH, STITCHES
from explore.asking.keys import PITCHES_MM
from explore.asking.kinds import LENGTH, Number, Whole
from explore.asking.names import Choice
from explore.asking.several import Wholes
from explore.commands.shared import ReplaceFiles, refused
from explore.ending import opens
from explore.exits import AGAIN, BAD_INPUT, Outcome
from explore.terminal import note, note_each, say_each

_AS = Choice(("strip", "stamp"))
_SIDE = Choice(("left", "right", "top", "bottom"))
_HEADSIDE = Choice((FOOTSIDE, *EDGINGS))
_STITCH = Choice(tuple(STITCHES))
_DOTS = Wholes(Whole(1, 99999, "numbers of doubtful dots, such as 3,7 or 4-6"))
_PITCH = Number(*PITCHES_MM, "a length from 0.5 to 100 mm, such as 5mm", LENGTH, "mm")


@opens
def redraft(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="A scan or photograph of the pricking, or its rows in a text.")
    ],
    take: Annotated[
        tuple[int, ...] | None,
        typer.Option(metavar="NUMBERS", help="Doubtful dots that count, such as 3,7."),
        _DOTS,
    ] = None,
    drop: Annotated[
        tuple[int, ...] | None, typer.Option(metavar="NUMBERS", help="Doubtful dots that do not."), _DOTS
    ] = None,
    footside: Annotated[
        str | None, typer.Option(metavar="SIDE", help=f"Where it lies on the picture: {_SIDE.allowed}."), _SIDE
    ] = None,
    page: Annotated[int, typer.Option(metavar="NUMBER", help="Page of a PDF."), Whole(1, 9999)] = 1,
    pitch: Annotated[
        float | None,
        typer.Option(metavar="LENGTH", help="The pitch, where the file does not say how large it is."),
        _PITCH,
    ] = None,
    reading: Annotated[
        int | None, typer.Option(metavar="NUMBER", help="Make the strip or stamp of this reading."), Whole(1, 500)
    ] = None,
    use: Annotated[
        str, typer.Option("--as", metavar="WHAT", help=f"What is made of it: {_AS.allowed}."), _AS
    ] = "strip",
    headside: Annotated[
        str | None,
        typer.Option(metavar="KIND", help=f"What the right edge is: {_HEADSIDE.allowed}. Default: any."),
        _HEADSIDE,
    ] = None,
    at_valley: Annotated[
        int | None,
        typer.Option(metavar="PAIRS", help="Pairs at the narrowest of a scallop. Default: twice its depth."),
        Whole(3, 12),
    ] = None,
    stitch: Annotated[str, typer.Option(metavar="STITCH", help=f"Of the blocks: {_STITCH.allowed}."), _STITCH] = CLOTH,
    passives: Annotated[int, typer.Option(metavar="PAIRS", help="Passive pairs along a footside."), Whole(0, 100)] = 0,
    repeats: Annotated[int, typer.Option(metavar="NUMBER", help="Repeats of the strip."), Whole(2, 1000)] = 4,
    out: Annotated[
        Path | None,
        typer.Option(
            help="Folder of the files or the study. Default: called after the file, such as edging-redraft, with a "
            "number if taken."
        ),
    ] = None,
    force: ReplaceFiles = False,
) -> Outcome:
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
    from explore.editing.redrafting.redraft import CardRequest
    from explore.editing.redrafting.redraft import redraft as read

    working = StripWorking(repeats=repeats, stitch=stitch, passives=passives, kind=headside, at_valley=at_valley)
    asked = making.RedraftRequest(use=use, reading=reading, pitch_mm=pitch, out=out, force=force, working=working)
    card = CardRequest(page, footside, headside, take or (), drop or ())
    made = read(file, card)
    door = Redrafting(file, card, made, asked)
    try:
        done = making.make(made, asked)
    except NoReading as error:
        raise refused(BAD_INPUT, f"{file} {error}{telling.aslant(made)}", door.offers(), door) from None
    rival = made.draft.rival
    if rival is not None and door.holds({"headside": rival}):
        note(telling.rival(made))
    note_each((*telling.notes(made), *done.notes))
    say_each(done.lines)
    told = {**done.told, "made": done.made}
    if done.made is None:
        return Outcome(to_see=done.to_see, told=told, then=(AGAIN, "--reading", 1))
    then = ("explore", done.made) if use == making.STAMP else ("pricking", done.made, 1)
    return Outcome(to_see=done.to_see, told=told, then=then)
