"""`stampwork pick`: the squares you choose, marked in their study."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore.commands.shared import SQUARE_NUMBER, Look, Paper, typed
from explore.ending import opens
from explore.exits import Outcome
from explore.terminal import note_each, say, say_each


@opens
def pick(
    study: Annotated[Path, typer.Argument(metavar="STUDY", help="The study to pick from.")],
    numbers: Annotated[
        list[int] | None,
        typer.Argument(metavar="NUMBER...", help="Squares to pick; none lists the picks."),
        SQUARE_NUMBER,
    ] = None,
    source: Annotated[
        Path | None,
        typer.Option(
            "--from",
            metavar="FILE",
            help="Picks and notes saved on the page: a file, or downloads for the newest of "
            "the study in your downloads folder.",
        ),
    ] = None,
    drop: Annotated[
        list[int] | None,
        typer.Option(metavar="NUMBER", help="A square picked no longer; may be given again."),
        SQUARE_NUMBER,
    ] = None,
    words: Annotated[
        str | None, typer.Option("--note", metavar="TEXT", help="A note on the squares given; an empty one goes.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="The folder of the sheet picks.png and .pdf. Default: the study.")
    ] = None,
    force: Annotated[
        bool, typer.Option("--force", help="Take picks of another study; replace a sheet that is there.")
    ] = False,
    look: Look = "drawing",
    paper: Paper = "a4",
) -> Outcome:
    """Mark the squares you choose.

    They are kept in picks.json in the study, with your notes, and drawn on a sheet of their own.

    \b
    Examples:
      stampwork pick garden-society 3 7 12
      stampwork pick garden-society --from downloads
      stampwork pick garden-society 7 --note "for the door"

    Picks are added to those there are; --drop takes one out, its note stays. A note gives way only to
    another one, and then it is told.
    """
    from explore.storage import picking
    from explore.storage.downloads import DOWNLOADS, downloads_folder, saved_last
    from explore.storage.picks import write_picks
    from explore.storage.study import open_study

    opened = open_study(study)
    note_each(opened.notes)
    if source is not None and str(source) == DOWNLOADS:
        saved = saved_last(opened, downloads_folder())
        source = saved.path
        note_each(saved.notes)
    asked = picking.PickRequest(tuple(numbers or ()), tuple(drop or ()), typed("--note", words), source, force)
    before, after = picking.picked(opened, study, asked)
    sheets = picking.Sheets(out or study, look, paper)
    changed = asked.changes or out is not None
    if changed:
        picking.refuse_sheets(sheets, opened, force)
        note_each(picking.notes(before, after, asked, opened))
        write_picks(opened.folder, after)
    picks = picking.table(opened, after)
    say_each(picks.lines())
    written = picking.draw(opened, after, sheets) if changed else []
    say(picking.told(before, after, written))
    unpacked = picking.unpacked(opened, after)
    then = ("pack", study, unpacked[0]) if unpacked else ("page", study, "--open")
    return Outcome(to_see=written[:1], told={"picks": picks.rows}, then=then)
