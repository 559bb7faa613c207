"""What the guide to scripts lists: of every command the keys of its document."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "explore" / "guides" / "scripts.md").read_text(encoding="utf-8")
ALWAYS = {"stampwork", "command", "files", "next"}
FIGURES = "a piece's figures"

Keys = dict[str, set[str]]


def spans(text: str) -> list[str]:
    """What stands between backticks."""
    return re.findall(r"`([^`]*)`", text)


def documented() -> dict[str, Keys]:
    """By command: every key that the guide lists, with those of its rows; of what has no rows none."""
    figures = set(spans(re.sub(r"\s+", " ", GUIDE).partition(f"*{FIGURES}* are")[2].partition(".")[0]))
    found: dict[str, Keys] = {}
    commands: list[str] = []
    for line in GUIDE.partition("| command | key |")[2].partition("\n## ")[0].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) != 3 or not spans(cells[1]):
            continue
        commands = spans(cells[0]) or commands
        own = (figures if FIGURES in cells[2] else set()) | set(spans(cells[2]))
        for command in commands:
            for key in spans(cells[1]):
                rows = {each for each in own if not each.startswith("-")} if key.endswith("[]") else set()
                found.setdefault(command, {})[key.removesuffix("[]")] = rows
    return found
