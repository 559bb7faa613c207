"""What several commands share: options, and the end of a run that fills a study."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from explore import asking
from explore.asking.kinds import Kind
from explore.asking.names import Choice
from explore.endings import NOTHING_FOUND, Refusal
from explore.terminal import note, say

if TYPE_CHECKING:
    from explore.keeping.session import Session
    from explore.keeping.wish import Wish

LOOK, PAPER = Choice(("drawing", "lace")), Choice(("a4", "a3", "screen"))

Cores = Annotated[
    str | None,
    typer.Option(metavar="VALUE", help="How many cores work; what is found is the same on any number."),
]
Look = Annotated[str, typer.Option(metavar="VALUE", help=f"The sheet's look: {LOOK.allowed}.")]
Paper = Annotated[str, typer.Option(metavar="VALUE", help=f"Size of the sheet: {PAPER.allowed}.")]
StampName = Annotated[
    str | None,
    typer.Argument(metavar="STAMP", help=f"{asking.NAMED['stamp'].meaning} Default: {asking.BUILT_IN}."),
]
# What the papers for the pillow have in common.
StudyFolder = Annotated[Path, typer.Argument(metavar="STUDY", help="The study folder.")]
SquareNumbers = Annotated[list[str], typer.Argument(metavar="NUMBER...", help="Squares of the study.")]
PapersFolder = Annotated[Path | None, typer.Option(help="Folder of the files. Default: papers in the study.")]
ReplaceFiles = Annotated[bool, typer.Option("--force", help="Replace files that are there.")]
Turn = Annotated[
    float | None, typer.Option(help="Degrees clockwise to set the print upright, instead of the tilt found.")
]


def value(flag: str, text: str | None, kind: Kind) -> Any:
    """The value of an option that is no key of the brief; None if it was not given. Raises Refused."""
    return None if text is None else asking.option(flag, text, kind)


def finish_study(wish: Wish, session: Session, look: str, paper: str, cores: int | None = None) -> None:
    """Draw the sheets, list the squares, and say what is missing. Raises Refusal if nothing was found."""
    from explore.keeping.listing import shortfall, small_print, table
    from explore.keeping.sheets import write_sheets

    missing = shortfall(session, wish.count)
    if session.study is None or not session.found:
        raise Refusal(NOTHING_FOUND, missing)
    sheets = write_sheets(session.study, look, paper, cores)
    for line in table(session.study.squares):
        say(line)
    pages = [sheet for sheet in sheets if sheet.suffix == sheets[0].suffix]
    to_last = f" to {pages[-1].name}" if len(pages) > 1 else ""
    say(f"{session.found} found with seed {wish.brief.seed}; sheet: {pages[0]}{to_last} (also .pdf and .svg)")
    begun = () if wish.study else session.study.notes
    for line in (*begun, small_print(session.study.squares), missing):
        if line:
            note(line)
