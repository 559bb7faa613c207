"""Reading a print that anybody may have made: in a process of its own, which is ended if it takes too much.

What comes back is text alone, so that a process that a hostile picture has taken over can say nothing else.
"""

from __future__ import annotations

import json
import multiprocessing
import sys
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from constraints.stamp import Stamp
from explore.bad_input import BadInput
from explore.reading import StampError, read
from explore.storage.outlines import OutlineError, stamp_of, stamp_text

# Seconds, and bytes of memory, that reading one print may take.
PATIENCE, MEMORY = 20.0, 2 * 10**9
_LONGEST = 16 * 10**6


@dataclass(frozen=True)
class ReadingLimits:
    """What reading may take: seconds and bytes."""

    patience: float = PATIENCE
    memory: int = MEMORY


def read_apart(path: Path, turn: float | None = None, limits: ReadingLimits | None = None) -> Stamp:
    """The stamp in a picture, as `explore.reading.read` gives it; its name is that of the file. Blocks.

    Raises BadInput, one line, for what cannot be read and for what takes too long or too much.
    """
    within = limits or ReadingLimits()
    # Forked from a process that has no threads and holds nothing of hers, where there is one.
    context: Any = multiprocessing.get_context(_method())
    here, there = context.Pipe(duplex=False)
    process = context.Process(target=_read, args=(there, str(path), turn, within.memory), daemon=True)
    process.start()
    there.close()
    try:
        there_in_time = here.poll(within.patience)
        told = json.loads(here.recv_bytes(_LONGEST)) if there_in_time else {}
    except (EOFError, OSError, ValueError):
        raise BadInput(f"{path.name} cannot be read: it takes too much memory, or it is damaged") from None
    finally:
        process.kill()
        process.join()
        here.close()
    if not there_in_time:
        raise BadInput(f"{path.name} takes longer than {within.patience:g} seconds to read; make it smaller")
    if why := told.get("why"):
        raise BadInput(str(why))
    try:
        return stamp_of(str(told.get("stamp")))
    except OutlineError as error:
        raise BadInput(f"{path.name} cannot be read: {error}") from None


def _method() -> str:
    return "forkserver" if "forkserver" in multiprocessing.get_all_start_methods() else "spawn"


def _read(answer: Connection, path: str, turn: float | None, memory: int) -> None:
    """Runs in the other process."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    try:
        told = {"stamp": stamp_text(read(Path(path), turn))}
    except StampError as error:
        # The path is where it lies on this machine; she knows it by its name.
        told = {"why": str(error).replace(path, Path(path).name)}
    answer.send_bytes(json.dumps(told).encode("utf-8"))
    answer.close()
