"""A study folder: a brief, its stamp, and the squares found for it.

A study holds brief.toml, squares/01.json and so on (two digits or more, a number is never used twice),
study.json, of each stamp a copy of its picture with its traced outline (stamp.json, stamp-2.json), and the
sheets. Nothing in it depends on where it lies. Every file is written whole, so that a run may be stopped at any moment.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from importlib import metadata
from pathlib import Path
from typing import Any

from constraints.brief import Brief
from constraints.design import Design
from constraints.design_file import from_text, to_text
from constraints.reader import DesignFileError
from constraints.stamp import Stamp
from explore import asking
from explore.files import content, shown_name, write_whole
from explore.lines import spans
from explore.pictures import kind_of
from explore.storage import leavings
from explore.storage.earlier import clear_earlier
from explore.storage.free import BRIEF, SQUARES, refuse_unless_free
from explore.storage.outlines import OutlineError, stamp_of, stamp_text
from explore.storage.state import (
    FORMAT,
    STATE,
    TOOLS,
    VERSION,
    StudyError,
    is_study,
    other_tools,
    outline_of,
    picture_name,
    stamp_files,
    state_of,
    text_of,
)
from gallery.paper.placing import clear

_SHEET = re.compile(r"sheet(-[0-9]+)?\.(png|pdf|svg)")


@dataclass(frozen=True)
class Study:
    """A study as it lies in its folder.

    designs: the sound ones, by number. next_job, next_number: where the search goes on. pictures: the names
    of the copies of the stamps' pictures. notes: what is amiss, one line each. made_by: how a
    study that no search can go on with was made; empty for one of `explore`.
    """

    folder: Path
    brief: Brief
    stamps: tuple[Stamp, ...]
    pictures: tuple[str, ...] = ()
    designs: tuple[Design, ...] = ()
    next_job: int = 0
    next_number: int = 1
    notes: tuple[str, ...] = ()
    made_by: Mapping[str, Any] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """What it is called: as its folder is."""
        return shown_name(self.folder)

    def picture_bytes(self) -> list[bytes]:
        """What the copies of the stamps' pictures hold. Raises OSError."""
        return [content(self.folder / picture) for picture in self.pictures]

    def lacks(self, number: int) -> str:
        """That it has no square of that number, and which is the nearest; "" if it has it."""
        held = [design.number for design in self.designs]
        if number in held:
            return ""
        if not held:
            return f"{self.folder} holds no squares"
        near = min(held, key=lambda each: (abs(each - number), each))
        return f"{self.folder} has no square {number}; it has {spans(held)}; the nearest is {near}"

    def numbered(self, number: int) -> Design:
        """The square of that number. StudyError, which names the nearest there is."""
        if lacks := self.lacks(number):
            raise StudyError(lacks, "number-missing", number=number, held=[each.number for each in self.designs])
        return next(design for design in self.designs if design.number == number)

    def keep(self, design: Design, job: int) -> Study:
        """Save a square that `job` found, then the state. StudyError if its number is used already."""
        path = square_path(self.folder, design.number)
        if design.number < self.next_number or path.exists():
            raise StudyError(f"{path}: the number is used already; is another run writing to this study?")
        write_whole(path, to_text(design))
        kept = replace(self, designs=(*self.designs, design), next_number=design.number + 1)
        return kept.after(job)

    def after(self, job: int) -> Study:
        """The study with `job` done, its state saved."""
        done = replace(self, next_job=max(self.next_job, job + 1))
        write_whole(self.folder / STATE, done.state())
        return done

    def state(self) -> str:
        """The text of study.json."""
        data: dict[str, Any] = {
            "format": FORMAT,
            "version": VERSION,
            "next_job": self.next_job,
            "next_number": self.next_number,
            "stampwork": metadata.version("stampwork"),
            "tools": {tool: metadata.version(tool) for tool in TOOLS},
        }
        if self.pictures:
            data["stamps"] = list(self.pictures)
        if self.made_by:
            data["made_by"] = dict(self.made_by)
        return json.dumps(data, indent=1) + "\n"


def create(
    folder: Path,
    brief: Brief,
    stamps: Sequence[Stamp],
    pictures: Sequence[bytes],
    force: bool = False,
    made_by: Mapping[str, Any] | None = None,
) -> Study:
    """Write a new study without squares. pictures: the contents of the stamps' files.

    made_by: see Study; its "command" names the command that made it.

    With `force`, a study that is there already loses its squares, sheets, page and stamps; its picks are set
    aside, which `notes` tells; all other files in the folder stay. Raises StudyError as `refuse_unless_free`
    does, and OSError.
    """
    refuse_unless_free(folder, force)
    names = tuple(picture_name(place, kind_of(each) or "svg") for place, each in enumerate(pictures))
    study = Study(folder, brief, tuple(stamps), names, made_by=made_by or {})
    (folder / SQUARES).mkdir(parents=True, exist_ok=True)
    ours = _ours(folder)
    for name in names:
        if name not in ours and (folder / name).exists():
            raise StudyError(f"{folder / name} is in the way and not part of the study; move it elsewhere")
    if not is_study(folder):
        write_whole(folder / STATE, study.state())  # first, so that --force may replace what is left of a crash
    for name in ours:
        (folder / name).unlink(missing_ok=True)
    aside = leavings.set_aside(folder) if force else ""
    write_whole(folder / BRIEF, asking.to_toml(brief))
    for name, picture, stamp in zip(names, pictures, stamps, strict=True):
        write_whole(folder / name, picture)
        write_whole(folder / outline_of(name), stamp_text(stamp))
    write_whole(folder / STATE, study.state())
    return replace(study, notes=(aside,)) if aside else study


def open_study(folder: Path) -> Study:
    """Read a study. A damaged square is named in `notes` and left out; its file and its number stay.

    Raises StudyError or BriefError if anything but a square is damaged, OSError if it cannot be opened.
    """
    state = state_of(folder)
    for each in filter(Path.is_dir, (folder, folder / SQUARES)):
        clear(each)
    clear_earlier(folder)
    brief = asking.from_toml(text_of(folder / BRIEF), str(folder / BRIEF))
    stamps = tuple(_stamp(folder / outline_of(picture)) for picture in state["stamps"])
    designs, notes = [], other_tools(folder, state)
    numbers = [0]
    for path in square_files(folder):
        numbers.append(int(path.stem))
        try:
            designs.append(read_square(path))
        except DesignFileError as error:
            notes.append(f"{path} is damaged and left out, its number stays used: {error}")
    # A run stopped between a square and its state has left the state one square behind.
    next_number = max(state["next_number"], max(numbers) + 1)
    return Study(
        folder,
        brief,
        stamps,
        tuple(state["stamps"]),
        tuple(designs),
        state["next_job"],
        next_number,
        tuple(notes),
        state.get("made_by", {}),
    )


def square_path(folder: Path, number: int) -> Path:
    """Where a study keeps the square of that number: two digits or more."""
    return folder / SQUARES / f"{number:02d}.json"


def square_files(folder: Path) -> list[Path]:
    """The files of a study's squares, sound or not, by number."""
    files = [path for path in (folder / SQUARES).glob("*.json") if re.fullmatch("[0-9]{2,9}", path.stem)]
    files = [path for path in files if path.name == square_path(folder, int(path.stem)).name]
    return sorted(files, key=lambda path: int(path.stem))


def sheet_files(folder: Path) -> list[Path]:
    """The sheets that lie in a study."""
    return sorted(path for path in folder.iterdir() if _SHEET.fullmatch(path.name))


def read_square(path: Path) -> Design:
    """The square in a file. DesignFileError if it is damaged or bears another number than its file's name."""
    try:
        text = content(path).decode("utf-8")
    except OSError as error:
        raise DesignFileError(f"cannot be read ({error.strerror})") from None
    except UnicodeDecodeError:
        raise DesignFileError("not a text in UTF-8") from None
    design = from_text(text)
    if re.fullmatch("[0-9]+", path.stem) and int(path.stem) != design.number:
        raise DesignFileError(f'"number" is {design.number}, the file is called {path.name}')
    return design


def _ours(folder: Path) -> list[str]:
    """The files of an old study that a new one in its place removes, as names within the folder."""
    names = [str(path.relative_to(folder)) for path in square_files(folder)]
    names += [path.name for path in sheet_files(folder)]
    if is_study(folder):
        names += leavings.pictures(folder)
        names += stamp_files(state_of(folder))
    return names


def _stamp(path: Path) -> Stamp:
    try:
        return stamp_of(text_of(path))
    except OutlineError as error:
        raise StudyError(f"{path} is damaged: {error}") from None
