"""A frame made with a corner and a turnover by their numbers, and kept in its study."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import islice
from pathlib import Path

from constraints.design import Design
from constraints.forms import Frame
from constraints.mirrors import Corner, frame_of
from constraints.wording import measures
from explore.bad_input import BadInput
from explore.editing.mirroring.centres import SMALLEST_OPENING
from explore.editing.mirroring.joining import Joined
from explore.editing.mirroring.offers import MAKING, CornerOffer, Mirrored, TurnoverOffer, onwards
from explore.editing.mirroring.where import Where
from explore.search.workers import Hands
from explore.storage.study import Study, open_study, square_path

# So many sizes are tried where no repeats are named.
_SIZES = 4


@dataclass(frozen=True)
class Parts:
    """What a frame is made of. corner, turnovers: as `mirror` numbers them. turnovers, repeats: across and down;
    without repeats the smallest is made whose corners and turnovers do not meet. filled: whether its middle needs
    room."""

    corner: int
    turnovers: tuple[int, int]
    repeats: tuple[int, int] | None = None
    filled: bool = False


@dataclass(frozen=True, eq=False)
class Framed:
    """study: as it was. made: the frame, not kept yet."""

    study: Study
    mirrored: Mirrored
    made: Joined

    def keep(self) -> str:
        """Keep the frame under the next number of the study; a line on it."""
        frame = self.made.frame.numbered(self.study.next_number)
        self.study.keep(frame, self.study.next_job - 1)
        return line(self.study, frame, f"frame of strip {self.mirrored.strip.number:02d}", changes_told(self.made))


class NoFrame(Exception):
    """No such frame was found in the effort given."""


class Frames:
    """The frames of one strip of a study."""

    def __init__(self, folder: Path, number: int, pitch_mm: float | None, cores: Hands = None) -> None:
        """pitch_mm: of the frames, None for the strip's. Raises BadInput."""
        self.study = open_study(folder)
        strip = self.study.numbered(number)
        self.mirrored = Mirrored(replace(strip, pitch_mm=pitch_mm or strip.pitch_mm), self.study.brief, cores)
        self._turnovers: dict[bool, list[TurnoverOffer]] = {}

    @cached_property
    def corners(self) -> list[CornerOffer]:
        """As `mirror` numbers them. Refused if there is none."""
        found = self.mirrored.corners()
        if not found:
            raise BadInput(f"{self.mirrored.strip.number:02d} gives no corner that can be worked")
        return found

    def turnovers(self, up: bool) -> list[TurnoverOffer]:
        """As `mirror` numbers those after corners from which the side goes that way."""
        if up not in self._turnovers:
            self._turnovers[up] = self.mirrored.turnovers(self.corners, up)
        return self._turnovers[up]

    def frame_of(self, parts: Parts) -> Frame | None:
        """The form of a frame, the smallest where no repeats are named; None if there is none. Raises BadInput."""
        corner, rows = self._places(parts)
        return next((frame_of(self.mirrored.form, corner, rows, each) for each in self.repeats(parts)), None)

    def repeats(self, parts: Parts) -> list[tuple[int, int]]:
        """Those that are tried, in their order. Raises BadInput."""
        if parts.repeats is not None:
            return [parts.repeats]
        corner, rows = self._places(parts)
        wide = ((count, count) for count in self.mirrored.counts(corner, rows))
        if parts.filled:
            forms = ((each, frame_of(self.mirrored.form, corner, rows, each)) for each in wide)
            wide = (each for each, form in forms if form is not None and min(form.opening) >= SMALLEST_OPENING)
        return list(islice(wide, _SIZES))

    def framed(self, parts: Parts) -> Framed:
        """A frame with its corner and its turnover. Raises BadInput and NoFrame."""
        corner, rows = self._places(parts)
        for repeats in self.repeats(parts):
            done = self.mirrored.frame(corner, rows, repeats, MAKING)
            if done is not None:
                return Framed(self.study, self.mirrored, done)
        raise NoFrame

    def _places(self, parts: Parts) -> tuple[Corner, tuple[int, int]]:
        number = self.mirrored.strip.number
        if parts.corner > len(self.corners):
            raise BadInput(
                f"corner is {parts.corner}; corners of {number:02d} are 1 to {len(self.corners)}", of="corner"
            )
        corner = self.corners[parts.corner - 1].corner
        turnovers = self.turnovers(corner.up)
        across, down = parts.turnovers
        if max(across, down) > len(turnovers):
            sides = f"of sides that go {onwards(corner)}, as from corner {parts.corner}, {number:02d} has turnovers"
            raise BadInput(f"turnover is {max(across, down)}; {sides} 1 to {len(turnovers)}", of="turnover")
        return corner, (turnovers[across - 1].row, turnovers[down - 1].row)


def changes_told(made: Joined) -> str:
    """How many pinholes of a frame are worked otherwise than the strip has them, and whether fewer might do; and how
    many eyes are left out, where blocks go over a corner line."""
    whole, left_out = made.count(Where.WHOLE), made.eyes_left_out
    eyes = f", {left_out} eye{'s' if left_out > 1 else ''} left out" if left_out else ""
    if not whole.changed:
        return f"no pinhole changed{eyes}"
    corners, turnovers = (made.count(where).changed for where in (Where.CORNERS, Where.TURNOVERS))
    fewest = "the fewest there can be" if whole.least == whole.changed else f"at least {whole.least} must be"
    where = f"{corners or 'no'} pinholes changed at the corners and {turnovers or 'none'} at the turnovers"
    return f"{where}, {fewest}{eyes}"


def line(study: Study, design: Design, what: str, told: str) -> str:
    """One line on a piece just kept."""
    path = square_path(study.folder, design.number)
    return f"{design.number:02d}: {what}, {measures(design)}, {design.pairs} pairs, {told}; {path}"
