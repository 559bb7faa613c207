"""Where browsers put what a page saves, and which file of picks there is the one of a study."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from explore.bad_input import BadInput, WayOut
from explore.storage.leavings import PICKS
from explore.storage.picks import PicksError, picks_in
from explore.storage.study import Study

# The word in the place of a file that stands for the newest one there.
DOWNLOADS = "downloads"
# Browsers number a name that is taken, each in its way: "picks (1).json", "picks(1).json", "picks-1.json".
_SAVED = re.compile(r"picks([ -]?\(?\d+\)?)?\.json")


@dataclass(frozen=True)
class SavedPicks:
    """The file that was chosen. notes: one line each, which it is and which newer ones it is not."""

    path: Path
    notes: tuple[str, ...]


def downloads_folder() -> Path:
    """The folder into which browsers save: the one that is set on this system, else Downloads in her home."""
    return platformdirs.user_downloads_path()


def saved_last(study: Study, folder: Path) -> SavedPicks:
    """The newest file of picks in a folder that fits a study: it is of that name and names squares that it has.

    Raises BadInput if none does, OSError.
    """
    there = [path for path in folder.iterdir() if _SAVED.fullmatch(path.name)] if folder.is_dir() else []
    unfit = []
    for path in sorted(there, key=lambda path: (path.stat().st_mtime_ns, path.name), reverse=True):
        why = _unfit(path, study)
        if why:
            unfit.append(why)
            continue
        return SavedPicks(path, (*(f"{why}; it is newer" for why in unfit), f"picks are taken from {path}"))
    seen = f" ({'; '.join(unfit)})" if unfit else f": there is no {PICKS}"
    raise BadInput(f'{folder} holds no picks of "{study.name}"{seen}', ways_out=[WayOut.NAME_FILE])


def _unfit(path: Path, study: Study) -> str:
    """Why the picks in a file are not those of a study; "" if they are."""
    try:
        picks = picks_in(path)
    except PicksError as error:
        return str(error)
    if picks.study != study.name:
        return f'{path.name} is of "{picks.study}"'
    lacks = [why for number in (*picks.numbers, *picks.notes) if (why := study.lacks(number))]
    return f"{path.name}: {lacks[0]}" if lacks else ""
