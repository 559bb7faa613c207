"""The command line: turns what the rooms behind it say into lines and exit codes.

Exit codes: 0 done, 1 a check failed, 2 bad input or usage, 3 proven impossible, 4 nothing found in the
effort given (and 130 if Ctrl-C ends anything but a search). A command is loaded when it is called, so that
help and version are there at once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Annotated

import typer

from explore.bad_input import BadInput
from explore.ending import next_command
from explore.exits import BAD_INPUT, DONE, CommandEnd, Outcome
from explore.menu import Menu
from explore.terminal import going_on, note_boxes, one_command, say
from gallery.paper.letters import missed_letters

app = typer.Typer(
    cls=Menu,
    context_settings={"help_option_names": ["-h", "--help"]},
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def run(arguments: Sequence[str], called: Callable[[], str] = lambda: "stampwork") -> int:
    """Run one command and return its exit code: the only place where errors become lines.

    called: how the program was called, quoted; asked where a command is told that goes on from this one.
    """
    message, then = "", ""
    with missed_letters() as letters, one_command():
        try:
            outcome = _run(arguments)
            status = outcome.status
            then = next_command(outcome, arguments, called()) if outcome.then else ""
        except CommandEnd as refusal:
            status, message = refusal.status, str(refusal)
        except BadInput as error:
            status, message = BAD_INPUT, str(error)
        except typer.TyperException as error:
            status, message = BAD_INPUT, f"{error.format_message()} (see stampwork --help)"
        except SystemExit as ended:
            # So end the options that install and show completion.
            status = int(ended.code or DONE)
        except OSError as error:
            status, message = BAD_INPUT, f"{error.filename or 'a file'}: {error.strerror or error}"
        note_boxes(letters)
        if then:
            going_on(then)
    if message:
        say(f"stampwork: {message}", error=True)
    return status


def _run(arguments: Sequence[str]) -> Outcome:
    command = typer.main.get_command(app)
    told = command.main(list(arguments) or ["--help"], prog_name="stampwork", standalone_mode=False)
    # Help and version end with a number or nothing.
    return told if isinstance(told, Outcome) else Outcome(int(told or DONE))


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

    After stampwork --install-completion, the tab key completes commands and options.
    """
