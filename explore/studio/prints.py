"""The prints that lie on the table: read once, and shown as they are read."""

from __future__ import annotations

import tempfile
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import shapely

from constraints.stamp import Stamp
from explore.asking.stamps import stamp_name
from explore.bad_input import BadInput
from explore.reading import built_in, built_in_names, read
from explore.studio.folder import OpenedFolder, tidy_name
from explore.studio.reader import read_apart

# So many are kept read.
_KEPT = 40
# A print is shown in a box of so many units a side.
BOX = 1000.0


class Prints:
    """Prints by their references: paths within the folder, and the names of those that are built in. named: one that
    the studio was opened with, wherever it lies."""

    def __init__(self, folder: OpenedFolder, named: Path | None = None) -> None:
        self._folder, self._named = folder, named
        self._read: OrderedDict[tuple[str, int, float | None], Stamp] = OrderedDict()

    def references(self) -> list[str]:
        """Those that are hers, the one named first."""
        named = [] if self._named is None else [self.named]
        return list(dict.fromkeys([*named, *self._folder.prints()]))

    @property
    def named(self) -> str:
        """The reference of the one that the studio was opened with; "" for none."""
        if self._named is None:
            return ""
        path = self._named.resolve()
        if path.is_relative_to(self._folder.path):
            return path.relative_to(self._folder.path).as_posix()
        return f"opened:{path.name}"

    def path(self, reference: str) -> Path:
        """The file of a print. Raises BadInput."""
        if reference in built_in_names():
            return built_in(reference)
        if self._named is not None and reference == self.named:
            return self._named.resolve()
        return self._folder.print(reference)

    def word(self, reference: str) -> str:
        """How a command names it, from the folder."""
        if reference in built_in_names():
            return reference
        path = self.path(reference)
        return path.relative_to(self._folder.path).as_posix() if reference in self._folder.prints() else str(path)

    def stamp(self, reference: str, turn: float | None = None) -> Stamp:
        """The stamp in a print, read in a process apart unless it is built in or was read before. Raises BadInput."""
        path = self.path(reference)
        key = reference, path.stat().st_mtime_ns, turn
        if key not in self._read:
            found = read(path, turn) if reference in built_in_names() else read_apart(path, turn)
            self._keep(key, replace(found, name=stamp_name(path.name)))
        return self._read[key]

    def _keep(self, key: tuple[str, int, float | None], stamp: Stamp) -> None:
        self._read[key] = stamp
        while len(self._read) > _KEPT:
            self._read.popitem(last=False)

    def take(self, name: str, data: bytes) -> str:
        """Keep a picture that was dropped, if a print can be read in it; its reference. Raises BadInput, OSError."""
        if not data:
            raise BadInput(f"{tidy_name(name)} is empty")
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / tidy_name(name)
            path.write_bytes(data)
            stamp = read_apart(path)
        reference = self._folder.put_print(name, data)
        kept = self.path(reference)
        self._keep((reference, kept.stat().st_mtime_ns, None), replace(stamp, name=stamp_name(kept.name)))
        return reference


def shown(stamp: Stamp) -> Mapping[str, Any]:
    """A print as the page draws it: its outline as path data in a box of `BOX` units, how it leant, what was done."""
    shape = stamp.placed(BOX / 2 - 20, 0.0, (BOX / 2, BOX / 2))
    rings = [ring for part in shape.geoms for ring in (part.exterior, *part.interiors)]
    points = [np.round(shapely.get_coordinates(ring)[:-1]).astype(int).tolist() for ring in rings]
    outline = "".join("M" + "L".join(f"{x} {y}" for x, y in ring) + "Z" for ring in points)
    return {"name": stamp.name, "outline": outline, "leant": stamp.tilt_degrees, "notes": list(stamp.notes)}
