"""What a study says of itself in study.json: where its search goes on, and what it was made with."""

from __future__ import annotations

import json
from importlib import metadata
from pathlib import Path
from typing import Any

from explore.bad_input import BadInput
from explore.files import content

FORMAT, VERSION = "stampwork study", 1
STATE = "study.json"
# Results depend on these; a study says which it was made with.
TOOLS = ("ortools", "numpy", "shapely", "pillow")


class StudyError(BadInput):
    """A folder that cannot be used as a study. The message is one line that names it."""


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
    if not path.is_file():
        raise StudyError(f"{folder} holds no study: there is no {STATE}")
    try:
        data = json.loads(text_of(path))
    except (ValueError, RecursionError):
        raise StudyError(f"{path} is damaged: not a JSON text") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise StudyError(f'{path} is no "{FORMAT}"')
    if data.get("version") != VERSION:
        raise StudyError(f"{path} is of another version; this release reads version {VERSION}")
    for key, least in (("next_job", 0), ("next_number", 1)):
        value = data.get(key)
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= 10**9:
            raise StudyError(f'{path} is damaged: "{key}" must be a whole number from {least}')
    made_by = data.get("made_by", {"command": ""})
    if not isinstance(made_by, dict) or not isinstance(made_by.get("command"), str):
        raise StudyError(f'{path} is damaged: "made_by" must be an object that names a "command"')
    if data.get("stamp", "stamp.svg") not in ("stamp.png", "stamp.jpg", "stamp.svg"):
        raise StudyError(f'{path} is damaged: "stamp" must name the copy of the stamp\'s picture')
    return data


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
