"""The searches of searches.txt."""

from __future__ import annotations

import shlex
from pathlib import Path

from record import Task

TEXT = Path(__file__).parent / "searches.txt"
# As it is written there: little effort, a small sheet, no other process.
SMALL = "--effort 0.1 --paper screen --cores 1"


def search_tasks() -> list[Task]:
    """A task for each name; its commands are called by their places and first words."""
    lines = [line for line in TEXT.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    starts = [number for number, line in enumerate(lines) if not line.startswith(" ")]
    ends = [*starts[1:], len(lines)]
    return [_task(lines[start], lines[start + 1 : end]) for start, end in zip(starts, ends, strict=True)]


def _task(head: str, lines: list[str]) -> Task:
    name, *given = (word for word in head.split() if word not in ("<-", "+"))
    commands = [shlex.split(line.replace("SMALL", SMALL)) for line in lines]
    called = {f"{number} {words[0].lstrip('-')}": tuple(words) for number, words in enumerate(commands, 1)}
    pieces = tuple(given) if "<-" in head else ()
    return Task(f"search-{name}", called, pieces, () if pieces else tuple(given))
