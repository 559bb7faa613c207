"""What is asked of a survey of budgets: brief, stamp, the budgets and where it goes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from constraints.brief import Brief
from constraints.stamp import Stamp
from constraints.symmetry import SUITS
from explore import asking
from explore.bad_input import BadInput
from explore.editing.budget import FEWEST
from explore.editing.budget.door import Budgeting
from explore.editing.plain import ONE_WAY, refuse_unless_plain
from explore.storage import request
from explore.storage.free import Output


@dataclass(frozen=True)
class SurveyRequest:
    """shape: the stamp, None without one. picture: the content of its file. budgets: the fewest and the most pairs.
    notes: what she should know before it begins."""

    brief: Brief
    shape: Stamp | None
    picture: bytes
    budgets: tuple[int, int]
    folder: Path
    notes: tuple[str, ...]
    door: Budgeting


def asked_for(
    file: Path | None, flags: Mapping[str, str], pairs: tuple[int, int] | None, turn: float | None, output: Output
) -> SurveyRequest:
    """A survey by a brief file and flags. pairs: the budgets, if they are named. Raises BadInput."""
    given = dict(flags) if pairs is None else {**flags, "pairs": str(pairs[1])}
    asked = asking.read(file, given, ONE_WAY)
    most = asked.brief.rules.pairs
    names = [each.name for each in asked.brief.stamps]
    if len(names) > 1:
        raise BadInput(f"a budget is of one stamp, not of {asked.brief.called}; one of: {', '.join(names)}")
    if any(each.spot != SUITS for each in asked.brief.stamps):
        raise BadInput("place is given; a budget tells what a print comes to where it suits, so leave it out")
    folder, told = output.study(request.default_folder(names, "budget"))
    refuse_unless_plain("budget", asked.brief.piece, symmetries=True)
    shapes, pictures = request.stamps_asked_for(asked, file, turn)
    shape, picture = (shapes[0], pictures[0]) if shapes else (None, b"")
    notes = told if shape is None else (*told, *(f"{shape.name}: {line}" for line in shape.notes))
    budgets = pairs or (min(FEWEST, most), most)
    return SurveyRequest(asked.brief, shape, picture, budgets, folder, notes, Budgeting(file, given, shape))
