"""What every command has besides its own: -q, --json, of those that draw --open, and the command that goes on."""

from __future__ import annotations

import inspect
import shlex
import sys
import webbrowser
from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import wraps
from pathlib import Path
from typing import Annotated, Any

import typer

from explore.exits import AGAIN, Command, Outcome
from explore.terminal import be_quiet, note, say, tell_in_one, told_in_one

# Options that are not given again: what they asked for is done, or was for what is there now.
_FLAGS_DONE, _VALUES_DONE = {"--open", "--force", "--json"}, {"--out"}


def opens(command: Command) -> Command:
    """Give a command the option --open, which shows what it has written."""

    def opening(**given: Any) -> Outcome:
        wanted = given.pop("open_it")
        outcome = command(**given)
        if wanted and outcome.study is not None:
            _open_studio(outcome.study)
            return replace(outcome, then=("studio", outcome.study))
        for path in outcome.to_see if wanted else ():
            if not webbrowser.open(path.resolve().as_uri()):
                note(f"nothing was found here that opens {path}")
        return outcome

    shown = typer.Option("--open", help="Open it: a study in the studio, else the file in what shows such files.")
    return with_parameters(opening, command, [*_parameters(command), _flag("open_it", shown)])


def _open_studio(study: Path) -> None:
    """The studio at a study until Ctrl-C, where she sees its address and a browser can be opened; else nothing waits
    for her."""
    if told_in_one() or sys.stdout is None or not sys.stdout.isatty():
        return
    from explore.studio.browser import browser

    if browser() is None:
        note("no browser with a window can be opened here")
        return
    from explore.studio.opening import opened, work

    work(opened(study, None), 0, None, True, tell_studio)


def tell_studio(address: str) -> None:
    """The one line of the studio."""
    say(f"studio: {address} (Ctrl-C ends it)", error=bool(told_in_one()))


def can_be_quiet(command: Command) -> Command:
    """Give a command the option -q, which leaves out all that is said beside its results."""

    def quietly(**given: Any) -> Outcome:
        if given.pop("quiet"):
            be_quiet()
        return command(**given)

    quiet = typer.Option("--quiet", "-q", help="Say results and refusals alone: no progress, no notes.")
    return with_parameters(quietly, command, [*_parameters(command), _flag("quiet", quiet)])


def can_tell_in_one(command: Command, name: str) -> Command:
    """Give a command of that name the option --json, which tells what came of it in one document."""

    def telling(**given: Any) -> Outcome:
        if given.pop("as_json"):
            tell_in_one(name)
        return command(**given)

    as_json = typer.Option("--json", help="Tell what came of it as one JSON document, for a program.")
    return with_parameters(telling, command, [*_parameters(command), _flag("as_json", as_json)])


def with_parameters(called: Command, command: Command, parameters: Iterable[inspect.Parameter]) -> Command:
    """A function in the place of a command, with its name and its help and these parameters, all given by name."""
    changed: Any = wraps(command)(called)
    named = [each.replace(kind=inspect.Parameter.KEYWORD_ONLY) for each in parameters]
    changed.__signature__ = inspect.signature(command).replace(parameters=named)
    return called


def _parameters(command: Command) -> Iterable[inspect.Parameter]:
    return inspect.signature(command, eval_str=True).parameters.values()


def _flag(name: str, option: Any) -> inspect.Parameter:
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=False, annotation=Annotated[bool, option])


def next_command(outcome: Outcome, arguments: Sequence[str], called: str) -> str:
    """The command that goes on from an outcome, quoted for a shell; "" if there is none that could be typed.

    arguments: those that led to the outcome. called: how the program was called, quoted.
    """
    words = next_words(outcome, arguments)
    line = f"{called} {shlex.join(words)}"
    return line if words and line.isprintable() else ""


def next_words(outcome: Outcome, arguments: Sequence[str]) -> list[str]:
    """The words of the command that goes on from an outcome, the program's name left out; none if there is none."""
    words: list[str] = []
    for each in outcome.then:
        words += _again(arguments) if each is AGAIN else [_word(each)]
    return words


def _again(arguments: Sequence[str]) -> list[str]:
    kept, left = [], iter(arguments)
    for word in left:
        flag = word.partition("=")[0]
        if flag in _VALUES_DONE:
            if flag == word:
                next(left, None)
        elif flag not in _FLAGS_DONE:
            kept.append(word)
    return kept


def _word(word: object) -> str:
    # A file or folder that is called like an option.
    return f"./{word}" if isinstance(word, Path) and str(word).startswith("-") else str(word)
