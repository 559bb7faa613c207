"""Where a new study or picture may be written: nothing of yours gives way to it unasked, nothing of others ever."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from itertools import count
from pathlib import Path
from typing import NamedTuple

from explore.bad_input import BadInput, WayOut
from explore.storage.earlier import clear_earlier
from explore.storage.state import STATE, StudyError, goes_on, is_study, stamp_files, state_of
from gallery.paper.placing import clear

BRIEF, SQUARES = "brief.toml", "squares"


class FreeFolder(NamedTuple):
    """A folder that may be written to. notes: a line if it is not called as folders of its kind are."""

    path: Path
    notes: tuple[str, ...] = ()


class Output(NamedTuple):
    """Where she wants a result: the one rule of what may be written where. out: the place that she named, None for
    where results of its kind usually go. force: whether what is there, and is of its kind, may be replaced.

    A named place is taken as it is, or refused. A new folder that is not named has a number if its name is taken,
    unless that may be replaced. All methods raise BadInput and OSError.
    """

    out: Path | None = None
    force: bool = False

    def study(self, usual: Path, more: bool = False, source: Path | None = None) -> FreeFolder:
        """The folder of a new study. more: whether the command could go on with one that is there. source: a study that
        it is made from, which is never replaced."""
        if source is not None and (self.out or usual).resolve() == source.resolve():
            line = f"{self.out or usual} is the study that it is made from"
            raise BadInput(line, "taken", (WayOut.ELSEWHERE,), path=self.out or usual)
        folder = FreeFolder(self.out) if self.out else _unnamed(usual, self.force, _taken)
        refuse_unless_free(folder.path, self.force, more)
        return folder

    def files(self, usual: Path, names: Sequence[str]) -> FreeFolder:
        """A folder of its own for files of those names."""
        if self.out is None:
            return _unnamed(usual, self.force, lambda folder: any((folder / name).exists() for name in names))
        return FreeFolder(self.within(usual, names))

    def within(self, usual: Path, names: Iterable[str]) -> Path:
        """A folder for files of those names that may hold others, such as a study; it has no number."""
        folder = self.out or usual
        if folder.exists() and not folder.is_dir():
            raise BadInput(f"{folder} is not a folder", "taken", (WayOut.ELSEWHERE,), path=folder)
        self._refuse_taken([folder / name for name in names], "folder")
        return folder

    def picture(self, usual: Path) -> Path:
        """A sheet as PNG, and beside it as PDF."""
        return self.file(usual, ".png", "a picture")

    def file(self, usual: Path, suffix: str, what: str) -> Path:
        """One file whose name ends so. what: it is, in words."""
        path = self.out or usual
        if path.suffix.lower() != suffix:
            line = f"{path}: the name of {what} ends in {suffix}: {path.with_suffix(suffix)}"
            raise BadInput(line, "file-name", path=path)
        if path.is_dir():
            raise BadInput(f"{path} is a folder", "taken", (WayOut.ELSEWHERE,), path=path, named="file")
        self._refuse_taken([path], "file")
        return path

    def _refuse_taken(self, paths: Iterable[Path], named: str) -> None:
        there = [path for path in paths if path.exists()]
        if there and not self.force:
            ways = (WayOut.REPLACE, WayOut.ELSEWHERE)
            raise BadInput(f"{there[0]} is there already", "taken", ways, path=there[0], named=named)


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
    elsewhere = (WayOut.ELSEWHERE,)
    if not folder.exists():
        ground = next(parent for parent in folder.parents if parent.exists())
        if not ground.is_dir() or not os.access(ground, os.W_OK):
            line = f"{folder} cannot be made: {ground} is not a folder that can be written to"
            raise StudyError(line, "not-writable", path=folder)
        return
    if not folder.is_dir():
        raise StudyError(f"{folder} is not a folder", "taken", elsewhere, path=folder)
    clear(folder)
    clear_earlier(folder)
    if only_begun(folder):
        return
    if is_study(folder):
        if not force:
            adds = (WayOut.ADD_SQUARES,) if more and goes_on(folder) else ()
            ways = (*adds, WayOut.REPLACE, *elsewhere)
            raise StudyError(f"{folder} holds a study already", "taken", ways, path=folder)
    elif any(folder.iterdir()):
        raise StudyError(f"{folder} is not empty and holds no study", "taken", elsewhere, path=folder)


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
