"""A frame made with a corner and a turnover by their numbers, and kept in its study."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from constraints.explain import measures
from constraints.square import Square
from explore.comparing import numbered, whole_number
from explore.endings import NOTHING_FOUND, Refusal
from explore.keeping.study import Study, open_study, square_path
from explore.mirroring.joining import Joined
from explore.mirroring.offers import MAKING, Mirrored, way_of
from explore.mirroring.where import Where
from explore.refused import Refused


@dataclass(frozen=True)
class Parts:
    """What a frame is made of. number: of the strip. corner, turnovers: as `mirror` numbers them. turnovers, repeats:
    across and down. pitch_mm: None for the strip's."""

    number: str
    corner: int
    turnovers: tuple[int, int]
    repeats: tuple[int, int]
    pitch_mm: float | None = None


@dataclass(frozen=True, eq=False)
class Framed:
    """study: as it was. made: the frame, not kept yet."""

    study: Study
    mirrored: Mirrored
    made: Joined

    def kept(self) -> str:
        """Keep the frame under the next number of the study; a line on it."""
        frame = self.made.frame.numbered(self.study.next_number)
        self.study.keep(frame, self.study.next_job - 1)
        return line(self.study, frame, f"frame of strip {self.mirrored.strip.number:02d}", changes_told(self.made))


def framed(folder: Path, parts: Parts, cores: int | None = None) -> Framed:
    """The frame of a strip with a corner and a turnover. Raises Refused, and Refusal if none is found."""
    study = open_study(folder)
    strip = numbered(study, whole_number("NUMBER", parts.number))
    mirrored = Mirrored(replace(strip, pitch_mm=parts.pitch_mm or strip.pitch_mm), study.brief, cores)
    corners = mirrored.corners()
    if not corners:
        raise Refused(f"{strip.number:02d} gives no corner that can be worked")
    if parts.corner > len(corners):
        raise Refused(f"--corner is {parts.corner}; corners of {strip.number:02d} are 1 to {len(corners)}")
    corner = corners[parts.corner - 1].corner
    turnovers = mirrored.turnovers(corners, corner.up)
    across, down = parts.turnovers
    if max(across, down) > len(turnovers):
        sides = f"of sides that go {way_of(corner)}, as from corner {parts.corner}, {strip.number:02d} has turnovers"
        raise Refused(f"--turnover is {max(across, down)}; {sides} 1 to {len(turnovers)}")
    rows = turnovers[across - 1].row, turnovers[down - 1].row
    done = mirrored.frame(corner, rows, parts.repeats, MAKING)
    if done is None:
        raise Refusal(NOTHING_FOUND, "no such frame was found in the effort given; try another corner or turnover")
    return Framed(study, mirrored, done)


def changes_told(made: Joined) -> str:
    """How many pinholes of a frame are worked otherwise than the strip has them, and whether fewer might do."""
    whole = made.count(Where.WHOLE)
    if not whole.changed:
        return "no pinhole changed"
    corners, turnovers = (made.count(where).changed for where in (Where.CORNERS, Where.TURNOVERS))
    fewest = "the fewest there can be" if whole.least == whole.changed else f"at least {whole.least} must be"
    return f"{corners or 'no'} pinholes changed at the corners and {turnovers or 'none'} at the turnovers, {fewest}"


def line(study: Study, lace: Square, what: str, told: str) -> str:
    """One line on a piece just kept."""
    path = square_path(study.folder, lace.number)
    return f"{lace.number:02d}: {what}, {measures(lace)}, {lace.pairs} pairs, {told}; {path}"
