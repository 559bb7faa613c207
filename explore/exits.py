"""How a command can end: the exit codes, what came of one that did its work, and the refusal of one that did not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

# Done; a check failed; bad input or usage; proven impossible; nothing found in the effort given.
DONE, CHECK_FAILED, BAD_INPUT, IMPOSSIBLE, NOTHING_FOUND = range(5)


# In the place of a word of a next command: all the words of this one.
AGAIN = object()


@dataclass(frozen=True)
class Outcome:
    """The end of a command that did its work. to_see: files that show it. then: the words, after the program's, of one
    command that goes on from there, or none; a `Path` is a word as it was given."""

    status: int = DONE
    to_see: Sequence[Path] = ()
    then: Sequence[object] = ()


Command = Callable[..., Outcome]


class CommandEnd(Exception):
    """The end of a command: an exit code and one line for whoever called it."""

    def __init__(self, status: int, message: str) -> None:
        super().__init__(message)
        self.status = status
