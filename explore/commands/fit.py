"""`stampwork fit`: a piece made to fit something she owns."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated

import typer

from constraints.catalogue import MOST_GROWTH
from explore.asking.kinds import LENGTH, Number, Span, Whole
from explore.asking.names import Choice
from explore.commands.shared import StudyFolder, value
from explore.endings import DONE, IMPOSSIBLE, Refusal
from explore.refused import Refused
from explore.terminal import note, say, status

if TYPE_CHECKING:
    from explore.fitting.ways import Fitting

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
    edging: Annotated[
        str | None, typer.Option(metavar="EDGING", help="Try this edging too, or any. Default: its own.")
    ] = None,
    wider: Annotated[
        str | None,
        typer.Option(metavar="VALUE", help="Units or columns by which it may be wider, 0 to 14. Default: 0."),
    ] = None,
    apply: Annotated[
        str | None, typer.Option(metavar="VALUE", help="Make this way, as a new number of the study.")
    ] = None,
) -> int:
    """Make a piece fit.

    Corners, turnovers, repeats and pitches are tried together, and if she says so other edgings and a wider band;
    what comes nearest is first. A strip and a frame lie on the object, an edging goes round it: then its inner edge
    must fit.

    \b
    Examples:
      stampwork fit edgings 3 --for 290x410mm --as frame --pitch 4-6mm
      stampwork fit edgings 3 --for 45x180mm --edging any --wider 2
    """
    value("--as", purpose, _AS)
    within, span = value("--ease", ease, _EASE), value("--pitch", pitch, _PITCH)
    chosen, more = value("--apply", apply, Whole(1, 999)), value("--wider", wider, Whole(0, MOST_GROWTH)) or 0
    read = _FOR.fullmatch(wanted)
    if read is None:
        raise Refused(f"--for is {wanted!r}; allowed: width and height, such as 290x410mm")
    factor = 10.0 if read[3] == "cm" else 1.0

    from explore.fitting.telling import table
    from explore.fitting.variants import named_edgings
    from explore.fitting.ways import MOST_WAYS, Change, Fitting

    change = Change(() if edging is None else named_edgings(edging, "--edging"), more)
    fitting = Fitting(study, number, (float(read[1]) * factor, float(read[2]) * factor), purpose, span, change)
    for line in fitting.study.notes:
        note(line)
    with status() as told:
        ways = fitting.ways(within, lambda which: told(f"ways to fit it are tried, {which}"))
    fits = [fit for fit in ways if fit.way.error <= within][:MOST_WAYS]
    if not fits:
        for line in table(fitting, ways[:3]):
            say(line)
        raise Refusal(IMPOSSIBLE, f"nothing fits within {within:g} mm; {_what_would(fitting, within)}")
    if chosen is not None:
        if chosen > len(fits):
            raise Refused(f"--apply is {chosen}; ways are 1 to {len(fits)}")
        say(fitting.make(fits[chosen - 1]))
        return DONE
    for line in table(fitting, fits):
        say(line)
    note("pins, thread and hours are reckoned from the piece as it is; `materials` counts those of a piece once made")
    return DONE


def _what_would(fitting: Fitting, ease: float) -> str:
    """What may mend it where nothing fits."""
    way = fitting.at_another_pitch()
    if way.error <= ease:
        return f"at a pitch of {way.pitch_mm:g} mm it is {way.error:.2g} mm off"
    return "above is what comes nearest; another --edging, a --wider band or another --pitch may help"
