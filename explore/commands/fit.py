"""`stampwork fit`: a piece made to fit something you own."""

from __future__ import annotations

from math import inf
from typing import Annotated

import typer

from constraints.catalogue import MOST_GROWTH
from constraints.forms import PURPOSES
from explore.asking.kinds import LENGTH, Number, Whole
from explore.asking.names import Choice
from explore.asking.several import Box
from explore.bad_input import BadInput
from explore.commands.shared import SQUARE_NUMBER, StudyFolder, refused
from explore.editing.fitting import EASE, PITCH
from explore.exits import AGAIN, IMPOSSIBLE, NOTHING_FOUND, Outcome
from explore.terminal import note, say, status

_FOR = Box(Number(0.0, 10.0**6, "width and height, such as 290x410mm", LENGTH, "mm"))
_AS = Choice(PURPOSES)


def fit_object(
    study: StudyFolder,
    number: Annotated[int, typer.Argument(metavar="NUMBER", help="A piece of the study."), SQUARE_NUMBER],
    target: Annotated[
        tuple[float, float],
        typer.Option("--for", metavar="SIZE", help="What it is for: its width and height, such as 290x410mm."),
        _FOR,
    ],
    purpose: Annotated[
        str | None,
        typer.Option("--as", metavar="VALUE", help=f"What it becomes: {_AS.allowed}. Default: as it is."),
        _AS,
    ] = None,
    ease: Annotated[float, typer.Option(metavar="VALUE", help=f"How far off it may be: {EASE.allowed}."), EASE] = 5.0,
    pitch: Annotated[
        tuple[float, float] | None,
        typer.Option(metavar="VALUE", help=f"Pitch: {PITCH.allowed}. Default: as it is."),
        PITCH,
    ] = None,
    edging: Annotated[
        str | None, typer.Option(metavar="EDGING", help="Try this edging too, or any. Default: its own.")
    ] = None,
    wider: Annotated[
        int | None,
        typer.Option(
            metavar="VALUE", help=f"Units or columns by which it may be wider, 0 to {MOST_GROWTH}. Default: 0."
        ),
        Whole(0, MOST_GROWTH),
    ] = None,
    apply: Annotated[
        int | None,
        typer.Option(metavar="VALUE", help="Make this way, as a new number of the study."),
        Whole(1, 999),
    ] = None,
) -> Outcome:
    """Make a piece fit.

    Corners, turnovers, repeats and pitches are tried together, and if you say so other edgings and a wider band;
    what comes nearest is first. A strip and a frame lie on the object, an edging goes round it: then its inner edge
    must fit.

    \b
    Examples:
      stampwork fit edgings 3 --for 290x410mm --as frame --pitch 4-6mm
      stampwork fit edgings 3 --for 45x180mm --edging any --wider 2
    """
    from explore.editing.fitting.door import OtherFits, OtherwiseFitted
    from explore.editing.fitting.fits import MOST_FITS, NoFittingFrame, fitting_of
    from explore.editing.fitting.telling import table
    from explore.editing.fitting.variants import Allowed, named_edgings

    change = Allowed(() if edging is None else named_edgings(edging, "--edging"), wider or 0)
    fitting = fitting_of(study, number, target, purpose, pitch, change)
    for line in fitting.chosen.study.notes:
        note(line)
    with status() as told:
        every = fitting.fits(ease, lambda which: told(f"ways to fit it are tried, {which}"))
    fits = [fit for fit in every if fit.sized.error <= ease][:MOST_FITS]
    if not fits:
        for line in table(fitting, every[:3]).lines():
            say(line)
        other = OtherwiseFitted(fitting, ease)
        nearest = min((fit.sized.error for fit in every), default=inf)
        raise refused(IMPOSSIBLE, f"nothing fits within {ease:g} mm", other.offers(nearest), other)
    if apply is not None:
        if apply > len(fits):
            raise BadInput(f"--apply is {apply}; ways are 1 to {len(fits)}")
        try:
            number_made = fitting.chosen.study.next_number
            say(fitting.make(fits[apply - 1]))
        except NoFittingFrame:
            made = OtherFits(fitting, fits)
            nothing = f"no frame that can be worked was found for way {apply}"
            raise refused(NOTHING_FOUND, nothing, made.offers(apply), made) from None
        return Outcome(told={"made": [number_made]}, then=("pricking", study, number_made))
    ways = table(fitting, fits)
    for line in ways.lines():
        say(line)
    note("pins, thread and hours are reckoned from the piece as it is; `materials` counts those of a piece once made")
    return Outcome(told={"ways": ways.rows}, then=(AGAIN, "--apply", 1))
