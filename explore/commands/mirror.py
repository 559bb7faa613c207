"""`stampwork mirror`: the corners and turnovers of a strip."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from explore.commands.shared import Cores, ReplaceFiles, StripNumber, StudyFolder
from explore.ending import opens
from explore.exits import NOTHING_FOUND, CommandEnd, Outcome
from explore.terminal import bar, note_each, say, say_each


@opens
def mirror_strip(
    study: StudyFolder,
    number: StripNumber,
    out: Annotated[Path | None, typer.Option(help="The sheet's PNG. Default: mirror-NN.png in the study.")] = None,
    force: ReplaceFiles = False,
    cores: Cores = None,
) -> Outcome:
    """Slide a mirror along a strip.

    For every place where the strip, reflected at 45 degrees, gives a corner that can be worked, and every row where it
    can be turned over: how few pinholes must change. `frame` makes a frame with the ones you like.

    \b
    Example:
      stampwork mirror edgings 3
    """
    from explore.editing.mirroring.telling import listed, write_sheet

    listing = listed(study, number, out, force, cores)
    with bar() as show:
        done = listing.run(partial(show, "the mirror slides along"))
    if not done.offers.corners:
        raise CommandEnd(NOTHING_FOUND, "no place along this strip gives a corner that can be worked")
    say_each(done.lines())
    note_each(done.notes())
    sheet = write_sheet(done)
    say(f"sheet: {sheet} (also .pdf)")
    turned = (corner for corner, each in enumerate(done.offers.corners, 1) if done.offers.turnovers(each.corner))
    corner = next(turned, 0)
    then = ("frame", study, number, "--corner", corner) if corner else ()
    return Outcome(to_see=[sheet], told={name: each.rows for name, each in done.tables().items()}, then=then)
