"""Filling the open fields of a composed design: one filling a field, its units on one regular grid."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property

import numpy as np

from constraints.alignment import stands
from constraints.encoding import align, label
from constraints.fillings import FIGURES, GROUNDS, Laying
from constraints.lattice import BoolArray, IntArray, diagonals
from constraints.layout import fields_of
from constraints.variables import Model, Sites
from explore.search.compose.canvas import ORDERLY, SMALL
from explore.search.compose.liking import RESTING, Liking
from explore.search.compose.parts import Random

# A filling may have this share of the most units that its field can hold.
_NEARLY = 0.75
# So many holes of one corner line with no figure beside them, on the mean, are a bare stripe.
_STRIPE = 5
# A field must be so large, in holes, to be called one of the large fields, at the least and as a share of all.
_LARGE, _LARGE_SHARE = 24, 0.08
# Figures of one filling belong together in groups of so many at the least, from each to another of them no further than
# so many times the shortest way. All of them cover such a share of a field in every quarter that has so much of it;
# beside a print more.
_GROUP, _NEXT, _COVER, _BESIDE, _MUCH = 4, 1.5, 0.3, 0.45, 0.15
# An accent covers such a share of a small field, so many pinholes from the edge; where all fields end at edges, less.
_ACCENT, _OFF_EDGE, _ACCENT_AT_EDGES = 0.6, 3, 0.45


class Filler:
    """Fills the fields of one design: collects the truth of units and labels in `values`."""

    def __init__(self, model: Model, block: BoolArray, clear: BoolArray, values: BoolArray) -> None:
        """clear: (n,) pinholes that take no unit, so that the stamp stands on open ground."""
        self.model = model
        self.values = values
        self.field = fields_of(model.piece, block)
        self._stand = stands(model.piece, self.field)
        self._clear = clear
        self._used = np.zeros(len(block), dtype=bool)
        self._ring = np.zeros(len(block), dtype=bool)

    def fill(self, taste: Liking, rng: Random, resting: float = RESTING) -> None:
        """Give every field the first filling of the taste that finds room in it, image fields alike; where figures in
        line would leave a bare stripe, they find none. Fields beside the stamp are filled as the largest of them is, or
        plain, so that it stands on one ground, unless she asks for so many of a filling. resting: in what share of
        squares that is plain whatever lies in other fields."""
        ground: str | None = None
        for inside in self.fields_once():
            kinds = taste.large if self.is_large(inside) else taste.small
            beside = not self.model.rules.least and bool(self._clear[self.model.piece.holes[inside]].any())
            if beside and ground is None and rng.random() < (resting if self._whole else 0.0):
                ground = ""
            if beside and ground is not None:
                kinds = (ground,)
            filled = self._first(kinds, inside, taste, rng)
            if beside and ground is None:
                ground = filled

    def _first(self, kinds: Sequence[str], inside: BoolArray, taste: Liking, rng: Random) -> str:
        """Give a field the first of the kinds that finds room in it; which that is, "" for plain ground."""
        for kind in kinds:
            if kind == "" or self._try(kind, inside, taste, rng):
                return kind
        return ""

    def fields_once(self) -> Iterator[BoolArray]:
        """(m,) the holes of each field in turn, one of all images, the largest first."""
        numbers, sizes = np.unique(self.field[self.field >= 0], return_counts=True)
        done: set[int] = set()
        for number in numbers[np.argsort(-sizes, kind="stable")].tolist():
            if number not in done:
                inside: BoolArray = self.field == number
                done.update(np.unique(self.field[self.model.piece.hole_images[:, inside]]).tolist())
                yield inside

    def is_large(self, inside: BoolArray) -> bool:
        """Whether a field is one of the large ones."""
        return int(inside.sum()) >= max(_LARGE, int(_LARGE_SHARE * len(self.field)))

    def _try(self, kind: str, inside: BoolArray, taste: Liking, rng: Random) -> bool:
        if kind in GROUNDS:
            label(self.model, self.values, kind, inside)
            return True
        sites = self.model.sites[kind]
        if not len(sites.pinholes):
            return False
        if FIGURES[sites.unit.filling].laying is Laying.IN_LINE:
            return self._in_line(sites, inside, rng)
        return self._apart(sites, inside, taste, rng)

    def _in_line(self, sites: Sites, inside: BoolArray, rng: Random) -> bool:
        """Of the four alignments one that leaves no bare stripe and fills the field nearly as well as any: the one that
        goes round the corners best."""
        here = self._possible(sites, inside)
        stand = self._stand[sites.holes[:, 0]]
        options = [
            self._together(sites, inside, here & (stand == 3 - number)) for number in rng.permutation(4).tolist()
        ]
        if not self.model.rules.least.get(sites.unit.filling):
            most = _STRIPE * len(self.model.piece.directions)
            options = [chosen & (self._bare(sites, inside, here, chosen) <= most) for chosen in options]
        chosen = self._best(sites, options, lambda each: self._bare(sites, inside, here, each))
        if not chosen.any():
            return False
        label(self.model, self.values, sites.unit.name, inside)
        align(self.model, self.values, self.field, sites.holes[chosen, 0])
        self._take(sites, chosen)
        return True

    def _bare(self, sites: Sites, inside: BoolArray, here: BoolArray, chosen: BoolArray) -> int:
        """How many holes of a field lie on a corner line with no figure beside them, though there is room for one.

        here: (s,) the sites that have room.
        """
        holes = self.model.piece.holes[inside]
        holes = holes[~self.model.piece.one_zone(holes)]
        beside = [np.isin(holes, sites.pinholes[which]).any(axis=1) for which in (here, chosen)]
        return int((beside[0] & ~beside[1]).sum())

    def _apart(self, sites: Sites, inside: BoolArray, taste: Liking, rng: Random) -> bool:
        here = self._possible(sites, inside)
        if not here.any():
            return False
        u, v = diagonals(sites.centres).T
        period = sites.unit.size + taste.spread
        options = []
        for number in rng.permutation(period * period).tolist():
            grid = here & (u % period == number % period) & (v % period == number // period)
            options.append(self._together(sites, inside, grid))
        chosen = self._best(sites, options)
        if not chosen.any():
            return False
        label(self.model, self.values, sites.unit.name, inside)
        self._take(sites, chosen)
        return True

    def _together(self, sites: Sites, inside: BoolArray, wanted: BoolArray) -> BoolArray:
        """The wanted sites as `_closed` keeps them, but for scattered ones: those in groups, if these cover enough of
        the field, or what is an accent in it, else none. What she asks for so many of is never left out."""
        kept = self._closed(sites, inside, wanted)
        if not kept.any() or self.model.rules.least.get(sites.unit.filling):
            return kept
        piece, cell = self.model.piece, (int(np.sqrt(sites.holes.shape[1])) + 1) ** 2
        quarter = self._quarter
        room = np.bincount(quarter[inside & ~self._clear[piece.holes].all(axis=1)], minlength=4)
        if kept.sum() * cell >= self._accent * room.sum() and self._enclosed(inside):
            return kept
        numbers = np.flatnonzero(kept)
        grouped = np.zeros_like(kept)
        grouped[numbers[_grouped(sites.centres[numbers])]] = True
        taken = cell * np.bincount(quarter[sites.holes[grouped, 0]], minlength=len(room))
        beside = self._whole and bool(self._clear[piece.holes[inside]].any())
        if (taken >= (_BESIDE if beside else _COVER) * room)[room >= _MUCH * room.sum()].all():
            return grouped
        return np.zeros_like(kept)

    @cached_property
    def _quarter(self) -> IntArray:
        """(m,) in which quarter of the piece each hole lies: as it is worked, or as it is seen."""
        piece = self.model.piece
        if len(piece.directions) > 1:
            return piece.zone[piece.holes[:, 0]]
        right, below = (piece.hole_centres > piece.hole_centres.mean(axis=0)).T
        return np.where(right, 1, 0) + np.where(below, 2, 0)

    def _enclosed(self, inside: BoolArray) -> bool:
        """Whether a small field ends at blocks all round, not at the edge; any small one of other pieces."""
        piece = self.model.piece
        off_edge = not self._whole or bool((piece.depth[piece.holes[inside]] > _OFF_EDGE).all())
        return off_edge and not self.is_large(inside)

    @cached_property
    def _whole(self) -> bool:
        """Whether the piece is a plain square, no small one: others have less room, and their fields end at edges."""
        piece = self.model.piece
        return (
            len(piece) > SMALL
            and piece.headside is None
            and piece.closed_under("full")
            and not {(0, 0), (0, 1)}.isdisjoint(piece.index)
        )

    @property
    def _accent(self) -> float:
        return _ACCENT if self._whole else _ACCENT_AT_EDGES

    def _possible(self, sites: Sites, inside: BoolArray) -> BoolArray:
        """Sites whose pinholes all lie in the field, clear of other units and of the stamp."""
        corners = np.zeros(len(self._used), dtype=bool)
        corners[self.model.piece.holes[inside].reshape(-1)] = True
        free = corners & ~self._used & ~self._clear
        if sites.unit.ring_free:
            free &= ~self._ring
        possible: BoolArray = np.all(free[sites.pinholes], axis=1)
        # The corners of several holes can surround a place that is not of the field: the middle must be too.
        possible &= np.all(inside[sites.holes], axis=1)
        return possible

    def _closed(self, sites: Sites, inside: BoolArray, wanted: BoolArray) -> BoolArray:
        """The wanted sites whose images in the same field are wanted too and meet none of their own images."""
        if not wanted.any():
            return wanted
        images = sites.images
        in_field: BoolArray = np.all(inside[sites.holes], axis=1)
        good: BoolArray = wanted & np.all(wanted[images] | ~in_field[images], axis=0)
        numbers = np.flatnonzero(good)
        kept = np.zeros(len(good), dtype=bool)
        covered = np.zeros(len(self._used), dtype=bool)
        ring = np.zeros(len(self._used), dtype=bool)
        beside = self.model.piece.neighbours
        for number in numbers.tolist():
            if kept[number]:
                continue
            orbit = np.unique(images[:, number])
            places = sites.pinholes[orbit]
            flat = places.reshape(-1)
            if len(np.unique(flat)) < len(flat) or covered[flat].any():
                continue
            around = beside[flat]
            if sites.unit.ring_free:
                own = np.zeros(len(covered), dtype=bool)
                blocked = bool(ring[flat].any())
                for row in places:
                    own[:] = False
                    own[row] = True
                    others = np.setdiff1d(flat, row)
                    if np.isin(beside[row], others).any():
                        blocked = True
                if blocked:
                    continue
            covered[flat] = True
            ring[around[around >= 0]] = True
            kept[orbit] = True
        return kept & in_field

    def _best(
        self, sites: Sites, options: Sequence[BoolArray], bare: Callable[[BoolArray], int] = lambda chosen: 0
    ) -> BoolArray:
        """Of choices of sites that fill a field nearly as well as the best, for squares shall differ, the first of
        those that leave least bare, and of these of those that lie most alike on all sides of a plain square."""
        most = max(int(chosen.sum()) for chosen in options)
        full = [chosen for chosen in options if chosen.sum() >= _NEARLY * most]
        return min(full, key=lambda chosen: (bare(chosen), -self._alike(sites.centres[chosen]) if self._whole else 0))

    def _alike(self, centres: IntArray) -> int:
        """Of the images that figures at (k, 2) have in the fullest order that the piece can have, how many are among
        them."""
        piece = self.model.piece
        order = next((each for each in ORDERLY if piece.closed_under(each)), piece.symmetry)
        there = {*map(tuple, centres.tolist())}
        return sum(tuple(each) in there for each in piece.setting.moved(centres, order).reshape(-1, 2).tolist())

    def _take(self, sites: Sites, chosen: BoolArray) -> None:
        literal = np.unique(sites.chosen[chosen])
        self.values[literal] = True
        places = sites.pinholes[np.isin(sites.chosen, literal)].reshape(-1)
        self._used[places] = True
        if sites.unit.ring_free:
            around = self.model.piece.neighbours[places]
            self._ring[around[around >= 0]] = True


def _grouped(centres: IntArray) -> BoolArray:
    """(k,) which of the figures at (k, 2) have enough others near them, and near these."""
    u, v = diagonals(centres).T
    apart = np.maximum(np.abs(u[:, None] - u), np.abs(v[:, None] - v)).astype(np.float64)
    np.fill_diagonal(apart, np.inf)
    near = apart <= _NEXT * apart.min(initial=np.inf)
    np.fill_diagonal(near, True)
    reached = 0
    while near.sum() > reached:
        reached = int(near.sum())
        near = near.astype(np.float32) @ near > 0
    large: BoolArray = near.sum(axis=1) >= _GROUP
    return large
