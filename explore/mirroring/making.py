"""A frame made with a corner and a turnover by their numbers, and kept in its study."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from constraints.explain import measures
from explore.comparing import numbered, whole_number
from explore.keeping.study import open_study
from explore.mirroring.offers import MAKING, Mirrored
from explore.refused import Refused


@dataclass(frozen=True)
class Made:
    """told: what was made, in a line. notes: what is amiss in the study."""

    told: str
    notes: tuple[str, ...]


def make(folder: Path, number: str, corner: int, turnover: int, repeats: tuple[int, int]) -> Made | None:
    """Make a frame of a strip and keep it under the next number of the study; None if none is found. Raises Refused."""
    study = open_study(folder)
    strip = numbered(study, whole_number("NUMBER", number))
    mirrored = Mirrored(strip, study.brief)
    corners = mirrored.corners()
    if not corners:
        raise Refused(f"{strip.number:02d} gives no corner that can be worked")
    if corner > len(corners):
        raise Refused(f"--corner is {corner}; corners of {strip.number:02d} are 1 to {len(corners)}")
    turnovers = mirrored.turnovers(corners[0].corner)
    if turnover > len(turnovers):
        raise Refused(f"--turnover is {turnover}; turnovers of {strip.number:02d} are 1 to {len(turnovers)}")
    row = turnovers[turnover - 1].row
    done = mirrored.frame(corners[corner - 1].corner, (row, row), repeats, MAKING)
    if done is None:
        return None
    frame = done.frame.numbered(study.next_number)
    study.keep(frame, study.next_job - 1)
    changed = int(done.changed.sum())
    told = f"{changed} pinholes changed" if changed else "no pinhole changed"
    return Made(
        f"{frame.number:02d}: frame of strip {strip.number:02d}, {measures(frame)}, {frame.pairs} pairs, {told}; "
        f"{study.folder / 'squares' / f'{frame.number:02d}.json'}",
        study.notes,
    )
