"""Commands run as she runs them: the exit code, the lines on stdout and those on stderr."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from constraints.brief import Brief
from constraints.square import Square
from explore import asking
from explore.asking import BriefError
from explore.keeping.study import Study

Ask = Callable[..., tuple[int, list[str], list[str]]]
Keep = Callable[[Brief, list[Square]], Study]


def files_of(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with its content."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def brief_of(**flags: str) -> Brief:
    return asking.read(flags=flags).brief


def brief_or_refusal(read: Callable[[], Brief]) -> Brief | str:
    try:
        return read()
    except BriefError as error:
        return str(error)
