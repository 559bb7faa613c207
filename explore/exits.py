"""How a command can end: the exit codes, what came of one that did its work, and the refusal of one that did not."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

# Done; a check failed; bad input or usage; proven impossible; nothing found in the effort given.
DONE, CHECK_FAILED, BAD_INPUT, IMPOSSIBLE, NOTHING_FOUND = range(5)


# Stopped by Ctrl-C where nothing is kept: as shells have it, 128 and the number of the signal.
STOPPED = 130

# What programs are told for those that are refusals.
_CODES = {BAD_INPUT: "bad-input", IMPOSSIBLE: "impossible", NOTHING_FOUND: "nothing-found", STOPPED: "stopped"}

# In the place of a word of a next command: all the words of this one.
AGAIN = object()


@dataclass(frozen=True)
class Outcome:
    """The end of a command that did its work. to_see: files that show it. study: the one that it made. then: the words,
    after the program's, of one command that goes on from there, or none; a `Path` is a word as it was given. told: what
    came of it for a program, by name, as `explore/guides/scripts.md` lists it."""

    status: int = DONE
    to_see: Sequence[Path] = ()
    study: Path | None = None
    then: Sequence[object] = ()
    told: Mapping[str, object] = field(default_factory=dict)


Command = Callable[..., Outcome]


class CommandEnd(Exception):
    """The end of a command: an exit code and one line for whoever called it. told: as an `Outcome` has it. code: which
    kind of end it is, for a program; "" for what the exit code says. about: values that go with the code."""

    def __init__(
        self,
        status: int,
        message: str,
        told: Mapping[str, object] | None = None,
        code: str = "",
        about: Mapping[str, object] | None = None,
    ) -> None:
        super().__init__(message)
        self.status = status
        self.told = told or {}
        self.code = code or _CODES[status]
        self.about = about or {}
