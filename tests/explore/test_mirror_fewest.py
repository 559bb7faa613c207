"""The mirror changes as little as can be: against every other change to tiny frames, judged by the check alone."""

from __future__ import annotations

import itertools
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[1] / "constraints"))

from squares import diamond
from strips import strip

from constraints.brief import Brief
from constraints.check import check
from constraints.forms import Frame, Strip
from constraints.lattice import BoolArray, IntArray
from constraints.mirrors import Corner, Draft, laid
from constraints.piece import Piece
from constraints.repeats import blocks_of, repeat_of
from constraints.square import Square
from explore.mirroring.joining import Joined
from explore.mirroring.offers import Mirrored

COLUMNS, ROWS = 9, 8
LARGEST = 13  # half-size of a frame small enough to try everything


def _diamonds(middle: tuple[int, int], size: int) -> Square:
    """One diamond of cloth a repeat on a strip of nine columns."""
    places = {(x, y % ROWS) for x, y in diamond(middle, size)}
    return strip(Strip(COLUMNS, ROWS, 3), ("cloth", places))


STRIPS = {
    "a diamond of 3": _diamonds((4, 1), 3),
    "a diamond of 2 near the footside": _diamonds((3, 2), 2),
}


def _frames(square: Square) -> Iterator[tuple[Joined, Draft]]:
    """Every tiny frame of a strip, with the strip as it falls on it."""
    mirrored = Mirrored(square, Brief(form="strip", pairs=square.pairs, stitches=("cloth",)))
    for row, up, turnover in itertools.product(range(0, ROWS, 2), (False, True), range(ROWS)):
        done = mirrored.frame(Corner(row, up), (turnover, turnover), (1, 1), 1.0)
        if done is not None and isinstance(done.frame.form, Frame) and done.frame.half_size <= LARGEST:
            yield done, laid(repeat_of(square), done.frame.form, Corner(row, up))


@pytest.mark.parametrize("name", STRIPS)
def test_no_frame_that_passes_the_check_has_fewer_changes(name: str) -> None:
    """All sets of fewer changes that have the frame's symmetry, tried on every frame of half-size 13 at most: none
    makes a frame that passes the second check, which shares no rule with the model. Both strips need changes at
    some turnovers; in cloth alone, without figures, none of their corners needs any."""
    tried, at_turnovers = 0, set()
    for done, draft in _frames(STRIPS[name]):
        changes = int(done.changed.sum())
        assert done.fewest
        # Four corners alike and four turnovers alike: what is told of one is a whole number.
        assert done.at_corners() % 4 == done.at_turnovers() % 4 == 0
        assert done.at_corners() + done.at_turnovers() == changes
        at_turnovers.add(done.at_turnovers() // 4)
        piece = done.frame.form.piece("round", "full")
        for changed in _smaller(piece, changes):
            assert check(_frame(done.frame, piece, np.where(changed, -1 - draft.stitch, draft.stitch)))
            tried += 1
        found = np.where(done.changed, -1 - draft.stitch, draft.stitch)
        assert check(_frame(done.frame, piece, found)) == []
    assert tried > 100
    assert 0 in at_turnovers
    assert max(at_turnovers) > 1


def _smaller(piece: Piece, changes: int) -> Iterator[BoolArray]:
    """(n,) every set of whole orbits with fewer pinholes than so many. Nothing is tried where no block may lie."""
    within = np.unique(piece.orbit[piece.depth >= 2])
    for count in range(changes // 4 + 1):
        for orbits in itertools.combinations(within.tolist(), count):
            if piece.orbit_sizes[list(orbits)].sum() < changes:
                yield np.isin(piece.orbit, orbits)


def _frame(found: Square, piece: Piece, stitch: IntArray) -> Square:
    """The frame with blocks at other places: 0 is cloth, -1 open. It says that nothing splits, as its brief wants."""
    brief = {name: limit for name, limit in found.brief.items() if name != "splits"}
    return replace(found, blocks=blocks_of(piece, stitch), splits=0, brief=brief)
