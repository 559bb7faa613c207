"""What is asked of a survey of budgets: brief, stamps, the budgets and where it goes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from constraints.brief import Brief
from constraints.stamp import Stamp
from explore import asking
from explore.editing.budget import FEWEST
from explore.editing.budget.door import Budgeting
from explore.editing.plain import ONE_WAY, refuse_several_ways
from explore.storage import request
from explore.storage.free import Output


@dataclass(frozen=True)
class SurveyRequest:
    """pictures: the contents of the stamps' files. budgets: the fewest and the most pairs.
    notes: what she should know before it begins."""

    brief: Brief
    stamps: tuple[Stamp, ...]
    pictures: tuple[bytes, ...]
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
    folder, told = output.study(request.default_folder(names, "budget"))
    refuse_several_ways("budget", asked.brief.piece)
    stamps, pictures = request.stamps_asked_for(asked, file, turn)
    notes = (*told, *(f"{stamp.name}: {line}" for stamp in stamps for line in stamp.notes))
    budgets = pairs or (min(FEWEST, most), most)
    door = Budgeting(file, given, tuple(stamps))
    return SurveyRequest(asked.brief, tuple(stamps), tuple(pictures), budgets, folder, notes, door)
