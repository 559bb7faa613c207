"""Orders of work followed in their words: `python tests/bench/played.py [seconds] [first seed]`, 600 and 1 by default.

Pieces of every cell of form, symmetry and edging, seed after seed until the time is over, 2000 of them at least; each
with a ground method, start line, corner pins, gimps, footside and finish drawn with it. After every sentence it is
looked whether all pairs hang where they are told to. One line a cell: how many were followed, with what, and the seeds
that could not be; then how many texts with one pin, pair or side changed were refused, of one a piece. Exit code 1 if
a text could not be followed, a false one could, or a cell is empty.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from time import perf_counter

sys.path.append(str(Path(__file__).parents[1] / "gallery"))

from before_her import pricking_of, text_of, told_after_all
from changed_texts import changed
from player.fault import Fault
from player.following import follow
from playing import looked
from random_pieces import Cell, Drawn, cells, drawn

from constraints.working.habits import HORIZONTAL, OPEN

LEAST = 2000


@dataclass
class Row:
    """What became of the pieces of a cell. faults: seeds that could not be followed. false: changed texts that could
    be."""

    followed: int = 0
    had: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    false: list[str] = field(default_factory=list)


def had(piece: Drawn) -> list[str]:
    """What a piece has besides what its cell says."""
    habits = piece.work.habits
    found = {
        "open": habits.ground == OPEN,
        "level": habits.start_line == HORIZONTAL,
        "corner pins": habits.corner_pins,
        "gimp": bool(habits.gimp),
        "right": piece.telling.mirrored,
        "blocks": len(piece.work.design.blocks) > 0,
        "figures": len(piece.work.design.fillings) > 0,
    }
    return [name for name, true in found.items() if true]


def tried(cell: Cell, seed: int, row: Row) -> None:
    """A piece drawn, followed with a look after every sentence, and refused with a change."""
    piece = drawn(cell, seed)
    if piece is None:
        return
    text, pricking = text_of(piece.work, piece.telling), pricking_of(piece.work, piece.telling.mirrored)
    try:
        follow(text, pricking)
        looked(piece.work, piece.telling, told_after_all(piece.work, piece.telling))
    except Fault as fault:
        row.faults.append(f"{seed} ({fault})")
        return
    row.followed += 1
    row.had.update(had(piece))
    false, what = changed(text, Random(seed))
    try:
        follow(false, pricking)
    except Fault:
        return
    row.false.append(f"{seed} ({what})")


def main(seconds: float, first: int) -> int:
    """Print the table."""
    rows = {cell: Row() for cell in cells()}
    begin, seed = perf_counter(), first
    while perf_counter() - begin < seconds or sum(row.followed for row in rows.values()) < LEAST:
        for cell, row in rows.items():
            tried(cell, seed, row)
        seed += 1
    for cell, row in rows.items():
        name = f"{cell.form} {cell.worked}, {cell.symmetry}, {cell.edging}"
        told = ", ".join(f"{name} {count}" for name, count in sorted(row.had.items()))
        print(f"{name:48} {row.followed:4} followed   {told}")
        for fault in (*row.faults, *(f"FALSE {each}" for each in row.false)):
            print(f"    {fault}")
    followed = sum(row.followed for row in rows.values())
    faults, false = sum(len(row.faults) for row in rows.values()), sum(len(row.false) for row in rows.values())
    empty = [cell for cell, row in rows.items() if not row.followed]
    print(f"seeds {first} to {seed - 1}: {followed} pieces in {len(rows)} cells followed, {faults} not;")
    print(f"{len(empty)} cells empty")
    print(f"{followed - false} of {followed} texts with one pin, pair or side changed refused")
    return 1 if faults or false or empty else 0


if __name__ == "__main__":
    asked = [int(each) for each in sys.argv[1:]]
    sys.exit(main(*(asked + [600, 1][len(asked) :])))
