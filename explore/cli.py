"""The command line: turns what the rooms behind it say into lines and exit codes.

Exit codes: 0 done, 1 a check failed, 2 bad input or usage, 3 proven impossible, 4 nothing found in the
effort given (and 130 if Ctrl-C ends anything but a search). What takes long to load is loaded by the
command that needs it, so that help and version are there at once.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from explore import asking
from explore.asking.kinds import Kind, Whole
from explore.asking.names import Choice
from explore.options import takes_a_brief
from explore.refused import Refused
from explore.terminal import note, progress, say

if TYPE_CHECKING:
    from explore.keeping.session import Session
    from explore.keeping.wish import Wish

LOOK, PAPER = Choice(("drawing", "lace")), Choice(("a4", "a3", "screen"))
DONE, CHECK_FAILED, BAD_INPUT, IMPOSSIBLE, NOTHING_FOUND = range(5)

app = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)


class Refusal(Exception):
    """The end of a command: an exit code and one line for her."""

    def __init__(self, status: int, message: str) -> None:
        super().__init__(message)
        self.status = status


def main() -> None:
    """The entry point of `stampwork`."""
    sys.exit(run(sys.argv[1:]))


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code: the only place where errors become lines."""
    command = typer.main.get_command(app)
    try:
        return int(
            command.main(list(arguments) or ["--help"], prog_name="stampwork", standalone_mode=False) or DONE
        )
    except Refusal as refusal:
        status, message = refusal.status, str(refusal)
    except Refused as error:
        status, message = BAD_INPUT, str(error)
    except typer.TyperException as error:
        status, message = BAD_INPUT, f"{error.format_message()} (see stampwork --help)"
    except OSError as error:
        status, message = BAD_INPUT, f"{error.filename or 'a file'}: {error.strerror or error}"
    say(f"stampwork: {message}", error=True)
    return status


def _tell_version(wanted: bool) -> None:
    if wanted:
        from importlib import metadata

        say(f"stampwork {metadata.version('stampwork')}")
        raise typer.Exit


@app.callback()
def _everything(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_tell_version, is_eager=True, help="Tell the version and stop."),
    ] = False,
) -> None:
    """From the print of a carved stamp to squares of Torchon lace that can be worked.

    \b
    Example:
      stampwork explore tulip --pairs 30
    """


@app.command("explore")
@takes_a_brief
def explore_stamp(
    stamp: Annotated[
        str | None,
        typer.Argument(metavar="STAMP", help=f"{asking.NAMED['stamp'].meaning} Default: {asking.BUILT_IN}."),
    ] = None,
    brief: Annotated[Path | None, typer.Option(help="A TOML file with keys as below; options win.")] = None,
    no_stamp: Annotated[bool, typer.Option("--no-stamp", help="Patterns from the rules alone.")] = False,
    turn: Annotated[
        float | None,
        typer.Option(help="Degrees clockwise to set the print upright, instead of the tilt found."),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(help="The study folder. Default: called after the stamp, such as tulip-study."),
    ] = None,
    more: Annotated[
        str | None, typer.Option(metavar="VALUE", help="Add so many squares to a study, by its own brief.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the study that is there.")] = False,
    look: Annotated[
        str, typer.Option(metavar="VALUE", help=f"The sheet's look: {LOOK.allowed}.")
    ] = "drawing",
    paper: Annotated[str, typer.Option(metavar="VALUE", help=f"Size of the sheet: {PAPER.allowed}.")] = "a4",
    cores: Annotated[
        str | None,
        typer.Option(metavar="VALUE", help="How many cores work; the squares are the same on any number."),
    ] = None,
    **flags: str | None,
) -> int:
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
    from explore.keeping import session, wish
    from explore.search import Impossible

    given = {name: text for name, text in flags.items() if text is not None}
    wanted, workers = _read("--more", more, Whole(1, 1000)), _read("--cores", cores, Whole(1, 1024))
    _read("--look", look, LOOK), _read("--paper", paper, PAPER)
    others = {"--brief": brief, "--no-stamp": no_stamp, "--turn": turn, "--force": force}
    try:
        if wanted is None:
            wished = wish.new(stamp, brief, no_stamp, turn, out, force, given)
        else:
            set_apart = [flag for flag, value in others.items() if value is not None and value is not False]
            set_apart += [asking.NAMED[name].flag for name in given]
            wished = wish.continued(stamp, out, wanted, set_apart)
        for line in wished.notes:
            note(line)
        with progress(wished.count) as (watch, laying):
            done = session.run(wished, workers, watch, laying)
    except Impossible as error:
        raise Refusal(IMPOSSIBLE, str(error)) from None
    _finish(wished, done, look, paper)
    return DONE


@app.command("stamp")
@takes_a_brief
def fall_of_stamp(
    stamp: Annotated[
        str | None,
        typer.Argument(metavar="STAMP", help=f"{asking.NAMED['stamp'].meaning} Default: {asking.BUILT_IN}."),
    ] = None,
    turn: Annotated[
        float | None,
        typer.Option(help="Degrees clockwise to set the print upright, instead of the tilt found."),
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder of the sheet. Default: called after the stamp, such as tulip-stamp.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the sheet that is there.")] = False,
    cores: Annotated[str | None, typer.Option(metavar="VALUE", help="How many cores work.")] = None,
    **flags: str | None,
) -> int:
    """See how a stamp falls on the grid.

    Blocks the stamp alone at each sensible size and turn, and suggests the smallest size that keeps its
    character.

    \b
    Example:
      stampwork stamp beetle.jpg

    Writes a sheet of all of them (grid.png, grid.svg, grid.pdf). Match: how much of the print the blocks
    show. Detail: how much of its thin limbs and narrow gaps.
    """
    from explore.keeping import wish
    from explore.keeping.listing import falls_table
    from explore.keeping.sheets import refuse_falls, write_falls
    from explore.laying.falls import EFFORT, falls, suggested

    given = {name: text for name, text in flags.items() if text is not None}
    workers = _read("--cores", cores, Whole(1, 1024))
    asked = asking.read(None, given if stamp is None else {**given, "stamp": stamp})
    shape, _ = wish.stamp_asked_for(asked, None, turn)
    if shape is None:
        raise Refusal(BAD_INPUT, "STAMP is empty; give a picture of a print or a built-in stamp")
    folder = out or Path(f"{wish.default_folder(asked.brief.stamp).name.removesuffix('-study')}-stamp")
    refuse_falls(folder, force)
    for line in shape.notes:
        note(f"{shape.name}: {line}")
    found = list(falls(shape, asked.brief, workers))
    if not found:
        raise Refusal(NOTHING_FOUND, f"{shape.name}: no blocking found in the effort given; raise --effort")
    choice = suggested(found)
    picture = write_falls(folder, shape, found, choice)
    for line in falls_table(found, choice):
        say(line)
    say(f"each the best found in {EFFORT * asked.brief.effort:g} units of deterministic time; sheet: {picture}")
    return DONE


@app.command()
def check(
    places: Annotated[list[Path], typer.Argument(metavar="STUDY|FILE...", help="Studies or square files.")],
) -> int:
    """Check saved squares anew.

    Can they be worked, and do they keep their brief? The check shares nothing with the search.

    \b
    Example:
      stampwork check tulip-study

    Names the rule and the pinholes where one does not hold, and ends with exit code 1 then.
    """
    from explore.keeping.listing import checked, square_files_in

    all_hold = True
    for label, path in square_files_in(places):
        holds, words = checked(path)
        say(f"{label} {words}")
        all_hold = all_hold and holds
    return DONE if all_hold else CHECK_FAILED


def _read(flag: str, text: str | None, kind: Kind) -> Any:
    """The value of an option that is no key of the brief; None if it was not given."""
    return None if text is None else asking.option(flag, text, kind)


def _finish(wish: Wish, session: Session, look: str, paper: str) -> None:
    """Draw the sheets, list the squares, and say what is missing."""
    from explore.keeping.listing import shortfall, table
    from explore.keeping.sheets import write_sheets

    missing = shortfall(session, wish.count)
    if session.study is None or not session.found:
        raise Refusal(NOTHING_FOUND, missing)
    sheets = write_sheets(session.study, look, paper)
    for line in table(session.study.squares):
        say(line)
    pages = [sheet for sheet in sheets if sheet.suffix == sheets[0].suffix]
    to_last = f" to {pages[-1].name}" if len(pages) > 1 else ""
    say(
        f"{session.found} found with seed {wish.brief.seed}; sheet: {pages[0]}{to_last} (also .pdf and .svg)"
    )
    if missing:
        note(missing)
