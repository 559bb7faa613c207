"""What is said when something given cannot be taken."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum


class WayOut(Enum):
    """What whoever asked can do about a refusal. How, each has words of its own for: a command line an option."""

    ADD_SQUARES = "add-squares"  # go on with the study that is there
    REPLACE = "replace"  # replace what is there
    ELSEWHERE = "elsewhere"  # name another place
    ALL_THE_SAME = "all-the-same"  # take it although it is not meant for this
    NAME_FILE = "name-file"  # name the file itself


class BadInput(ValueError):
    """Something given cannot be taken: what docstrings call refused.

    The message is one line: what, where, and what is allowed instead. code: which kind of refusal it is, for a program
    that acts on it; where none is given, that of the class. of: the name of what was given, with which the message
    begins; a command line has an option of that name. values: what it is about, by name.
    """

    code = "bad-input"

    def __init__(
        self, message: str, code: str = "", ways_out: Sequence[WayOut] = (), of: str = "", **values: object
    ) -> None:
        if not message.startswith(of):
            raise ValueError(f"a refusal of {of} that begins otherwise: {message}")
        super().__init__(message)
        self.of = of
        self.code = code or type(self).code
        self.ways_out = tuple(ways_out)
        self.values = values
