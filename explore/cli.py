"""The command line: turns what the rooms behind it say into lines and exit codes.

Exit codes: 0 done, 1 a check failed, 2 bad input or usage, 3 proven impossible, 4 nothing found in the
effort given (and 130 if Ctrl-C ends anything but a search). What takes long to load is loaded by the
command that needs it, so that help and version are there at once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Annotated

import typer

from explore.bad_input import BadInput
from explore.commands.budget import budget
from explore.commands.check import check
from explore.commands.compare import compare
from explore.commands.count import count
from explore.commands.diagram import diagram
from explore.commands.edgings import other_edgings
from explore.commands.explore import explore_stamp
from explore.commands.fit import fit_object
from explore.commands.frame import frame_strip
from explore.commands.materials import what_it_takes
from explore.commands.mirror import mirror_strip
from explore.commands.pack import booklet
from explore.commands.page import page
from explore.commands.pick import pick
from explore.commands.pricking import pricking
from explore.commands.redraft import redraft
from explore.commands.series import series
from explore.commands.show import show_large
from explore.commands.stamp import fall_of_stamp
from explore.commands.vary import vary
from explore.commands.work import order_of_work
from explore.exits import BAD_INPUT, DONE, CommandEnd
from explore.options import takes_values
from explore.terminal import note_boxes, say
from gallery.paper.letters import missed_letters

# In the order of the help: the order in which she needs them.
COMMANDS: dict[str, Callable[..., int]] = {
    "stamp": fall_of_stamp,
    "budget": budget,
    "explore": explore_stamp,
    "page": page,
    "pick": pick,
    "vary": vary,
    "series": series,
    "compare": compare,
    "count": count,
    "pricking": pricking,
    "diagram": diagram,
    "work": order_of_work,
    "materials": what_it_takes,
    "show": show_large,
    "pack": booklet,
    "edgings": other_edgings,
    "mirror": mirror_strip,
    "frame": frame_strip,
    "fit": fit_object,
    "redraft": redraft,
    "check": check,
}

app = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code: the only place where errors become lines."""
    command = typer.main.get_command(app)
    message = ""
    with missed_letters() as letters:
        try:
            told = command.main(list(arguments) or ["--help"], prog_name="stampwork", standalone_mode=False)
            status = int(told or DONE)
        except CommandEnd as refusal:
            status, message = refusal.status, str(refusal)
        except BadInput as error:
            status, message = BAD_INPUT, str(error)
        except typer.TyperException as error:
            status, message = BAD_INPUT, f"{error.format_message()} (see stampwork --help)"
        except OSError as error:
            status, message = BAD_INPUT, f"{error.filename or 'a file'}: {error.strerror or error}"
    note_boxes(letters)
    if message:
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


for _name, _command in COMMANDS.items():
    app.command(_name)(takes_values(_command))
