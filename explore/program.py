"""How this program is called in a shell: as she called it, from any other folder, and with words of hers."""

from __future__ import annotations

import os
import shlex
import shutil
import sys
from collections.abc import Iterable

_NAME = "stampwork"


def called() -> str:
    """The program as it was called, quoted: by its name where the shell finds it so, else by the way to it."""
    program = sys.argv[0]
    name = _without_ending(os.path.basename(program))
    if name == "__main__":
        return f"{shlex.quote(sys.orig_argv[0])} -m explore"
    found = shutil.which(_NAME)
    known = found is not None and _way(found) == _way(program)
    return _NAME if known or name != _NAME else shlex.quote(program)


def called_from_anywhere() -> str:
    """The program as it was called, by its full path, quoted: a shell of another day finds it from any folder."""
    program = sys.argv[0]
    if _without_ending(os.path.basename(program)) != _NAME:
        return pasted([sys.executable, "-m", "explore"])
    found = program if os.path.dirname(program) else shutil.which(program) or program
    return pasted([os.path.abspath(found)])


def pasted(words: Iterable[str]) -> str:
    """Words as one line to paste into a shell.

    A shell quotes a line break well, but a terminal acts on control signs as they are pasted, and bytes that are no
    letters cannot be pasted at all: both are spelled out, as POSIX.1-2024 has it (Shell Command Language, 2.2.4).
    """
    return " ".join(shlex.quote(word) if word.isprintable() else _spelled_out(word) for word in words)


def _spelled_out(word: str) -> str:
    spelled = (
        f"\\{sign}"
        if sign in "\\'"
        else sign
        if sign.isprintable()
        else "".join(f"\\{b:03o}" for b in os.fsencode(sign))
        for sign in word
    )
    return f"$'{''.join(spelled)}'"


def _way(program: str) -> str:
    # Some systems call a program without the ending of its file.
    return _without_ending(os.path.realpath(program))


def _without_ending(program: str) -> str:
    return os.path.splitext(program)[0]
