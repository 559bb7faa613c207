"""Commands run as she runs them: the exit code, the lines on stdout and those on stderr."""

from __future__ import annotations

import json
import shlex
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

from constraints.brief import Brief
from constraints.design import Design
from constraints.design_file import to_text
from constraints.edgings import named
from explore import asking
from explore.asking import BriefError
from explore.storage.study import Study, create

Ask = Callable[..., tuple[int, list[str], list[str]]]
Keep = Callable[[Brief, list[Design]], Study]


# Strips that frames are made of, without fans and with them.
STRIPS = Brief.of(form="strip", worked="across", symmetry="suits", pairs=14, count=2, rows=(12, 12), match=0.6)
STRIPS_WITH_FANS = STRIPS.changed(headside=named("cloth fan 2"), count=1, pairs=16)


def kept_study(folder: Path, brief: Brief, designs: Iterable[Design]) -> Study:
    """A study without a stamp, its squares as they would come from jobs 0, 1 and so on."""
    made = create(folder, brief, (), ())
    for job, design in enumerate(designs):
        made = made.keep(design, job)
    return made


def file_of(design: Design) -> dict[str, Any]:
    """What the file of a design says, as plain values."""
    found: dict[str, Any] = json.loads(to_text(design))
    return found


def files_of(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its content."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def mends(line: str) -> list[list[str]]:
    """The mends that a line tells, each as words of a command."""
    found = line.partition("what mends it: ")[2]
    return [shlex.split(each) for each in found.split(" or ")] if found else []


def followed(command: Sequence[str], mend: Sequence[str]) -> list[str]:
    """A command with a mend: its options added, and what it says is to be left out left out."""
    left = list(command)
    at = mend.index("without") if "without" in mend else len(mend)
    for flag, value in zip(mend[at + 1 :: 2], mend[at + 2 :: 2], strict=True):
        place = next(i for i, both in enumerate(pairwise(left)) if both == (flag, value))
        del left[place : place + 2]
    return [*left, *mend[:at]]


def brief_of(**flags: str) -> Brief:
    return asking.read(flags=flags).brief


def brief_or_refusal(read: Callable[[], Brief]) -> Brief | str:
    try:
        return read()
    except BriefError as error:
        return str(error)
