"""Several prints on one piece: one placement of each, all of them and their images clear of one another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np

from constraints.lattice import BoolArray
from constraints.piece import Piece
from explore.search.laying.placement import AIR, Laid, Placement, copies_of, within

# So many groups are carried on from print to print, and so many told of one piece.
_CARRIED, _TOLD = 300, 6
# A print gains by more room up to so many times the size from which it is known.
_AMPLE = 1.6
# Two prints lie alike where their middles do, in steps of so many units.
_STEP = 8.0

Group = tuple[Placement, ...]


@dataclass(frozen=True, eq=False)
class LaidTogether:
    """Stamps laid on the kind of this number, of each one, in the order of the brief."""

    number: int
    prints: tuple[Laid, ...]

    @property
    def share(self) -> float:
        """The share of all pinholes that their blocks take."""
        return sum(each.share for each in self.prints)

    @property
    def weakest(self) -> Laid:
        """The print that is known least surely."""
        return min(self.prints, key=lambda each: each.score)


@dataclass(frozen=True)
class PlacedTogether:
    """A group of placements on the kind of this number. room: see `together`."""

    number: int
    room: float
    group: Group


# The number of a kind, that of a stamp, and where it lies there.
Single = tuple[int, int, Placement]


def single(placed: Sequence[PlacedTogether]) -> list[Single]:
    """Every placement of the groups, once."""
    each = ((where.number, stamp, placement) for where in placed for stamp, placement in enumerate(where.group))
    return list(dict.fromkeys(each))


def grouped(placed: Sequence[PlacedTogether], found: Mapping[Single, Laid | None]) -> list[LaidTogether]:
    """The groups laid, but for those in which blocks show one of the prints nowhere."""
    every = []
    for where in placed:
        group = [found[where.number, stamp, placement] for stamp, placement in enumerate(where.group)]
        laid = tuple(one for one in group if one is not None)
        if len(laid) == len(group):
            every.append(LaidTogether(where.number, laid))
    return every


def together(choices: Sequence[Sequence[Placement]], least: Sequence[float], piece: Piece) -> list[tuple[float, Group]]:
    """Groups of one placement of each print, at most _TOLD, the roomiest first and no two alike, each with its room.

    least: of each print the size from which it is known, pitches. The room of a group is that of the print with the
    least: its size as a multiple of this.
    """
    groups: list[tuple[float, Group, BoolArray]] = [(_AMPLE, (), np.zeros(len(piece), dtype=np.bool_))]
    for placements, known_from in zip(choices, least, strict=True):
        own = [(_room(each, known_from), each, _kept_clear(each, piece)) for each in placements]
        wider = [
            (min(room, more), (*group, each), taken | around)
            for room, group, taken in groups
            for more, each, around in own
            if not (taken & around).any()
        ]
        # Of equal room the one that leaves the most to others.
        groups = sorted(wider, key=lambda each: (-each[0], int(each[2].sum())))[:_CARRIED]
    found: dict[tuple[object, ...], tuple[float, Group]] = {}
    for room, group, _ in groups:
        found.setdefault(tuple(map(_lying, group)), (room, group))
    return list(islice(found.values(), _TOLD))


def _room(placement: Placement, known_from: float) -> float:
    return min(_AMPLE, placement.size / max(known_from, 1.0))


def _kept_clear(placement: Placement, piece: Piece) -> BoolArray:
    """(n,) the pinholes of its copies and images, with half of the air that two prints keep between them."""
    return within([each.convex_hull.buffer(AIR / 2, quad_segs=2) for each in copies_of(placement)], piece)


def _lying(placement: Placement) -> tuple[object, ...]:
    points = np.concatenate([np.array(ring) for ring in placement.rings])
    across, down = np.round((points.min(axis=0) + points.max(axis=0)) / 2 / _STEP).tolist()
    return placement.turn, across, down
