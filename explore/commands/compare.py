"""`stampwork compare`: two squares side by side, their differences coloured."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore.commands.shared import SQUARE_NUMBER, Look, Paper
from explore.ending import opens
from explore.exits import Outcome
from explore.terminal import note_each, say, say_each


@opens
def compare(
    study: Annotated[Path, typer.Argument(metavar="STUDY", help="The study folder.")],
    first: Annotated[int, typer.Argument(metavar="NUMBER", help="A square of the study."), SQUARE_NUMBER],
    second: Annotated[int, typer.Argument(metavar="NUMBER", help="The square to compare it with."), SQUARE_NUMBER],
    other: Annotated[
        Path | None, typer.Option("--with", metavar="STUDY", help="Take the second square from this study.")
    ] = None,
    out: Annotated[Path | None, typer.Option(help="Folder of the page. Default: the study.")] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the page that is there.")] = False,
    look: Look = "drawing",
    paper: Paper = "a4",
) -> Outcome:
    """See two squares side by side, and where they differ.

    The second is turned or reflected to lie closest to the first. A panel shows pinhole for pinhole which
    blocks only one of them has, and where stitches or fillings differ.

    \b
    Examples:
      stampwork compare garden-society 3 7
      stampwork compare garden-society 3 2 --with greenhouse

    Writes compare-03-07.png, .svg and .pdf into the study.
    """
    from explore.editing.comparing.page import page_files, write_page
    from explore.editing.comparing.pair import pair_of
    from explore.editing.comparing.telling import report, told

    pair = pair_of(study, first, second, other)
    files = page_files(pair, out, force)
    note_each(dict.fromkeys((*pair.studies[0].notes, *pair.studies[1].notes)))
    write_page(pair, files, look, paper)
    say_each(report(pair))
    say(f"page: {files[0]} (also .svg and .pdf)")
    then = ("pick", study, first, *(() if other else (second,)))
    return Outcome(to_see=files[:1], told=told(pair), then=then)
