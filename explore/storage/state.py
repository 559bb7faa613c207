"""What a study says of itself in study.json: where its search goes on, and what it was made with."""

from __future__ import annotations

import difflib
import json
import os
from collections.abc import Mapping
from importlib import metadata
from pathlib import Path
from typing import Any

from explore.bad_input import BadInput
from explore.files import content
from explore.pictures import USUAL_ENDINGS

FORMAT, VERSION = "stampwork study", 2
STATE = "study.json"
# Results depend on these; a study says which it was made with.
TOOLS = ("ortools", "numpy", "shapely", "pillow")


class StudyError(BadInput):
    """A folder that cannot be used as a study. The message is one line that names it."""

    code = "study-damaged"


def is_study(folder: Path) -> bool:
    """Whether the folder holds a study.json of ours."""
    try:
        state_of(folder)
    except (StudyError, OSError):
        return False
    return True


def goes_on(folder: Path) -> bool:
    """Whether `explore --more` can add squares to a study: it made it, and its state is sound."""
    try:
        return "made_by" not in state_of(folder)
    except StudyError:
        return False  # what is damaged goes on by no command


def state_of(folder: Path) -> dict[str, Any]:
    """The content of study.json, checked. StudyError if the folder holds none or it is damaged."""
    path = folder / STATE
    if not folder.exists():
        raise StudyError(f"there is no folder {folder}{_nearest(folder)}", "study-missing", path=folder)
    if not path.is_file():
        raise StudyError(f"{folder} holds no study: there is no {STATE}", "study-missing", path=folder)
    try:
        data = json.loads(text_of(path))
    except (ValueError, RecursionError):
        raise StudyError(f"{path} is damaged: not a JSON text") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise StudyError(f'{path} is no "{FORMAT}"')
    version = data.get("version")
    if version not in range(1, VERSION + 1):
        raise StudyError(f"{path} is of another version; this release reads versions 1 to {VERSION}")
    if version == 1 and "stamp" in data:
        data["stamps"] = [data["stamp"]]
    for key, least in (("next_job", 0), ("next_number", 1)):
        value = data.get(key)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= 10**9:
            raise StudyError(f'{path} is damaged: "{key}" must be a whole number from {least}')
    made_by = data.get("made_by", {"command": ""})
    if not isinstance(made_by, dict) or not isinstance(made_by.get("command"), str):
        raise StudyError(f'{path} is damaged: "made_by" must be an object that names a "command"')
    pictures = data.setdefault("stamps", [])
    if not isinstance(pictures, list) or not all(_is_picture(each, place) for place, each in enumerate(pictures)):
        raise StudyError(f'{path} is damaged: "stamps" must name the copies of the stamps\' pictures')
    return data


def _nearest(folder: Path) -> str:
    """The study beside a folder, which there is not, that is called most like it, in words; "" if there is none."""
    beside = folder.parent
    if not (beside.is_dir() and os.access(beside, os.R_OK | os.X_OK)):
        return ""
    studies = {each.name: each for each in sorted(beside.iterdir()) if each.is_dir() and is_study(each)}
    near = difflib.get_close_matches(folder.name, studies, n=1, cutoff=0.0)
    return f"; the nearest study is {studies[near[0]]}" if near else ""


def stamp_files(state: Mapping[str, Any]) -> list[str]:
    """The names of the files of its stamps: of each the copy of its picture, and its traced outline."""
    return [name for picture in state["stamps"] for name in (picture, outline_of(picture))]


def picture_name(place: int, suffix: str) -> str:
    """What the copy of the picture of a stamp is called, which has so many before it."""
    return f"stamp-{place + 1}.{suffix}" if place else f"stamp.{suffix}"


def outline_of(picture: str) -> str:
    """What the traced outline is called of the stamp whose picture is called so."""
    return f"{picture.rpartition('.')[0]}.json"


def _is_picture(name: object, place: int) -> bool:
    return name in {picture_name(place, suffix) for suffix in USUAL_ENDINGS}


def other_tools(folder: Path, state: dict[str, Any]) -> list[str]:
    """One line if a study was made with other tools than these, of its folder and state."""
    before = state.get("tools")
    before = before if isinstance(before, dict) else {}
    other = [tool for tool in TOOLS if before.get(tool) != metadata.version(tool)]
    if not other:
        return []
    was = ", ".join(f"{tool} {before.get(tool, 'unknown')}" for tool in other)
    return [f"{folder} was made with {was}; squares to come may differ from those of one long run"]


def text_of(path: Path) -> str:
    """The text in a file of a study. Raises StudyError, OSError."""
    try:
        return content(path).decode("utf-8")
    except UnicodeDecodeError:
        raise StudyError(f"{path} is damaged: not a text in UTF-8") from None
