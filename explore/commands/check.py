"""`stampwork check`: saved squares checked anew."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from explore.exits import CHECK_FAILED, Outcome
from explore.terminal import say


def check(
    places: Annotated[list[Path], typer.Argument(metavar="STUDY|FILE...", help="Studies or square files.")],
) -> Outcome:
    """Check saved squares anew.

    Can they be worked, and do they keep their brief? The check shares no rule with the search.

    \b
    Example:
      stampwork check tulip-study

    Names the rule and the pinholes where one does not hold, and ends with exit code 1 then.
    """
    from explore.storage.listing import check_told, checked, square_files_in
    from explore.storage.state import is_study

    rows = []
    for label, path in square_files_in(places):
        rows.append(checked(label, path))
        say(check_told(rows[-1]))
    if not all(row["holds"] for row in rows):
        return Outcome(CHECK_FAILED, told={"checked": rows})
    study = next((place for place in places if is_study(place)), None)
    return Outcome(told={"checked": rows}, then=("page", study, "--open") if study else ())
