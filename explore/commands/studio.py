"""`stampwork studio`: from a print to the papers in a browser."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore.asking.kinds import Whole
from explore.commands.shared import Cores
from explore.ending import tell_studio
from explore.exits import Outcome


def studio(
    what: Annotated[
        Path | None,
        typer.Argument(
            metavar="WHAT", help="A print, a study, or a folder with some of them. Default: the folder you are in."
        ),
    ] = None,
    folder: Annotated[
        Path | None,
        typer.Option(help="Where your studies lie and new ones go; nothing outside it is touched. Default: as above."),
    ] = None,
    port: Annotated[
        int,
        typer.Option(metavar="VALUE", help="The port of this machine to answer at; 0 for a free one."),
        Whole(0, 65535),
    ] = 0,
    no_open: Annotated[bool, typer.Option("--no-open", help="Tell the address alone; open no browser.")] = False,
    cores: Cores = None,
) -> Outcome:
    """Work at a table in your browser.

    Drop a print, find squares, keep some, take their papers to the pillow.

    \b
    Examples:
      stampwork studio
      stampwork studio beetle.jpg --folder garden

    It runs on your machine alone, without a network, and works on the same study folders as all commands. Ctrl-C
    ends it; what you kept is kept.
    """
    from explore.studio.opening import opened, work

    asked = opened(what, folder)
    address = work(asked, port, cores, not no_open, tell_studio)
    return Outcome(told={"address": address, "folder": asked.folder})
