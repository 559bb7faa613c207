"""Gimps: how many pairs pass them at the ends of a block."""

from __future__ import annotations

from player.board import Begun, Board
from player.fault import must
from player.pricking import Place


def past_gimp(
    board: Board,
    begun: Begun,
    ways: list[tuple[Place, Place | None, Place | None]],
    row: list[Place],
    pin: int | None,
) -> None:
    """The pairs of a first or last row pass the gimp, but for those that go over a seam or from one place of the row to
    the next: at the first and last pin of the block one on either side of it; at the end of one half and the beginning
    of the other, which lie behind the corner line on the right, the thread on the left runs round them. ways: the place
    of the row and the two ends of each. pin: beside which the gimp begins or ends, None at such an end of a half."""
    if begun.gimp is None:
        return
    pricking, within = board.pricking, set(row)
    past = [place for place, at, to in ways if at is None or not (pricking.seam(at, to) or within >= {at, to})]
    if pin is None:
        begun.passings[0] += len(past)
        return
    at = next((place for place in row if pricking.number.get(place) == pin), None)
    if at is None:
        must(len(row) == 1, "a gimp begins and ends beside a pin of its block")
        at = row[0]
    must(past.count(at) == 2, "a gimp begins and ends beside a pin where a pair passes on either side")
    before = sum(row.index(place) < row.index(at) for place in past)
    begun.passings[0] += before + 1
    begun.passings[1] += len(past) - before - 1
