"""What `page`, `pick` and the studio leave in a study, and what becomes of it when a new study takes its place."""

from __future__ import annotations

import os
from pathlib import Path

PAGE, PICKS = "page.html", "picks.json"
# What the studio keeps beside the picks: what was put away and done before.
BESIDE = "studio.json"
PICKS_SHEET = ("picks.png", "picks.pdf")
# A page of ours says so in its head, within so many bytes.
GENERATOR = "Stampwork page"
_HEAD = 20_000


def is_page(path: Path) -> bool:
    """Whether a file is a page that this program wrote. Raises OSError."""
    with path.open("rb") as file:
        return f'<meta name="generator" content="{GENERATOR}">'.encode() in file.read(_HEAD)


def pictures(folder: Path) -> list[str]:
    """The files that mean nothing without the squares of a study: its page, the sheet beside its picks, and what the
    studio keeps."""
    found = [PAGE] if (folder / PAGE).is_file() and is_page(folder / PAGE) else []
    found += [BESIDE] if (folder / BESIDE).is_file() else []
    return found + [name for name in PICKS_SHEET if (folder / PICKS).exists() and (folder / name).is_file()]


def set_aside(folder: Path) -> str:
    """Picks and notes are hers, but their numbers mean squares that go: keep them under a free name.

    What was done, in one line; "" if there are none. Raises OSError.
    """
    if not (folder / PICKS).exists():
        return ""
    names = ("picks-before.json", *(f"picks-before-{number}.json" for number in range(2, 10**6)))
    free = next(name for name in names if not (folder / name).exists())
    os.replace(folder / PICKS, folder / free)
    return f"{PICKS} is of the study before; it is kept as {folder / free}"
