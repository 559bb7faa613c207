"""`stampwork frame`: a frame from a strip, with the corner and the turnover that she chose."""

from __future__ import annotations

import re
from typing import Annotated

import typer

from explore.asking.kinds import Whole
from explore.commands.shared import StudyFolder, value
from explore.endings import DONE, NOTHING_FOUND, Refusal
from explore.refused import Refused
from explore.terminal import note, say

_REPEATS = re.compile(r"\s*([0-9]{1,3})\s*(?:x\s*([0-9]{1,3})\s*)?", re.ASCII)


def frame_strip(
    study: StudyFolder,
    number: Annotated[str, typer.Argument(metavar="NUMBER", help="A strip of the study.")],
    corner: Annotated[str, typer.Option(metavar="VALUE", help="The corner, as `mirror` numbers it.")] = "1",
    turnover: Annotated[str, typer.Option(metavar="VALUE", help="The turnover, as `mirror` numbers it.")] = "1",
    repeats: Annotated[
        str, typer.Option(metavar="VALUE", help="Repeats from corner to turnover: 2, or 2x3 across and down.")
    ] = "1",
) -> int:
    """Make a frame of a strip.

    Four corners alike, and in the middle of every side a turnover at which the strip meets its reverse. Where the
    mirror breaks a rule, the fewest pinholes are changed. The frame is a new number of the study.

    \b
    Example:
      stampwork frame edgings 3 --corner 2 --turnover 1 --repeats 2x3
    """
    which = value("--corner", corner, Whole(1, 400)), value("--turnover", turnover, Whole(1, 400))
    counts = _REPEATS.fullmatch(repeats)
    if counts is None:
        raise Refused(f"--repeats is {repeats!r}; allowed: a whole number, or two such as 2x3")

    from explore.mirroring.making import make

    made = make(study, number, *which, (int(counts[1]), int(counts[2] or counts[1])))
    if made is None:
        raise Refusal(NOTHING_FOUND, "no such frame was found in the effort given; try another corner or turnover")
    for line in made.notes:
        note(line)
    say(made.told)
    return DONE
