"""The squares she picked of a study, and what she noted of them: picks.json, from her and from the page alike.

A note is hers and is never lost unsaid: one on a square that is not picked stays under "notes", and one that
gives way to another is told.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from unicodedata import category

from explore.bad_input import BadInput, WayOut
from explore.files import content, write_whole
from explore.storage.leavings import PICKS

FORMAT, VERSION = "stampwork picks", 1
_LONGEST_NOTE = 2000
_LARGEST_FILE = 4_000_000


class PicksError(BadInput):
    """Picks that cannot be read or taken. The message is one line."""


@dataclass(frozen=True)
class Picks:
    """numbers: the squares picked, rising. notes: what she noted of a square, picked or not; never empty words."""

    study: str
    numbers: tuple[int, ...] = ()
    notes: Mapping[int, str] = field(default_factory=dict)

    def text(self) -> str:
        """The text of picks.json."""
        data: dict[str, Any] = {"format": FORMAT, "version": VERSION, "study": self.study}
        data["picks"] = [{"number": number, "note": self.notes.get(number, "")} for number in self.numbers]
        aside = sorted(set(self.notes) - set(self.numbers))
        if aside:
            data["notes"] = [{"number": number, "note": self.notes[number]} for number in aside]
        return json.dumps(data, indent=1, ensure_ascii=False) + "\n"

    def with_numbers(self, numbers: Iterable[int]) -> Picks:
        return Picks(self.study, tuple(sorted({*self.numbers, *numbers})), self.notes)

    def without(self, numbers: Iterable[int]) -> Picks:
        """The numbers given are picked no longer; their notes stay."""
        return Picks(self.study, tuple(sorted({*self.numbers} - {*numbers})), self.notes)

    def noted(self, notes: Mapping[int, str]) -> Picks:
        """The notes given in place of those there; empty words take one away."""
        kept = {number: note for number, note in {**self.notes, **notes}.items() if note}
        return Picks(self.study, self.numbers, dict(sorted(kept.items())))

    def joined(self, other: Picks) -> Picks:
        """Both together; where both have a note on a square, that of `other`."""
        return self.with_numbers(other.numbers).noted(other.notes)

    def lost(self, later: Picks) -> list[str]:
        """The notes of these picks that `later` has no more, one line each."""
        return [
            f'the note on {number} was "{note}"'
            for number, note in self.notes.items()
            if later.notes.get(number) != note
        ]


def read_picks(folder: Path, study: str) -> Picks:
    """The picks of a study; none if it holds no picks.json. Raises PicksError, OSError."""
    path = folder / PICKS
    return picks_in(path) if path.exists() else Picks(study)


def write_picks(folder: Path, picks: Picks) -> None:
    """Raises OSError and leaves the old file."""
    write_whole(folder / PICKS, picks.text())


def picks_in(path: Path) -> Picks:
    """The picks in a file, from the page or from a study. Raises PicksError, OSError."""
    try:
        return _picks(json.loads(content(path, _LARGEST_FILE).decode("utf-8")))
    except UnicodeDecodeError:
        raise PicksError(f"{path} is damaged: not a text in UTF-8") from None
    except _Damaged as error:
        raise PicksError(f"{path} is damaged: {error}") from None
    except (ValueError, RecursionError):
        raise PicksError(f"{path} is damaged: not a JSON text") from None


class _Damaged(Exception):
    """Why a file of picks cannot be read."""


def _picks(data: Any) -> Picks:
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise _Damaged(f'it is no "{FORMAT}"')
    if data.get("version") != VERSION or isinstance(data.get("version"), bool):
        raise _Damaged(f"it is of another version; this release reads version {VERSION}")
    study = data.get("study")
    if not isinstance(study, str):
        raise _Damaged('"study" must be the name of a study')
    picked, aside = _entries(data, "picks"), _entries(data, "notes")
    twice = sorted(set(picked) & set(aside))
    if twice:
        raise _Damaged(f"{twice[0]} stands under both picks and notes")
    return Picks(study, tuple(sorted(picked))).noted({**picked, **aside})


def _entries(data: dict[str, Any], key: str) -> dict[int, str]:
    entries = data.get(key, [] if key == "notes" else None)
    if not isinstance(entries, list):
        raise _Damaged(f'"{key}" must be a list')
    found: dict[int, str] = {}
    for place, entry in enumerate(entries, 1):
        number = entry.get("number") if isinstance(entry, dict) else None
        if not isinstance(number, int) or isinstance(number, bool) or not 1 <= number <= 10**9:
            raise _Damaged(f'"{key}" entry {place}: "number" must be a whole number from 1')
        note = entry.get("note", "")
        if not isinstance(note, str) or len(note) > _LONGEST_NOTE:
            raise _Damaged(f'"{key}" entry {place}: "note" must be a text of at most {_LONGEST_NOTE} letters')
        if number in found:
            raise _Damaged(f'"{key}" names {number} twice')
        found[number] = tidy(note)
    return found


def tidy(note: str) -> str:
    """A note as it is kept: without blanks round it and control signs; its lines stay."""
    # Cs: a lone half of a surrogate pair, which JSON can spell, but no file can hold.
    lines = ("".join(" " if category(c) in ("Cc", "Cs") else c for c in line).rstrip() for line in note.splitlines())
    return "\n".join(lines).strip()


def refuse_other_study(picks: Picks, study: str, path: Path) -> None:
    """PicksError if the picks in a file are those of another study."""
    if picks.study != study:
        raise PicksError(f'{path} holds picks of "{picks.study}", not of "{study}"', ways_out=[WayOut.ALL_THE_SAME])
