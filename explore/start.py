"""Where `stampwork` begins. Ctrl-C while modules are loaded just ends it: half loaded, none can mend it."""

from __future__ import annotations

import os
import signal
import sys
from types import FrameType

signal.signal(signal.SIGINT, signal.SIG_DFL)

_LOADING = "<frozen importlib._bootstrap>"


def main() -> None:
    """The entry point of `stampwork`."""
    from explore.cli import run
    from explore.program import called

    try:
        signal.signal(signal.SIGINT, _interrupted)
        status = run(sys.argv[1:], called)
    except KeyboardInterrupt:
        status = 128 + signal.SIGINT
    sys.exit(status)


def _interrupted(number: int, frame: FrameType | None) -> None:
    while frame is not None:
        if frame.f_code.co_filename == _LOADING:
            signal.signal(signal.SIGINT, signal.SIG_DFL)
            os.kill(os.getpid(), signal.SIGINT)
        frame = frame.f_back
    raise KeyboardInterrupt
