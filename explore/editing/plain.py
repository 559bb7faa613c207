"""Commands that know squares with a footside and no other form yet."""

from __future__ import annotations

from constraints.brief import AskedPiece
from constraints.edgings import FOOTSIDE
from constraints.forms import FORMS
from explore.bad_input import BadInput


def refuse_unless_plain(command: str, piece: AskedPiece) -> None:
    """Refused if a brief asks a command for another form, or for another edge than a footside."""
    varied = [name for name, form in FORMS.items() if form.varied]
    for key, value, allowed in (("form", piece.form, varied), ("edging", piece.edging, [FOOTSIDE])):
        if value not in allowed:
            raise BadInput(f"{key} is {value}; allowed for {command}: {', '.join(allowed)}")
