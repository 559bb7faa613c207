"""`stampwork fit`: a piece made to fit something she owns."""

from __future__ import annotations

import re
from math import inf
from typing import Annotated

import typer

from constraints.catalogue import MOST_GROWTH
from constraints.forms import PURPOSES
from explore.asking.kinds import Whole
from explore.asking.names import Choice
from explore.bad_input import BadInput
from explore.commands.shared import StudyFolder, mends_of, value
from explore.editing.fitting.asked import EASE, PITCH
from explore.exits import DONE, IMPOSSIBLE, NOTHING_FOUND, CommandEnd
from explore.terminal import note, say, status

_FOR = re.compile(r"\s*([0-9]{1,5}(?:\.[0-9]{1,3})?)\s*x\s*([0-9]{1,5}(?:\.[0-9]{1,3})?)\s*(mm|cm)?\s*", re.ASCII)
_AS = Choice(PURPOSES)


def fit_object(
    study: StudyFolder,
    number: Annotated[str, typer.Argument(metavar="NUMBER", help="A piece of the study.")],
    wanted: Annotated[
        str, typer.Option("--for", metavar="SIZE", help="What it is for: its width and height, such as 290x410mm.")
    ],
    purpose: Annotated[
        str | None, typer.Option("--as", metavar="VALUE", help=f"What it becomes: {_AS.allowed}. Default: as it is.")
    ] = None,
    ease: Annotated[str, typer.Option(metavar="VALUE", help=f"How far off it may be: {EASE.allowed}.")] = "5mm",
    pitch: Annotated[
        str | None, typer.Option(metavar="VALUE", help=f"Pitch: {PITCH.allowed}. Default: as it is.")
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
    within, span = value("--ease", ease, EASE), value("--pitch", pitch, PITCH)
    chosen, more = value("--apply", apply, Whole(1, 999)), value("--wider", wider, Whole(0, MOST_GROWTH)) or 0
    read = _FOR.fullmatch(wanted)
    if read is None:
        raise BadInput(f"--for is {wanted!r}; allowed: width and height, such as 290x410mm")
    factor = 10.0 if read[3] == "cm" else 1.0

    from explore.editing.fitting.door import OtherFits, OtherwiseFitted
    from explore.editing.fitting.fits import MOST_FITS, Allowed, Fitting, NoFittingFrame
    from explore.editing.fitting.telling import table
    from explore.editing.fitting.variants import named_edgings

    change = Allowed(() if edging is None else named_edgings(edging, "--edging"), more)
    fitting = Fitting(study, number, (float(read[1]) * factor, float(read[2]) * factor), purpose, span, change)
    for line in fitting.study.notes:
        note(line)
    with status() as told:
        every = fitting.fits(within, lambda which: told(f"ways to fit it are tried, {which}"))
    fits = [fit for fit in every if fit.sized.error <= within][:MOST_FITS]
    if not fits:
        for line in table(fitting, every[:3]):
            say(line)
        other = OtherwiseFitted(fitting, within)
        nearest = min((fit.sized.error for fit in every), default=inf)
        raise CommandEnd(IMPOSSIBLE, f"nothing fits within {within:g} mm" + mends_of(other.offers(nearest), other))
    if chosen is not None:
        if chosen > len(fits):
            raise BadInput(f"--apply is {chosen}; ways are 1 to {len(fits)}")
        try:
            say(fitting.make(fits[chosen - 1]))
        except NoFittingFrame:
            made = OtherFits(fitting, fits)
            nothing = f"no frame that can be worked was found for way {chosen}"
            raise CommandEnd(NOTHING_FOUND, nothing + mends_of(made.offers(chosen), made)) from None
        return DONE
    for line in table(fitting, fits):
        say(line)
    note("pins, thread and hours are reckoned from the piece as it is; `materials` counts those of a piece once made")
    return DONE
