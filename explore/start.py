"""Where `stampwork` begins. Ctrl-C while modules are loaded just ends it: half loaded, none can mend it."""

from __future__ import annotations

import os
import shlex
import shutil
import signal
import sys
from types import FrameType

signal.signal(signal.SIGINT, signal.SIG_DFL)

_LOADING = "<frozen importlib._bootstrap>"


def main() -> None:
    """The entry point of `stampwork`."""
    from explore.cli import run

    try:
        signal.signal(signal.SIGINT, _interrupted)
        status = run(sys.argv[1:], called)
    except KeyboardInterrupt:
        status = 128 + signal.SIGINT
    sys.exit(status)


def called() -> str:
    """The program as it was called, quoted: by its name where the shell finds it so, else by the way to it."""
    program = sys.argv[0]
    name = os.path.splitext(os.path.basename(program))[0]
    if name == "__main__":
        return f"{shlex.quote(sys.orig_argv[0])} -m explore"
    found = shutil.which("stampwork")
    known = found is not None and _way(found) == _way(program)
    return "stampwork" if known or name != "stampwork" else shlex.quote(program)


def _way(program: str) -> str:
    # Some systems call a program without the ending of its file.
    return os.path.splitext(os.path.realpath(program))[0]


def _interrupted(number: int, frame: FrameType | None) -> None:
    while frame is not None:
        if frame.f_code.co_filename == _LOADING:
            signal.signal(signal.SIGINT, signal.SIG_DFL)
            os.kill(os.getpid(), signal.SIGINT)
        frame = frame.f_back
    raise KeyboardInterrupt
