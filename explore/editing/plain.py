"""Commands that take one way of working, and what holds for them where she does not say."""

from __future__ import annotations

from constraints.brief import AskedPiece
from constraints.piece import WORKED
from explore.bad_input import BadInput

# What holds where she does not say, beside the keys' own defaults: of what is counted, and of what a budget surveys.
USUAL = {"worked": "round", "splits": "0", "known": "no"}
ONE_WAY = {"worked": "round"}


def refuse_several_ways(command: str, piece: AskedPiece) -> None:
    """Refused if a brief leaves the way of working open."""
    if piece.worked not in WORKED:
        raise BadInput(f"{command} takes one way of working, not {piece.worked}; one of: {', '.join(WORKED)}")
