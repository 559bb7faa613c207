"""How a command can end: the exit codes, and the refusal that carries one."""

from __future__ import annotations

# Done; a check failed; bad input or usage; proven impossible; nothing found in the effort given.
DONE, CHECK_FAILED, BAD_INPUT, IMPOSSIBLE, NOTHING_FOUND = range(5)


class CommandEnd(Exception):
    """The end of a command: an exit code and one line for her."""

    def __init__(self, status: int, message: str) -> None:
        super().__init__(message)
        self.status = status
