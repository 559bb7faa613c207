"""Changes that no test can notice, each with the sentence that proves it: kept in `equivalent.toml`."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path

KEPT = Path(__file__).with_name("equivalent.toml")
# A file, the lines that a change takes out of it, those it puts in; without their indents.
Key = tuple[str, str, str]


def key(file: str, before: str, after: str) -> Key:
    """What a change is known by, wherever in the file it stands."""
    out, new = [], []
    for line in difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0):
        if line[:3] not in ("---", "+++", "@@ ") and line[1:].strip():
            (out if line[0] == "-" else new).append(line[1:].strip())
    return file, " ".join(out), " ".join(new)


def known() -> dict[Key, str]:
    """The changes and why each is none."""
    listed = tomllib.loads(KEPT.read_text("utf-8")).get("change", [])
    return {(each["file"], each["before"], each["after"]): each["why"] for each in listed}
