"""Where a new study or picture may be written: nothing of yours gives way to it unasked, nothing of others ever."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from itertools import count
from pathlib import Path
from typing import NamedTuple

from explore.bad_input import BadInput
from explore.storage.earlier import clear_earlier
from explore.storage.state import STATE, StudyError, goes_on, is_study, stamp_files, state_of
from gallery.paper.placing import clear

BRIEF, SQUARES = "brief.toml", "squares"


class FreeFolder(NamedTuple):
    """A folder that may be written to. notes: a line if it is not called as folders of its kind are."""

    path: Path
    notes: tuple[str, ...] = ()


def unnamed_study(usual: Path, force: bool) -> FreeFolder:
    """Where a new study goes for which no folder was named: where it usually does, or numbered if that is taken.

    With `force` always where it usually does. Raises OSError.
    """
    return _unnamed(usual, force, _taken)


def unnamed_files(usual: Path, names: Sequence[str], force: bool) -> FreeFolder:
    """Where files of those names go for which no folder was named, as `unnamed_study`."""
    return _unnamed(usual, force, lambda folder: any((folder / name).exists() for name in names))


def _unnamed(usual: Path, force: bool, taken: Callable[[Path], bool]) -> FreeFolder:
    if force or not taken(usual):
        return FreeFolder(usual)
    numbered = (usual.with_name(f"{usual.name}-{number}") for number in count(2))
    free = next(folder for folder in numbered if not taken(folder))
    return FreeFolder(free, (f"{usual} is there already, so this is {free}",))


def _taken(folder: Path) -> bool:
    """Whether something lies there: a file, or a folder that holds more than what a new study begins with."""
    if not folder.is_dir():
        return os.path.lexists(folder)
    clear(folder)
    clear_earlier(folder)
    return any(folder.iterdir()) and not only_begun(folder)


def refuse_unless_free(folder: Path, force: bool = False, more: bool = False) -> None:
    """StudyError unless a new study may be written to the folder.

    A folder that does not exist or is empty is free, and so is one where a study was begun and has no square yet.
    `force` frees one that holds a study, and no other: what is not ours is never removed. more: whether the command
    could go on with a study that is there.
    """
    if not folder.exists():
        ground = next(parent for parent in folder.parents if parent.exists())
        if not ground.is_dir() or not os.access(ground, os.W_OK):
            raise StudyError(f"{folder} cannot be made: {ground} is not a folder that can be written to")
        return
    if not folder.is_dir():
        raise StudyError(f"{folder} is not a folder; --out names the folder of the study")
    clear(folder)
    clear_earlier(folder)
    if only_begun(folder):
        return
    if is_study(folder):
        if not force:
            goes = more and goes_on(folder)
            mends = f"{'--more 12 adds squares to it, ' if goes else ''}--force replaces it, --out names another folder"
            raise StudyError(f"{folder} holds a study already: {mends}")
    elif any(folder.iterdir()):
        raise StudyError(f"{folder} is not empty and holds no study; --out names another folder")


def only_begun(folder: Path) -> bool:
    """Whether a folder holds no more than a new study before its first design: its disk was full, or it was killed."""
    held = {path.name for path in folder.iterdir()}
    designs = folder / SQUARES
    if SQUARES not in held or designs.is_symlink() or not designs.is_dir() or any(designs.iterdir()):
        return False
    if not is_study(folder):
        return held == {SQUARES}
    state = state_of(folder)
    unused = (state["next_job"], state["next_number"]) == (0, 1)
    return unused and held <= {SQUARES, STATE, BRIEF, *stamp_files(state)}


def refuse_picture(picture: Path, force: bool) -> None:
    """BadInput unless a sheet may be written there, as PNG and beside it as PDF."""
    if picture.suffix.lower() != ".png":
        raise BadInput(f"--out is {picture}; the name of a picture ends in .png: {picture.with_suffix('.png')}")
    refuse_taken([picture], force, "file")


def refuse_files(folder: Path, names: Iterable[str], force: bool, what: str) -> None:
    """BadInput unless files of those names may be written to a folder. what: all of them, in a word."""
    if folder.exists() and not folder.is_dir():
        raise BadInput(f"{folder} is not a folder; --out names the folder of the {what}")
    refuse_taken([folder / name for name in names], force, "folder")


def refuse_taken(paths: Iterable[Path], force: bool, named: str) -> None:
    """BadInput if something is there that must not be replaced. named: what --out names, a file or a folder."""
    there = [path for path in paths if path.exists()]
    if there and not force:
        raise BadInput(f"{there[0]} is there already: --force replaces it, --out names another {named}")
