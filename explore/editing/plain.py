"""Commands that know squares of one symmetry with a footside and no other form yet."""

from __future__ import annotations

from constraints.brief import AskedPiece
from constraints.edgings import FOOTSIDE
from constraints.forms import FORMS
from constraints.piece import WORKED
from constraints.symmetry import SYMMETRIES
from explore.bad_input import BadInput

# What holds where she does not say, beside the keys' own defaults: of what is counted, and of what a budget surveys.
USUAL = {"worked": "round", "splits": "0", "known": "no"}
ONE_WAY = {"worked": "round"}


def refuse_unless_plain(command: str, piece: AskedPiece, symmetries: bool = False) -> None:
    """Refused if a brief asks a command for another form, or for another edge than a footside, or for several ways of
    working. symmetries: whether it takes several of them."""
    varied = [name for name, form in FORMS.items() if form.varied]
    for key, value, allowed in (("form", piece.form, varied), ("edging", piece.edging, [FOOTSIDE])):
        if value not in allowed:
            raise BadInput(f"{key} is {value}; allowed for {command}: {', '.join(allowed)}")
    if not symmetries and piece.symmetry not in SYMMETRIES:
        raise BadInput(f"{command} takes one symmetry, not {piece.symmetry}; one of: {', '.join(SYMMETRIES)}")
    refuse_several_ways(command, piece)


def refuse_several_ways(command: str, piece: AskedPiece) -> None:
    """Refused if a brief leaves the way of working open."""
    if piece.worked not in WORKED:
        raise BadInput(f"{command} takes one way of working, not {piece.worked}; one of: {', '.join(WORKED)}")
