"""`stampwork page`: a study as a page to browse."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore.commands.shared import LOOK, Cores
from explore.ending import opens
from explore.exits import BAD_INPUT, CommandEnd, Outcome
from explore.terminal import bar, note_each, say


@opens
def page(
    study: Annotated[Path, typer.Argument(metavar="STUDY", help="The study to browse.")],
    out: Annotated[Path | None, typer.Option(help="The file to write. Default: page.html in the study.")] = None,
    force: Annotated[
        bool, typer.Option("--force", help="Replace a file that is no earlier page of this program.")
    ] = False,
    look: Annotated[
        str, typer.Option(metavar="VALUE", help=f"The look that the page opens in: {LOOK.allowed}."), LOOK
    ] = "drawing",
    cores: Cores = None,
) -> Outcome:
    """Write a page to browse a study.

    One file for the browser, without a network: look, sort, filter, enlarge, compare, tick, note, print.

    \b
    Example:
      stampwork page garden-society

    Ticks and notes stay in your browser; "Save picks.json" on the page writes them to a file that
    stampwork pick reads. An earlier page of the study is replaced.
    """
    from explore.program import called_from_anywhere, pasted
    from explore.storage import browsing
    from explore.storage.leavings import PAGE
    from explore.storage.study import open_study

    opened = open_study(study)
    note_each(opened.notes)
    if not opened.designs:
        mend = "" if opened.made_by else "; --more 12 of stampwork explore adds some"
        raise CommandEnd(BAD_INPUT, f"{study} holds no squares to show{mend}")
    path = out or study / PAGE
    browsing.refuse_page(path, force)
    named = called_from_anywhere(), pasted([str(study.absolute())])
    with bar() as show:
        size = browsing.write_page(
            opened, named, path, look, cores, lambda done, total: show("squares drawn", done, total)
        )
    designs = f"{len(opened.designs)} square{'' if len(opened.designs) == 1 else 's'}"
    say(f"page: {path} ({designs}, {size / 1e6:.1f} MB); open it in a browser")
    told = {"page": path, "squares": [design.number for design in opened.designs]}
    return Outcome(to_see=[path], told=told, then=("pick", study, opened.designs[0].number))
