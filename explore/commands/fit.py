"""`stampwork fit`: a piece made to fit something you own."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from constraints.catalogue import MOST_GROWTH
from constraints.forms import PURPOSES
from explore.asking.kinds import LENGTH, Number, Whole
from explore.asking.names import Choice
from explore.asking.several import Box
from explore.bad_input import BadInput
from explore.commands.shared import SQUARE_NUMBER, StudyFolder, refused
from explore.editing.fitting import EASE, PITCH
from explore.exits import AGAIN, IMPOSSIBLE, NOTHING_FOUND, CommandEnd, Outcome
from explore.terminal import note, note_each, say, say_each, status

if TYPE_CHECKING:
    from explore.editing.fitting.fits import Fit, Fitting

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
    from explore.editing.fitting.fits import MOST_FITS, fitting_of
    from explore.editing.fitting.telling import table
    from explore.editing.fitting.variants import Allowed, named_edgings

    change = Allowed(() if edging is None else named_edgings(edging, "--edging"), wider or 0)
    fitting = fitting_of(study, number, target, purpose, pitch, change)
    note_each(fitting.chosen.study.notes)
    with status() as told:
        every = fitting.fits(ease, lambda which: told(f"ways to fit it are tried, {which}"))
    fits = [fit for fit in every if fit.sized.error <= ease][:MOST_FITS]
    if not fits:
        raise _nothing_near(fitting, every, ease)
    if apply is not None:
        if apply > len(fits):
            raise BadInput(f"--apply is {apply}; ways are 1 to {len(fits)}")
        return _made(fitting, fits, apply, study)
    ways = table(fitting, fits)
    say_each(ways.lines())
    note("pins, thread and hours are reckoned from the piece as it is; `materials` counts those of a piece once made")
    return Outcome(told={"ways": ways.rows}, then=(AGAIN, "--apply", 1))


def _nothing_near(fitting: Fitting, every: Sequence[Fit], ease: float) -> CommandEnd:
    from explore.editing.fitting.door import OtherwiseFitted
    from explore.editing.fitting.telling import table

    say_each(table(fitting, every[:3]).lines())
    other = OtherwiseFitted(fitting, ease)
    nearest = min((fit.sized.error for fit in every), default=inf)
    return refused(IMPOSSIBLE, f"nothing fits within {ease:g} mm", other.offers(nearest), other)


def _made(fitting: Fitting, fits: Sequence[Fit], way: int, study: Path) -> Outcome:
    from explore.editing.fitting.door import OtherFits
    from explore.editing.fitting.fits import NoFittingFrame

    number = fitting.chosen.study.next_number
    try:
        say(fitting.make(fits[way - 1]))
    except NoFittingFrame:
        door = OtherFits(fitting, fits)
        nothing = f"no frame that can be worked was found for way {way}"
        raise refused(NOTHING_FOUND, nothing, door.offers(way), door) from None
    return Outcome(told={"made": [number]}, then=("show", study, number))
