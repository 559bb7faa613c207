"""What she keeps and puts away of a study, undone and done again without end.

What is kept lies in the picks of the study, as every command has them; what is put away, what was done before, and
where she is at the pillow lie beside them in `BESIDE`. Both are read anew before they are changed, so that two tabs and
a command do not take each other's changes back.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from explore.bad_input import BadInput
from explore.files import content, write_whole
from explore.storage.leavings import BESIDE
from explore.storage.picks import Picks, read_picks, tidy, write_picks
from explore.studio.colours import USUAL, Colours, colours_of

FORMAT, VERSION = "stampwork studio", 1
KEPT, AWAY, OPEN = "kept", "away", ""
NOTE, STAYS, WALL = "note", "stays", "wall"
_LARGEST = 8 * 10**6


@dataclass
class _Beside:
    """away: squares put away. past, future: changes, the last one at the end: number, what changed, from, to. pillow:
    by number the line of the order of work at which she is; looking: of those squares the ones of which she looks after
    that line where the pairs hang. ways: how she works, as options of papers. liking: whether more squares are
    looked for by what she keeps. colours: of her thread and cloth. wished: whether the wishes were changed on the
    table; stays: squares that she has brought back, though they do not hold of them. wall: what hangs on it, as JSON;
    "" for nothing yet."""

    away: set[int] = field(default_factory=set)
    past: list[list[Any]] = field(default_factory=list)
    future: list[list[Any]] = field(default_factory=list)
    pillow: dict[int, int] = field(default_factory=dict)
    looking: set[int] = field(default_factory=set)
    ways: dict[str, str] = field(default_factory=dict)
    liking: bool = True
    colours: Colours = USUAL
    wished: bool = False
    stays: set[int] = field(default_factory=set)
    wall: str = ""


class StudyMarks:
    """Those of the study in a folder, called `name`. All methods raise BadInput and OSError."""

    def __init__(self, folder: Path, name: str) -> None:
        self._folder, self._name = folder, name
        self._guard = threading.Lock()

    def told(self) -> dict[str, Any]:
        """What the page is told."""
        with self._guard:
            return _told(self._picks(), self._beside())

    def mark(self, number: int, state: str) -> dict[str, Any]:
        """A square kept, put away or neither from now on; what the page is told then."""
        if state not in (KEPT, AWAY, OPEN):
            raise BadInput("a square is kept, put away or neither")
        return self._changed(number, "state", state)

    def note(self, number: int, words: str) -> dict[str, Any]:
        """A note on a square; empty words take it away."""
        if len(words) > 2000:
            raise BadInput("a note has at most 2000 letters")
        return self._changed(number, NOTE, tidy(words))

    def bring_back(self, number: int) -> dict[str, Any]:
        """A square that faded is among the others again."""
        return self._changed(number, STAYS, "yes")

    def hang(self, wall: Mapping[str, Any]) -> dict[str, Any]:
        """What hangs on the wall from now on: `frames` and the rest of it, as the page is told."""
        return self._changed(0, WALL, json.dumps(wall, ensure_ascii=False))

    def _changed(self, number: int, what: str, after: str) -> dict[str, Any]:
        with self._guard:
            picks, beside = self._picks(), self._beside()
            before = _was(picks, beside, number, what)
            if before != after:
                beside.past.append([number, what, before, after])
                beside.future.clear()
                picks = self._set(picks, beside, number, what, after)
            return _told(picks, beside)

    def undo(self) -> dict[str, Any]:
        """Take the last change back."""
        return self._stepped(back=True)

    def redo(self) -> dict[str, Any]:
        """Do again what was taken back last."""
        return self._stepped(back=False)

    def _stepped(self, back: bool) -> dict[str, Any]:
        with self._guard:
            picks, beside = self._picks(), self._beside()
            source, other = (beside.past, beside.future) if back else (beside.future, beside.past)
            if not source:
                return _told(picks, beside)
            change = source.pop()
            other.append(change)
            number, what, before, after = change
            picks = self._set(picks, beside, number, what, before if back else after)
            return {**_told(picks, beside), "at": number}

    def step(self, number: int) -> tuple[int, bool]:
        """The line of the order of work at which she is with a square, 0 at first; whether she looks after it where the
        pairs hang."""
        with self._guard:
            beside = self._beside()
            return beside.pillow.get(number, 0), number in beside.looking

    def set_step(self, number: int, step: int, looking: bool = False) -> None:
        """She is at that line, or looks after it."""
        with self._guard:
            beside = self._beside()
            beside.pillow[number] = step
            beside.looking = beside.looking | {number} if looking else beside.looking - {number}
            self._write(beside)

    def ways(self) -> dict[str, str]:
        """How she works, as options of papers; those that she chose."""
        with self._guard:
            return self._beside().ways

    def set_ways(self, ways: Mapping[str, str]) -> None:
        """She works so from now on."""
        with self._guard:
            beside = self._beside()
            beside.ways = dict(ways)
            self._write(beside)

    def set_liking(self, on: bool) -> dict[str, Any]:
        """More squares are looked for by what she keeps, or not; what the page is told then."""
        return self._told_with(liking=on)

    def colours(self) -> Colours:
        """Of her thread and cloth."""
        with self._guard:
            return self._beside().colours

    def set_colours(self, colours: Colours) -> dict[str, Any]:
        """Lace is drawn in these from now on; what the page is told then."""
        return self._told_with(colours=colours)

    def _told_with(self, **changed: Any) -> dict[str, Any]:
        """What the page is told once this stands beside the squares."""
        with self._guard:
            picks, beside = self._picks(), replace(self._beside(), **changed)
            self._write(beside)
            return _told(picks, beside)

    def wished(self) -> bool:
        """Whether the wishes were changed on the table."""
        with self._guard:
            return self._beside().wished

    def set_wished(self) -> None:
        """They are, from now on."""
        with self._guard:
            beside = self._beside()
            beside.wished = True
            self._write(beside)

    def _set(self, picks: Picks, beside: _Beside, number: int, what: str, value: str) -> Picks:
        if what == NOTE:
            after = picks.noted({**picks.notes, number: value})
        elif what == STAYS:
            after = picks
            beside.stays = beside.stays | {number} if value else beside.stays - {number}
        elif what == WALL:
            after, beside.wall = picks, value
        else:
            beside.away.discard(number)
            if value == AWAY:
                beside.away.add(number)
            after = picks.with_numbers([number]) if value == KEPT else picks.without([number])
        after = Picks(self._name, after.numbers, after.notes)
        if after != picks:
            write_picks(self._folder, after)
        self._write(beside)
        return after

    def _picks(self) -> Picks:
        return read_picks(self._folder, self._name)

    def _beside(self) -> _Beside:
        path = self._folder / BESIDE
        if not path.exists():
            return _Beside()
        try:
            return _read(json.loads(content(path, _LARGEST).decode("utf-8")))
        except (ValueError, TypeError, KeyError, RecursionError):
            raise BadInput(f"{path.name} in {self._name} is damaged; move it elsewhere") from None

    def _write(self, beside: _Beside) -> None:
        data = {
            "format": FORMAT,
            "version": VERSION,
            "away": sorted(beside.away),
            "past": beside.past,
            "future": beside.future,
            "pillow": {str(number): step for number, step in sorted(beside.pillow.items())},
            "looking": sorted(beside.looking),
            "ways": beside.ways,
            "liking": beside.liking,
            "colours": list(beside.colours),
            "wished": beside.wished,
            "stays": sorted(beside.stays),
            "wall": beside.wall,
        }
        write_whole(self._folder / BESIDE, json.dumps(data, ensure_ascii=False) + "\n")


def _read(data: Any) -> _Beside:
    if data["format"] != FORMAT or data["version"] != VERSION:
        raise ValueError
    changes = [[int(n), str(what), str(a), str(b)] for n, what, a, b in [*data["past"], *data["future"]]]
    past = len(data["past"])
    return _Beside(
        away={int(number) for number in data["away"]},
        past=changes[:past],
        future=changes[past:],
        pillow={int(number): int(step) for number, step in data["pillow"].items()},
        ways={str(name): str(value) for name, value in data["ways"].items()},
        # Of these an older file says nothing.
        looking={int(number) for number in data.get("looking", ())},
        liking=bool(data.get("liking", True)),
        colours=colours_of(*data.get("colours", USUAL)),
        wished=bool(data.get("wished", False)),
        stays={int(number) for number in data.get("stays", ())},
        wall=str(data.get("wall", "")),
    )


def _was(picks: Picks, beside: _Beside, number: int, what: str) -> str:
    if what == NOTE:
        return picks.notes.get(number, "")
    if what == WALL:
        return beside.wall
    if what == STAYS:
        return "yes" if number in beside.stays else ""
    return KEPT if number in picks.numbers else AWAY if number in beside.away else OPEN


def _told(picks: Picks, beside: _Beside) -> dict[str, Any]:
    return {
        "kept": list(picks.numbers),
        "away": sorted(beside.away - set(picks.numbers)),
        "notes": {str(number): words for number, words in picks.notes.items()},
        "undo": len(beside.past),
        "redo": len(beside.future),
        "liking": beside.liking,
        "colours": beside.colours.told,
        "stays": sorted(beside.stays),
        "wall": json.loads(beside.wall) if beside.wall else None,
    }
