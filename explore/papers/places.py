"""What the commands that make papers of chosen squares share: which squares, and where the files go."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from explore.bad_input import BadInput
from explore.storage.study import Study

# The folder in a study where papers for the pillow are kept.
FOLDER = "papers"


def paper_folder(study: Study, out: Path | None) -> Path:
    """Where papers go: STUDY/papers, or `out`. Refused if something else than a folder is there."""
    folder = study.folder / FOLDER if out is None else out
    if folder.exists() and not folder.is_dir():
        raise BadInput(f"{folder} is not a folder; --out names the folder of the papers")
    return folder


def paper_files(folder: Path, number: int, name: str, endings: Sequence[str], force: bool) -> list[Path]:
    """The files of one paper of one square, such as 07-pricking.pdf. Refused if one is there and not to be replaced."""
    files = [folder / f"{number:02d}-{name}{ending}" for ending in endings]
    there = [path for path in files if path.exists()]
    if there and not force:
        raise BadInput(f"{there[0]} is there already: --force replaces it, --out names another folder")
    return files
