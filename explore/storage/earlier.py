"""What killed commands of earlier versions left unfinished.

Those called it otherwise than `gallery.paper.placing` does, and held no lock on it. So only what stands where such a
version wrote, has a name that it alone gave, and has not been written to for a day is taken for left.
"""

from __future__ import annotations

import os
import re
import shutil
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from explore.storage.state import STATE, is_study

_DAY = 24 * 3600.0
_PAPERS = "pricking|diagram|work|materials|swatch|booklet|lace|drawing"
_OF_A_NUMBER = rf"[0-9]{{2,9}}-(?:{_PAPERS})"
# Texts were written as .new-NAME, and pictures as .NAME.xxxxxxxx.png, each beside its place.
_TEXT = re.compile(
    r"\.new-(?:study\.json|brief\.toml|stamp\.(?:json|png|jpg|svg)|picks\.json|page\.html|budget\.json|series\.json"
    rf"|[0-9]{{2,9}}\.json|{_OF_A_NUMBER}\.(?:svg|txt|json|pdf))"
)
_PICTURE = re.compile(
    rf"\.(?:(?:sheet|mirror-[0-9]{{2,9}})(?:-[0-9]+)?|grid|budget|picks|(?:mats|edgings)-[0-9]{{2,9}}|{_OF_A_NUMBER})"
    r"\.(png|pdf|svg)\.[a-z0-9_]{8}\.\1"
)


def clear_earlier(folder: Path) -> None:
    """Remove such files of a study: in its folder, among its squares and among its papers. Raises OSError."""
    if not is_study(folder) and {path.name for path in folder.iterdir()} != {"squares", f".new-{STATE}"}:
        return
    for place in (folder, folder / "squares", folder / "papers"):
        if place.is_symlink() or not place.is_dir() or not os.access(place, os.W_OK):
            continue
        for path in place.iterdir():
            named = _TEXT.fullmatch(path.name) or _PICTURE.fullmatch(path.name)
            if named and not path.is_symlink() and path.is_file() and _old(path):
                with suppress(FileNotFoundError, PermissionError):
                    path.unlink()


def clear_earlier_series(folder: Path) -> None:
    """Remove what was made ready beside a series: .NAME.xxxxxxxx with nothing in it but NAME, a study or less."""
    ground = folder.resolve().parent
    if not ground.is_dir() or not os.access(ground, os.W_OK):
        return
    name = folder.resolve().name
    for beside in ground.iterdir():
        if not re.fullmatch(rf"\.{re.escape(name)}\.[a-z0-9_]{{8}}", beside.name):
            continue
        if beside.is_symlink() or not beside.is_dir() or not all(map(_old, _within(beside))):
            continue
        held = [path.name for path in beside.iterdir()]
        made = beside / name
        if not held or (held == [name] and not made.is_symlink() and is_study(made)):
            with suppress(FileNotFoundError, PermissionError):
                shutil.rmtree(beside)


def _within(folder: Path) -> Iterator[Path]:
    yield folder
    yield from folder.rglob("*")


def _old(path: Path) -> bool:
    return time.time() - path.lstat().st_mtime > _DAY
