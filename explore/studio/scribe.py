"""Papers written in a process of their own, which tells how far it is and can be ended."""

from __future__ import annotations

import json
import multiprocessing
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from constraints.working.habits import Habits
from explore.asking.names import Choice
from explore.bad_input import BadInput
from explore.search.crew import begin_worker
from explore.storage.study import read_square
from explore.studio.streams import Stream


@dataclass(frozen=True)
class WayToWork:
    """One of the ways in which papers may be made: an option of theirs. choices: values with their words."""

    words: str
    choices: Mapping[str, str]


# How she works, as options of `pack`; the first choice is what holds where she says nothing.
WAYS = {
    "paper": WayToWork("Paper in your printer", {"a4": "A4", "letter": "Letter", "a3": "A3"}),
    "method": WayToWork("Pins of the ground", {"closed": "closed: CT pin CT", "open": "open: TC pin TC"}),
    "footside": WayToWork("Footside as you work", {"left": "on the left", "right": "on the right"}),
    "finish": WayToWork("Finish of a last edge", {"knots": "knots", "plaits": "plaits", "fringe": "fringe"}),
}


def ways_of(given: object) -> dict[str, str]:
    """How she works, as the page sends it. Raises BadInput."""
    if not isinstance(given, Mapping) or any(name not in WAYS for name in given):
        raise BadInput(f"papers are made by {', '.join(WAYS)}")
    for name, value in given.items():
        if value not in WAYS[name].choices:
            raise BadInput(f"{name} is one of {Choice(tuple(WAYS[name].choices)).allowed}")
    return {name: str(value) for name, value in given.items()}


def booklet_path(study: Path, number: int) -> Path:
    """Where `pack` too puts the booklet of a square."""
    return study / "papers" / f"{number:02d}-booklet.pdf"


class Scribe:
    """Writes papers from now on. work: writes them, in the other process; it is given a function that tells, then
    `given`, and returns what is told of the end. stream: told each part as it is there, and the end."""

    def __init__(self, work: Callable[..., dict[str, Any]], given: tuple[Any, ...], stream: Stream) -> None:
        self.stream = stream
        methods = multiprocessing.get_all_start_methods()
        context: Any = multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")
        self._here, there = context.Pipe(duplex=False)
        self._process = context.Process(target=_write, args=(there, work, given), daemon=True)
        self._process.start()
        there.close()
        threading.Thread(target=self._listen, daemon=True).start()

    def stop(self) -> None:
        """End it; what was there before stays."""
        self._process.kill()

    def _listen(self) -> None:
        told: dict[str, Any] = {}
        try:
            while told.get("kind") != "ended":
                told = json.loads(self._here.recv_bytes())
                self.stream.tell(**told)
        except EOFError:
            self.stream.tell(kind="ended", why="The papers were not finished.")
        self._here.close()
        self._process.join()
        self.stream.close()


# What follows runs in the other process.


def _write(answer: Connection, work: Callable[..., dict[str, Any]], given: tuple[Any, ...]) -> None:
    begin_worker()

    def tell(**told: Any) -> None:
        answer.send_bytes(json.dumps(told).encode("utf-8"))

    try:
        tell(kind="ended", why="", **work(tell, *given))
    except (BadInput, OSError) as error:
        tell(kind="ended", why=str(getattr(error, "strerror", None) or error))


def write_booklet(tell: Callable[..., None], square: str, name: str, ways: dict[str, str], pdf: str) -> dict[str, Any]:
    """The booklet of a square. Raises BadInput, OSError."""
    from explore.papers import booklet

    design = read_square(Path(square))
    habits = Habits(ground=ways.get("method", "closed"), start_line="suits")
    wanted = booklet.BookletOptions(
        f"{name}, No. {design.number}",
        ways.get("footside", "left"),
        ways.get("paper", "a4"),
        ways.get("finish", "knots"),
        habits,
    )
    parts: list[str] = []

    def watch(part: str) -> None:
        parts.append(part)
        tell(kind="part", part=part, done=len(parts), of=len(booklet.PARTS))

    return {"pages": booklet.write(design, name, wanted, Path(pdf), 1, watch)}
