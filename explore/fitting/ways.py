"""All ways to make one piece fit an object, with what each takes; and the one she chose, made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from constraints import fitting
from constraints.check import check
from constraints.explain import shown
from constraints.fitting import EDGING, FRAME, MAT, STRIP, Size, Way
from constraints.forms import Frame, Rectangle, Square, Strip, pairs_needed
from constraints.materials import Materials, materials
from constraints.repeats import repeat_of, unrolled
from constraints.working.work import work
from explore.comparing import numbered, whole_number
from explore.job import Fault
from explore.keeping.study import Study, open_study
from explore.mirroring.offers import MAKING, Mirrored
from explore.refused import Refused

# So many ways are listed.
MOST_WAYS = 12
# So many of the corners and turnovers that change least are tried.
_CORNERS, _TURNOVERS = 8, 8

_OF_FORM = {Strip: (STRIP, FRAME, EDGING), Frame: (FRAME, EDGING), Square: (MAT,), Rectangle: (MAT,)}


@dataclass(frozen=True)
class Took:
    """What a way takes: pins and metres of thread, hours least and most. counted: from its own work, not estimated."""

    pairs: int
    pins: int
    thread_m: float
    hours: tuple[float, float]


class Fitting:
    """One piece of a study and an object."""

    def __init__(self, folder: Path, number: str, target: Size, purpose: str | None, pitch_mm: Size | None) -> None:
        """Refused if the piece cannot serve the purpose."""
        self.study: Study = open_study(folder)
        self.square = numbered(self.study, whole_number("NUMBER", number))
        form = self.square.form
        allowed = _OF_FORM[type(form)]
        self.purpose = purpose or allowed[0]
        if self.purpose not in allowed:
            what = f"{self.square.number:02d} is a {form.name}; it can be: {', '.join(allowed)}"
            raise Refused(f"--as is {self.purpose}, but {what}")
        self.target = target
        self.pitch_mm = pitch_mm or (self.square.pitch_mm, self.square.pitch_mm)

    @cached_property
    def _mirrored(self) -> Mirrored:
        return Mirrored(self.square, self.study.brief)

    def ways(self, watch: Callable[[], None] = lambda: None) -> list[Way]:
        """Every way, nearest first, then those with the fewest pinholes; of equal ones the first."""
        form = self.square.form
        found: list[Way]
        if not isinstance(form, Strip):
            found = [fitting.fitted(form, self.purpose, self.target, self.pitch_mm)]
        elif self.purpose == STRIP:
            found = list(fitting.strips(form, self.target, self.pitch_mm))
        else:
            corners = self._mirrored.corners(watch)[:_CORNERS]
            if not corners:
                raise Refused(f"{self.square.number:02d} gives no corner that can be worked")
            turnovers = self._mirrored.turnovers(corners[0].corner, watch)[:_TURNOVERS]
            own, rows = [each.corner for each in corners], [each.row for each in turnovers]
            found = list(fitting.frames(form, own, rows, self.purpose, self.target, self.pitch_mm))
        alike: dict[object, Way] = {}
        for way in found:
            alike.setdefault((way.form, way.pitch_mm), way)
        return sorted(alike.values(), key=lambda way: (round(way.error, 2), _pinholes(way), way.pitch_mm))

    @cached_property
    def _own(self) -> tuple[Materials, int]:
        """What the piece takes as it is, and its pinholes."""
        return materials(work(self.square)), len(self.square.piece())

    def takes(self, way: Way) -> Took:
        """What a way takes, reckoned from the piece as it is by the number of pinholes; thread by the pitch too."""
        own, pinholes = self._own
        more = _pinholes(way) / pinholes
        pairs = pairs_needed(way.form, way.form.ways[0] if len(way.form.ways) == 1 else self.square.worked,
                             self.square.passives)  # fmt: skip
        thread = own.total_m * more * way.pitch_mm / self.square.pitch_mm
        return Took(pairs, round(own.pins * more), thread, (own.hours[0] * more, own.hours[1] * more))

    def make(self, way: Way) -> str:
        """Make the piece of a way and keep it under the next number; a line that says so. Raises Refused."""
        number = self.study.next_number
        form = way.form
        if isinstance(self.square.form, Strip) and isinstance(form, Strip):
            made = unrolled(replace(repeat_of(self.square).square, form=form), form)
        elif isinstance(self.square.form, Strip) and way.corner is not None:
            done = self._mirrored.frame(way.corner, way.turnovers, way.repeats, MAKING)
            if done is None:
                raise Refused("no frame that can be worked was found for this way; try another")
            made = done.frame
        else:
            made = self.square
        made = replace(made.numbered(number), pitch_mm=way.pitch_mm)
        findings = check(made)
        if findings:
            raise Fault(f"a {form.name} made to fit: {findings[0]}")
        self.study.keep(made, self.study.next_job - 1)
        width, height = (shown(each) for each in way.size)
        return (
            f"{number:02d}: {form.name} of {self.square.number:02d}, {width} x {height} mm, {made.pairs} pairs; "
            f"{self.study.folder / 'squares' / f'{number:02d}.json'}"
        )


def _pinholes(way: Way) -> int:
    form = way.form
    if isinstance(form, Strip):
        return form.columns * form.length // 2
    width, height = form.box[2], form.box[3]
    inner = (form.opening[0] * form.opening[1]) if isinstance(form, Frame) else 0
    return 2 * (width * height - inner)
