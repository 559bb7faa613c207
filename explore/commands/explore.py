"""`stampwork explore`: many different squares for a stamp and a brief."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from explore import asking
from explore.asking.kinds import Whole
from explore.commands.shared import (
    BriefFile,
    Cores,
    Look,
    NoStamp,
    Paper,
    ReplaceStudy,
    StampNames,
    Turn,
    finish_study,
    refused_brief,
)
from explore.ending import opens
from explore.exits import IMPOSSIBLE, NOTHING_FOUND, CommandEnd, Outcome
from explore.options import FIRST, takes_a_brief
from explore.terminal import note_each, progress

if TYPE_CHECKING:
    from constraints.brief import Brief
    from explore.storage.request import StudyRequest


@opens
@takes_a_brief(first=("pairs", "width", "symmetry", "stitches", "count"))
def explore_stamp(
    stamps: StampNames = None,
    brief: BriefFile = None,
    no_stamp: NoStamp = False,
    turn: Turn = None,
    out: Annotated[
        Path | None,
        typer.Option(
            help="The study folder. Default: called after the stamp, such as tulip-study, with a number if taken.",
            rich_help_panel=FIRST,
        ),
    ] = None,
    more: Annotated[
        int | None,
        typer.Option(metavar="VALUE", help="Add so many squares to a study, by its own brief and, if given, --taste."),
        Whole(1, 1000),
    ] = None,
    force: ReplaceStudy = False,
    look: Look = "drawing",
    paper: Paper = "a4",
    cores: Cores = None,
    **flags: str,
) -> Outcome:
    """Find squares of lace that carry a stamp.

    Many different ones, all of which can be worked, on a sheet to pick from.

    \b
    Examples:
      stampwork explore beetle.jpg --pairs 28 --symmetry quarter-turn
      stampwork explore beetle-study --more 12

    Without a stamp and a brief it shows the built-in tulip. The study folder holds the squares, the sheet
    as PNG, PDF and SVG, and the brief with every key written out. Ctrl-C ends the search and keeps what
    was found.
    """
    from explore.search.search import Impossible
    from explore.storage import request, session
    from explore.storage.listing import shortfall

    others = {"--brief": brief, "--no-stamp": no_stamp, "--turn": turn, "--force": force}
    if more is None:
        requested = request.new(stamps or [], brief, no_stamp, turn, out, force, flags)
    else:
        set_apart = [flag for flag, used in others.items() if used is not None and used is not False]
        set_apart += [asking.NAMED[name].flag for name in flags if name != "taste"]
        requested = request.continued(stamps or [], out, more, set_apart, flags.get("taste", ""))
    note_each(requested.notes)
    try:
        with progress(requested.count) as (watch, laying):
            done = session.run(requested, session.searched(requested, cores, laying), watch)
    except Impossible as error:
        raise _refused(IMPOSSIBLE, str(error), requested, error.near, cores, error.code) from None
    if not done.found and not done.stopped:
        raise _refused(NOTHING_FOUND, shortfall(done, requested.count), requested, done.near, cores)
    return finish_study(requested, done, look, paper, cores)


def _refused(
    status: int, why: str, requested: StudyRequest, near: tuple[Brief, ...], cores: int | None, code: str = ""
) -> CommandEnd:
    """With what mends the brief of a new study; a study's own brief stays as it is."""
    from explore.mending.searching import Exploring

    if requested.study is not None:
        return CommandEnd(status, why, code=code)
    door = Exploring(*requested.asked, requested.stamps, cores)
    return refused_brief(status, why, requested.brief, near, door, code)
