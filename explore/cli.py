"""The command line: turns what the rooms behind it say into lines and exit codes.

Exit codes: 0 done, 1 a check failed, 2 bad input or usage, 3 proven impossible, 4 nothing found in the
effort given, 130 stopped by Ctrl-C with nothing kept. A command is loaded when it is called, so that
help and version are there at once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import Annotated

import typer

from explore.bad_input import BadInput, WayOut
from explore.ending import next_command, next_words
from explore.exits import BAD_INPUT, DONE, STOPPED, CommandEnd, Outcome
from explore.files import in_quotes, unquoted
from explore.menu import COMMANDS, Menu
from explore.terminal import going_on, note_boxes, one_command, say, tell_document, told_in_one
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
    refusal: CommandEnd | None = None
    outcome = Outcome()
    with missed_letters() as letters, one_command():
        try:
            outcome = _run(arguments)
            if command := told_in_one():
                tell_document(_document(command, outcome, arguments))
        except typer.TyperException as error:
            refusal = _misused(error, arguments)
        except SystemExit as ended:
            # So end the options that install and show completion.
            outcome = Outcome(int(ended.code or DONE))
        except (CommandEnd, BadInput, OSError) as error:
            refusal = _refusal(error)
        except KeyboardInterrupt:
            # A search that keeps what it found has caught it before.
            refusal = CommandEnd(STOPPED, _STOPPED)
        if refusal is not None:
            _tell_refusal(refusal, arguments)
        then = next_command(outcome, arguments, called()) if outcome.then else ""
        note_boxes(letters)
        if then:
            going_on(then)
    if refusal is None:
        return outcome.status
    say(f"stampwork: {refusal}", error=True)
    return refusal.status


def _misused(error: typer.TyperException, arguments: Sequence[str]) -> CommandEnd:
    """The end of a command that was called otherwise than its help says; of a name without its quotes, what it is."""
    if whole := unquoted(arguments):
        return CommandEnd(BAD_INPUT, in_quotes(whole), code="usage")
    message, context = error.format_message(), getattr(error, "ctx", None)
    asked = context.command_path if context is not None else "stampwork"
    return CommandEnd(BAD_INPUT, f"{message} (see {asked} --help)", code="usage")


def _refusal(error: Exception) -> CommandEnd:
    """The end of a command that an error is."""
    match error:
        case CommandEnd():
            return error
        case OSError():
            message = f"{error.filename or 'a file'}: {error.strerror or error}"
            return CommandEnd(BAD_INPUT, message, code="file", about={"path": error.filename})
        case BadInput():
            about = {**error.values, "ways_out": [way.value for way in error.ways_out]}
            option = "--" if error.of else ""
            return CommandEnd(BAD_INPUT, f"{option}{error}{_ways_out(error)}", code=error.code, about=about)
    raise error


_STOPPED = "stopped; nothing is kept but what was written by then, and the same command begins anew"

# How a command does what lets it be taken.
_WAYS = {
    WayOut.ADD_SQUARES: "--more 12 adds squares to it",
    WayOut.REPLACE: "--force replaces it",
    WayOut.ELSEWHERE: "--out names another {}",
    WayOut.ALL_THE_SAME: "--force takes them all the same",
    WayOut.NAME_FILE: "--from FILE names the file that was saved",
}


def _ways_out(error: BadInput) -> str:
    """The end of a sentence that tells the options which let it be taken; "" if there are none."""
    words = ", ".join(_WAYS[way].format(error.values.get("named", "folder")) for way in error.ways_out)
    return f"{': ' if WayOut.REPLACE in error.ways_out else '; ' if words else ''}{words}"


def _document(command: str, outcome: Outcome, arguments: Sequence[str]) -> str:
    from explore import document

    return document.of_outcome(command, outcome, next_words(outcome, arguments))


def _tell_refusal(refusal: CommandEnd, arguments: Sequence[str]) -> None:
    """Tell it in a document, where that is asked for; the option may not have been read yet."""
    if not told_in_one() and "--json" not in arguments:
        return
    from explore import document

    command = told_in_one() or next((word for word in arguments if word in COMMANDS), "")
    # If stdout cannot be written to, the line on stderr says so.
    with suppress(OSError):
        tell_document(document.of_refusal(command, refusal))


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
