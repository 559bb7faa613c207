"""All corners and turnovers of a strip, in the order of how little must change."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from constraints.brief import Brief
from constraints.forms import Strip
from constraints.layout import Layout
from constraints.mirrors import Corner, corners, frame_of, laid
from constraints.repeats import repeat_of
from constraints.square import Square
from explore.crew import Crew
from explore.mirroring.joining import Joined, joined
from explore.refused import Refused
from explore.varying.asked import brief_of

_In = TypeVar("_In")
_Out = TypeVar("_Out")

# Deterministic time for one frame while corners are listed, and for the frame that she asks for.
LISTING, MAKING = 0.2, 2.0
# So many turnovers are tried with a corner before it is left out.
_TRIED = 3


@dataclass(frozen=True, eq=False)
class CornerOffer:
    """changed: pinholes at one corner worked otherwise than the strip has it. shown: a frame with it. fewest: whether
    fewer are proven to be too few."""

    corner: Corner
    changed: int
    shown: Square
    fewest: bool


@dataclass(frozen=True, eq=False)
class TurnoverOffer:
    """row: of the repeat, at the mirror. changed: pinholes at one turnover. shown, fewest: as of a corner."""

    row: int
    changed: int
    shown: Square
    fewest: bool


class Mirrored:
    """One strip and what the mirror makes of it."""

    def __init__(self, strip: Square, base: Brief, cores: int | None = 1) -> None:
        """Refused if it is no strip with its headside on one side at most. cores: None for all; on any number of them
        the offers are the same."""
        if not isinstance(strip.form, Strip):
            raise Refused(f"{strip.number:02d} is a {strip.form.name}; the mirror slides along a strip")
        if strip.form.both:
            raise Refused(
                f"{strip.number:02d} has its edging on both sides; a frame has its inner edge plain: it is made of a "
                "strip with its edging on one, as `explore --sides one` makes them"
            )
        self.strip, self.form, self._cores = strip, strip.form, cores
        self._given = strip, base
        self.repeat: Layout = repeat_of(strip)
        own = replace(brief_of(strip, base), form="frame", worked="round", solid=(0.0, 1.0), match=0.0, least={})
        self.brief = replace(own, passives=strip.passives)

    def frame(
        self, corner: Corner, turnovers: tuple[int, int], repeats: tuple[int, int], effort: float
    ) -> Joined | None:
        """The frame with that corner and those turnovers, across and down; None if there is none, or none is found."""
        form = frame_of(self.form, corner, turnovers, repeats)
        if form is None:
            return None
        symmetry = "full" if form.half_width == form.half_height else "upright-mirrors"
        return joined(laid(self.repeat, form, corner), self.strip, self.brief, symmetry, effort)

    def corners(self, watch: Callable[[], None] = lambda: None) -> list[CornerOffer]:
        """The corners that can be worked, those with the fewest changes first."""
        found = self._each(_with_corner, corners(self.form), watch)
        return sorted(found, key=lambda offer: (offer.changed, offer.corner.row, offer.corner.up))

    def turnovers(self, corner: Corner, watch: Callable[[], None] = lambda: None) -> list[TurnoverOffer]:
        """The rows at which the reversed strip joins the strip that begins at a corner, fewest changes first."""
        found = self._each(_with_turnover, [(corner, row) for row in self._turnovers()], watch)
        return sorted(found, key=lambda offer: (offer.changed, offer.row))

    def with_corner(self, corner: Corner) -> CornerOffer | None:
        """A corner, if it can be worked."""
        # Frames are long enough for the turnover to make no difference at the corners.
        tried = (self._smallest(corner, turnover) for turnover in self._turnovers()[:_TRIED])
        done = next((each for each in tried if each is not None), None)
        return None if done is None else CornerOffer(corner, done.at_corners() // 4, done.frame, done.fewest)

    def with_turnover(self, corner: Corner, row: int) -> TurnoverOffer | None:
        """A turnover of the strip that begins at a corner, if it can be worked."""
        done = self._smallest(corner, row)
        return None if done is None else TurnoverOffer(row, done.at_turnovers() // 4, done.frame, done.fewest)

    def _each(
        self, work: Callable[[Mirrored, int, _In], _Out | None], tasks: Sequence[_In], watch: Callable[[], None]
    ) -> list[_Out]:
        found = []
        with Crew(Mirrored, self._given, self._cores) as crew:
            for _, offer in crew.in_order(work, enumerate(tasks)):
                watch()
                if offer is not None:
                    found.append(offer)
        return found

    def _turnovers(self) -> list[int]:
        """The rows that the headside's fans allow."""
        headside = self.form.headside
        rows = range(self.form.rows)
        return [row for row in rows if headside is None or (row - headside.first) % headside.depth == 0]

    def _smallest(self, corner: Corner, turnover: int) -> Joined | None:
        """The smallest frame whose corners and turnovers do not meet."""
        for count in range(1, 40):
            form = frame_of(self.form, corner, (turnover, turnover), (count, count))
            if form is not None and form.half_width >= form.band + _ROOM:
                return self.frame(corner, (turnover, turnover), (count, count), LISTING)
        return None


def _with_corner(mirrored: Mirrored, _: int, corner: Corner) -> CornerOffer | None:
    return mirrored.with_corner(corner)


def _with_turnover(mirrored: Mirrored, _: int, at: tuple[Corner, int]) -> TurnoverOffer | None:
    return mirrored.with_turnover(*at)


# Rows between a corner and a turnover, so that neither decides the other.
_ROOM = 10
