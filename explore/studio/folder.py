"""The folder that the studio was opened on: nothing outside it is listed, read or written.

A name that comes from the browser is one plain word, never a path; what it leads to is followed through links, and
refused if it ends elsewhere.
"""

from __future__ import annotations

import os
import re
from dataclasses import dataclass
from pathlib import Path

from explore.bad_input import BadInput
from explore.files import content, write_whole
from explore.pictures import is_picture
from explore.storage.state import is_study

# Prints that were dropped lie here.
PRINTS = "prints"
_LONGEST = 120
# So many of each are listed.
_MOST = 200


class Elsewhere(BadInput):
    """A name that leads to nothing here."""


@dataclass(frozen=True)
class OpenedFolder:
    """path: resolved, and there."""

    path: Path

    def within(self, *names: str) -> Path:
        """The path that names lead to. Raises Elsewhere unless it ends in the folder."""
        for name in names:
            if not is_plain(name):
                raise Elsewhere("there is nothing of that name here")
        path = self.path.joinpath(*names)
        self.refuse_outside(path)
        return path

    def refuse_outside(self, path: Path) -> None:
        """Raises Elsewhere if a path leads out of the folder through a link."""
        try:
            inside = path.resolve().is_relative_to(self.path)
        except (OSError, RuntimeError):  # links that go round in a circle
            inside = False
        if not inside:
            raise Elsewhere("there is nothing of that name here")

    def study(self, name: str) -> Path:
        """The folder of a study, none of whose files lies elsewhere. Raises Elsewhere."""
        folder = self.within(name)
        if not is_study(folder):
            raise Elsewhere("there is no study of that name here")
        for place in (folder, folder / "squares", folder / "papers"):
            if place.is_dir():
                self.refuse_outside(place)
                for each in filter(Path.is_symlink, place.iterdir()):
                    self.refuse_outside(each)
        return folder

    def print(self, reference: str) -> Path:
        """The picture of a print, named by its path within the folder: in `PRINTS` or beside it. Raises Elsewhere."""
        path = self.within(*reference.split("/"))
        if reference.count("/") > 1 or not (is_picture(path.name) and path.is_file()):
            raise Elsewhere("there is no print of that name here")
        return path

    def prints(self) -> list[str]:
        """The pictures that may be prints, the newest first, each as `print` takes it."""
        places = [self.path / PRINTS, self.path]
        files = [path for place in places if place.is_dir() for path in place.iterdir()]
        held = [path for path in files if is_plain(path.name) and is_picture(path.name) and self._lies_here(path)]
        held.sort(key=lambda path: -path.stat().st_mtime_ns)
        return [path.relative_to(self.path).as_posix() for path in held[:_MOST]]

    def studies(self) -> list[str]:
        """The names of the studies here, the last one changed first."""
        held = [path for path in self.path.iterdir() if is_plain(path.name) and path.is_dir() and is_study(path)]
        held = [path for path in held if self._holds(path)]
        held.sort(key=lambda path: -(path / "study.json").stat().st_mtime_ns)
        return [path.name for path in held[:_MOST]]

    def put_print(self, name: str, data: bytes) -> str:
        """Keep the picture of a print under a name like the one it came with; as `print` takes it. A picture that is
        here already is not kept twice. Raises OSError."""
        folder = self.within(PRINTS)
        folder.mkdir(exist_ok=True)
        wanted = tidy_name(name)
        for number in range(1, 10**6):
            stem, ending = os.path.splitext(wanted)
            path = folder / (wanted if number == 1 else f"{stem}-{number}{ending}")
            self.refuse_outside(path)
            if not os.path.lexists(path):
                write_whole(path, data)
                break
            if path.is_file() and path.stat().st_size == len(data) and content(path) == data:
                break
        return path.relative_to(self.path).as_posix()

    def _lies_here(self, path: Path) -> bool:
        return path.resolve().is_relative_to(self.path) and path.is_file()

    def _holds(self, folder: Path) -> bool:
        try:
            self.study(folder.name)
        except BadInput:
            return False
        return True


def is_plain(name: str) -> bool:
    """Whether a name is that of something in a folder, and not hidden."""
    return 0 < len(name) <= _LONGEST and name[0] != "." and name.isprintable() and not set(name) & set('/\\:*?"<>|')


def tidy_name(name: str) -> str:
    """The name of a picture, whatever it was called elsewhere: letters, digits, and - between them."""
    stem, ending = os.path.splitext(name.replace("\\", "/").rpartition("/")[2])
    stem = re.sub(r"[^\w]+", "-", stem).strip("-_")[:60] or "print"
    ending = re.sub(r"[^a-z0-9.]", "", ending.lower())
    return f"{stem}{ending if is_picture(f'x{ending}') else '.png'}"
