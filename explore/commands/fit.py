"""`stampwork fit`: a piece made to fit something she owns."""

from __future__ import annotations

import re
from typing import Annotated

import typer

from explore.asking.kinds import LENGTH, Number, Span, Whole
from explore.asking.names import Choice
from explore.commands.shared import StudyFolder, value
from explore.endings import DONE, IMPOSSIBLE, Refusal
from explore.refused import Refused
from explore.terminal import note, say, status

_FOR = re.compile(r"\s*([0-9]{1,5}(?:\.[0-9]{1,3})?)\s*x\s*([0-9]{1,5}(?:\.[0-9]{1,3})?)\s*(mm|cm)?\s*", re.ASCII)
_AS = Choice(("strip", "mat", "frame", "edging"))
_EASE = Number(0.0, 1000.0, "a length from 0 to 1000 mm, such as 5mm", LENGTH)
_PITCH = Span(Number(0.5, 100.0, "a length from 0.5 to 100 mm or a range, such as 5mm or 3-6mm", LENGTH, "mm"))


def fit_object(
    study: StudyFolder,
    number: Annotated[str, typer.Argument(metavar="NUMBER", help="A piece of the study.")],
    wanted: Annotated[
        str, typer.Option("--for", metavar="SIZE", help="What it is for: its width and height, such as 290x410mm.")
    ],
    purpose: Annotated[
        str | None, typer.Option("--as", metavar="VALUE", help=f"What it becomes: {_AS.allowed}. Default: as it is.")
    ] = None,
    ease: Annotated[str, typer.Option(metavar="VALUE", help=f"How far off it may be: {_EASE.allowed}.")] = "5mm",
    pitch: Annotated[
        str | None, typer.Option(metavar="VALUE", help=f"Pitch: {_PITCH.allowed}. Default: as it is.")
    ] = None,
    apply: Annotated[
        str | None, typer.Option(metavar="VALUE", help="Make this way, as a new number of the study.")
    ] = None,
) -> int:
    """Make a piece fit.

    Repeats, turnovers and pitch are tried together; what comes nearest is first. A strip and a frame lie on the object,
    an edging goes round it: then its inner edge must fit.

    \b
    Example:
      stampwork fit edgings 3 --for 290x410mm --as frame --pitch 4-6mm
    """
    value("--as", purpose, _AS)
    within, span = value("--ease", ease, _EASE), value("--pitch", pitch, _PITCH)
    chosen = value("--apply", apply, Whole(1, 999))
    read = _FOR.fullmatch(wanted)
    if read is None:
        raise Refused(f"--for is {wanted!r}; allowed: width and height, such as 290x410mm")
    factor = 10.0 if read[3] == "cm" else 1.0

    from explore.fitting.telling import table
    from explore.fitting.ways import MOST_WAYS, Fitting

    fitting = Fitting(study, number, (float(read[1]) * factor, float(read[2]) * factor), purpose, span)
    for line in fitting.study.notes:
        note(line)
    with status() as told:
        ways = fitting.ways(lambda: told("corners and turnovers are tried"))
    fits = [way for way in ways if way.error <= within][:MOST_WAYS]
    if not fits:
        for line in table(fitting, ways[:3]):
            say(line)
        raise Refusal(IMPOSSIBLE, f"nothing fits within {within:g} mm; above is what comes nearest")
    if chosen is not None:
        if chosen > len(fits):
            raise Refused(f"--apply is {chosen}; ways are 1 to {len(fits)}")
        say(fitting.make(fits[chosen - 1]))
        return DONE
    for line in table(fitting, fits):
        say(line)
    note("pins, thread and hours are reckoned from the piece as it is; `materials` counts those of a piece once made")
    return DONE
