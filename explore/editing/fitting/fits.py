"""All ways to make one piece fit an object, with what each takes; and the one she chose, made."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from math import inf
from pathlib import Path

from constraints import fitting, mirrors
from constraints.design import Design
from constraints.fitting import Lengths, SizedForm
from constraints.forms import AS_STRIP
from constraints.repeats import repeat_of, unrolled
from constraints.wording import shown
from explore.bad_input import BadInput
from explore.editing.fitting.chosen import ChosenPiece
from explore.editing.fitting.variants import Allowed, Variant
from explore.editing.mirroring.making import changes_told
from explore.editing.mirroring.offers import MAKING
from explore.editing.mirroring.where import Count
from explore.search.attempt import sound
from explore.storage.study import open_study, square_path

# So many ways are listed.
MOST_FITS = 12
# As a frame so many variants of a strip are tried: each takes as long as the strip itself.
_VARIANTS = 5


@dataclass(frozen=True)
class Took:
    """What a way takes, reckoned: pins and metres of thread, hours least and most."""

    pairs: int
    pins: int
    thread_m: float
    hours: tuple[float, float]


@dataclass(frozen=True)
class Turned:
    """The corner and the turnovers, across and down, of a frame made of a strip, by their numbers in what `mirror`
    lists. at_corners, at_turnovers: pinholes worked otherwise than the strip has them, in all four of each."""

    corner: int
    turnovers: tuple[int, int]
    at_corners: Count
    at_turnovers: Count


@dataclass(frozen=True, eq=False)
class Fit:
    """One way to fit the object. variant: of the piece she chose. turned: of a frame made of a strip."""

    sized: SizedForm
    variant: Variant
    turned: Turned | None = None

    @property
    def changed(self) -> int:
        """How many pinholes are worked otherwise than in the piece."""
        return (self.turned.at_corners + self.turned.at_turnovers).changed if self.turned else 0


class NoFittingFrame(Exception):
    """No frame that can be worked was found for a way."""


@dataclass(frozen=True, eq=False)
class Fitting:
    """A piece and an object. target: width and height of the object, mm. purpose: what the piece becomes. pitch_mm: the
    finest and the coarsest that it may have."""

    chosen: ChosenPiece
    target: Lengths
    purpose: str
    pitch_mm: Lengths
    change: Allowed

    def otherwise(self, pitch_mm: Lengths, change: Allowed) -> Fitting:
        """The same piece and object with other pitches and changes."""
        return replace(self, pitch_mm=pitch_mm, change=change)

    def fits(self, ease: float, watch: Callable[[str], None] = lambda told: None) -> list[Fit]:
        """Every way: those that fit first, with the fewest changes, then to the nearest mm, with the fewest pinholes;
        the others nearest first. watch: told which variant is tried. ease: how far off it may be, mm; of variants of a
        strip as a frame only those are tried that could fit so well."""
        own, *others = self.chosen.variants(self.change)
        if own.piece.form.repeating and self.purpose != AS_STRIP:
            near = sorted((self._could(each), number) for number, each in enumerate(others))
            others = [others[number] for error, number in near if error <= ease][:_VARIANTS]
        found = []
        for each in (own, *others):
            again = partial(watch, each.told or "as it is")
            again()
            found += [Fit(sized, each, self._turned(each, sized)) for sized in self._fitted(each, again)]
        alike: dict[object, Fit] = {}
        for fit in found:
            alike.setdefault((fit.sized.form, fit.sized.pitch_mm, fit.variant.piece.passives), fit)

        def rank(fit: Fit) -> tuple[float, ...]:
            error = fit.sized.error
            fits = (0.0, fit.changed, round(error)) if error <= ease else (1.0, round(error, 2), fit.changed)
            return (*fits, fit.sized.form.area, fit.sized.pitch_mm)

        return sorted(alike.values(), key=rank)

    def _could(self, variant: Variant) -> float:
        """How near the best frame of a strip comes, if every corner and turnover could be worked."""
        strip = variant.piece.form.repeating
        if strip is None:
            return inf
        corners, turnovers = mirrors.corners(strip), range(strip.rows)
        every = fitting.frames(strip, corners, turnovers, self.purpose, self.target, self.pitch_mm)
        return min((sized.error for sized in every), default=inf)

    def _fitted(self, variant: Variant, watch: Callable[[], None] = lambda: None) -> list[SizedForm]:
        form = variant.piece.form
        strip = form.repeating
        if strip is None:
            return [fitting.fitted(form, self.purpose, self.target, self.pitch_mm)]
        if self.purpose == AS_STRIP:
            return list(fitting.strips(strip, self.target, self.pitch_mm))
        offers = self.chosen.offers(variant, watch)
        found: list[SizedForm] = []
        for turnovers, up in ((offers.down, False), (offers.up, True)):
            corners = [each.corner for each in offers.corners if each.corner.up is up]
            rows = [each.row for each in turnovers]
            found += fitting.frames(strip, corners, rows, self.purpose, self.target, self.pitch_mm)
        return found

    def _turned(self, variant: Variant, sized: SizedForm) -> Turned | None:
        """What the mirror does to a variant on a way."""
        if sized.corner is None:
            return None
        offers = self.chosen.offers(variant)
        corner = next(number for number, each in enumerate(offers.corners) if each.corner == sized.corner)
        turnovers = offers.turnovers(sized.corner)
        across, down = (
            next(number for number, each in enumerate(turnovers) if each.row == row) for row in sized.turnovers
        )
        at_turnovers = turnovers[across].changed + turnovers[down].changed
        at_corners = offers.corners[corner].changed
        return Turned(corner + 1, (across + 1, down + 1), at_corners.times(4), at_turnovers.times(2))

    def nearest(self) -> SizedForm | None:
        """The way of the piece as it is that comes nearest, if there is one."""
        return min(self._fitted(self.chosen.own), key=lambda sized: sized.error, default=None)

    def takes(self, fit: Fit) -> Took:
        """What a way takes, reckoned from the piece as it is by the number of pinholes; thread by the pitch too."""
        own, pinholes = self.chosen.takes
        sized, piece = fit.sized, fit.variant.piece
        more = sized.form.area / pinholes
        worked = sized.form.ways[0] if len(sized.form.ways) == 1 else piece.worked
        thread = own.total_m * more * sized.pitch_mm / self.chosen.design.pitch_mm
        hours = (own.hours[0] * more, own.hours[1] * more)
        return Took(sized.form.pairs(worked, piece.passives), round(own.pins * more), thread, hours)

    def made(self, fit: Fit) -> tuple[Design, str]:
        """The piece of a way, not numbered, and what was changed for it. Raises NoFittingFrame."""
        sized, piece = fit.sized, fit.variant.piece
        form, changed = sized.form, ""
        if strip := form.repeating:
            made = unrolled(replace(repeat_of(piece).design, form=strip), strip)
        elif sized.corner is not None:
            done = self.chosen.mirrored(fit.variant).frame(sized.corner, sized.turnovers, sized.repeats, MAKING)
            if done is None:
                raise NoFittingFrame
            made, changed = done.frame, f", {changes_told(done)}"
        else:
            made = piece
        made = replace(made, pitch_mm=sized.pitch_mm)
        return sound(made, f"a {form.name} made to fit"), changed

    def make(self, fit: Fit) -> str:
        """Make the piece of a way and keep it under the next number; a line that says so. Raises NoFittingFrame."""
        study, sized = self.chosen.study, fit.sized
        number = study.next_number
        made, changed = self.made(fit)
        study.keep(made.numbered(number), study.next_job - 1)
        width, height = (shown(each) for each in sized.size)
        other = f" with {fit.variant.told}" if fit.variant.told else ""
        return (
            f"{number:02d}: {sized.form.name} of {self.chosen.design.number:02d}{other}, {width} x {height} mm, "
            f"{made.pairs} pairs{changed}; {square_path(study.folder, number)}"
        )


def fitting_of(
    folder: Path, number: int, target: Lengths, purpose: str | None, pitch_mm: Lengths | None, change: Allowed
) -> Fitting:
    """A piece of a study to be fitted; purpose and pitch as it is if she names none. Refused if the piece cannot serve
    the purpose."""
    study = open_study(folder)
    design = study.numbered(number)
    serves = design.form.serves
    if purpose is not None and purpose not in serves:
        what = f"{design.number:02d} is a {design.form.name}; it can be: {', '.join(serves)}"
        raise BadInput(f"as is {purpose}, but {what}", of="as")
    own = (design.pitch_mm, design.pitch_mm)
    return Fitting(ChosenPiece(study, design), target, purpose or serves[0], pitch_mm or own, change)
