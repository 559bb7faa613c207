"""What is said on the terminal: lines on stdout and stderr, and a bar while long work is done."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from explore.search.accepting import JobResult


# So many letters that fonts lack are named.
_LETTERS = 8
# Told what is being done, how much of it is done, and of how much.
Show = Callable[[str, int, int], None]
# Whether all that is said beside the results of a command is left out.
_QUIET = ContextVar("quiet", default=False)
# The command whose results are told to a program in one document, instead of in lines; "" for none.
_IN_ONE = ContextVar("in_one", default="")


@contextmanager
def one_command() -> Iterator[None]:
    """Within it `be_quiet` and `tell_in_one` hold, and no longer."""
    quiet, in_one = _QUIET.set(False), _IN_ONE.set("")
    try:
        yield
    finally:
        _QUIET.reset(quiet)
        _IN_ONE.reset(in_one)


def tell_in_one(command: str) -> None:
    """From now on leave out the lines of results: what came of the command is told in one document."""
    _IN_ONE.set(command)


def told_in_one() -> str:
    """The command whose results are told so; "" for none."""
    return _IN_ONE.get()


def be_quiet() -> None:
    """From now on leave out notes, the next command and what is shown of progress."""
    _QUIET.set(True)


def _shows_progress() -> bool:
    return sys.stderr is not None and sys.stderr.isatty() and not _QUIET.get()


@contextmanager
def bar() -> Iterator[Show]:
    """A bar on the terminal that follows long work; nothing where stderr is no terminal."""
    if not _shows_progress():
        yield lambda words, done, total: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = (BarColumn(), MofNCompleteColumn(), TextColumn("{task.description}"))
    # No refreshing in the background: the work forks, which a second thread would not survive.
    with Progress(*columns, console=Console(stderr=True), transient=True, auto_refresh=False) as shown:
        task = shown.add_task("")

        def show(words: str, done: int, total: int) -> None:
            shown.update(task, description=words, completed=done, total=total, refresh=True)

        yield show


@contextmanager
def progress(wanted: int) -> Iterator[tuple[Callable[[JobResult], None], Callable[[int, int], None]]]:
    """A bar that follows the steps of a search for so many squares."""
    found = 0
    with bar() as show:

        def watch(step: JobResult) -> None:
            nonlocal found
            found += step.design is not None
            show(f"squares, {step.job + 1} jobs", found, wanted)

        def laying(done: int, total: int) -> None:
            show(f"squares; the stamp is laid at {done} of {total} places", found, wanted)

        yield watch, laying


@contextmanager
def status() -> Iterator[Callable[[str], None]]:
    """A line on the terminal that says what is being done; nothing where stderr is no terminal."""
    if not _shows_progress():
        yield lambda words: None
        return
    from rich.console import Console
    from rich.progress import Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}"), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as line:
        task = line.add_task("")
        yield lambda words: line.update(task, description=words, refresh=True)


def note(text: str) -> None:
    """One line beside the result, on stderr."""
    _beside(f"note: {text}")


def note_each(texts: Iterable[str | None]) -> None:
    """A line each beside the result; none for an empty text."""
    for text in filter(None, texts):
        note(text)


def say_each(lines: Iterable[str]) -> None:
    """Each as `say`."""
    for line in lines:
        say(line)


def going_on(command: str) -> None:
    """The last line beside a result: a command that goes on from there."""
    _beside(f"next: {command}")


def _beside(line: str) -> None:
    if not _QUIET.get():
        say(line, error=True)


def note_boxes(letters: set[str]) -> None:
    """Note which letters were drawn as boxes, if any were."""
    if letters:
        named = [f"{letter!r} (U+{ord(letter):04X})" for letter in sorted(letters)]
        more = f" and {len(named) - _LETTERS} more" if len(named) > _LETTERS else ""
        note(f"the fonts of papers and pictures lack {', '.join(named[:_LETTERS])}{more}: boxes stand for them there")


def say(text: str, error: bool = False) -> None:
    """One line on stdout, or stderr: no line break or control sign in it, whatever a file was called."""
    if error or not told_in_one():
        _put("".join(c if c.isprintable() else "?" for c in text), error)


def tell_document(text: str) -> None:
    """The one document on stdout, plain ASCII."""
    _put(text, error=False)


def _put(line: str, error: bool) -> None:
    stream = sys.stderr if error else sys.stdout
    if stream is None:  # closed before the program began: nobody reads
        return
    encoding = stream.encoding or "utf-8"
    try:
        print(line.encode(encoding, "replace").decode(encoding), file=stream, flush=True)
    except OSError as failed:
        # Whoever read has seen enough, or the disk is full: what is still to come goes nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        if not error and not isinstance(failed, BrokenPipeError):
            raise OSError(failed.errno, failed.strerror, "standard output") from None
