"""Where a stamp may lie on squares of one half-size, and what blocks show it there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from constraints.brief import Brief
from constraints.corners import HALVES
from constraints.design import Ring
from constraints.lattice import BoolArray, IntArray
from constraints.piece import ROUND
from constraints.rules.corners import over_lines
from constraints.square_sizes import Size, square_of
from constraints.stamp import Stamp, outlines, shape_of
from constraints.symmetry import SYMMETRIES
from constraints.targets import Target, images, target
from explore.reading.outline import MOST_VERTICES
from explore.search.context import Context, context
from explore.search.laying.blocking import Blocking, blockings
from explore.search.laying.detail import shown_detail
from explore.search.laying.laid import PlaceLaid
from explore.search.laying.mirror import own_mirror
from explore.search.laying.noticed import noticed
from explore.search.laying.placement import amid, where_it_pays
from explore.search.laying.places import SMALLEST, draw_places, quietest, roundest
from explore.search.laying.sectors import AIR, Place, TurnedSector, turned_sectors
from explore.search.laying.simplified import Simplified, simplified

# Deterministic time for the stamp alone at one place. More of it raises the match by under 0.01.
_BLOCKING_EFFORT = 0.1
# So many places of the stamp are worked out for one half-size; jobs take turns with them.
_POOL = 8
# So many of them are tried in reverse too.
_REVERSE = 5
# Then so many more for each of the best ways of laying it.
_WAYS, _FURTHER = 3, 2
# So many of the best places are looked at more closely where few are good.
_LOOKED_AT = 4
# So many places are tried for the further copies of a print.
_COMPANIONS = 300
# Largest print in pitches for each pinhole of the widest block: beyond it a body no longer fills.
_LARGEST = 1.75
# Units kept free inside the margin for a border, in half of the places.
_BORDER = 7


def _outline_work(stamp: Stamp) -> int:
    """How many times the work of a usual print its outline is: of a long one, fewer places fit the same effort."""
    return max(1, round(int(shapely.get_num_coordinates(stamp.shape)) / MOST_VERTICES))


class Placing:
    """A stamp on squares of one half-size: the places worth trying, and laying it there."""

    def __init__(self, brief: Brief, stamp: Stamp | None, size: Size, among: int = 1) -> None:
        """among: how many sizes share the search; each has fewer places then, and so has a long outline."""
        self.brief = brief
        self.stamp = stamp
        self.size = size
        among *= 1 if stamp is None else _outline_work(stamp)
        self._pool = max(2, _POOL // among)
        self._again = max(1, _WAYS // among)
        form = square_of(brief.piece, size.half_size)
        assert form is not None
        self.context = context(form, brief.piece.worked, brief.piece.symmetry, brief.rules)
        # Composed as if the fans of a headside were outside.
        self.inner = size.half_size - (0 if form.headside is None else form.headside.depth)

    @property
    def pitch_mm(self) -> float:
        """The pitch of what is made."""
        return self.size.pitch_mm

    @cached_property
    def links(self) -> IntArray:
        """(k, 2) the neighbour steps over corner lines at which a block may have to be worked in halves."""
        links = over_lines(self.context.piece)
        return links if self.brief.rules.corners == HALVES else links[:0]

    @cached_property
    def places(self) -> list[Place]:
        """Places of the stamp worth trying, drawn by the seed: the larger prints of every sector."""
        if self.stamp is None:
            return []
        rng = np.random.default_rng([self.brief.run.seed, self.size.half_size])
        reach = self.reach
        pools = [
            self._draw(self.sectors, limit, rng, self._pool)
            for limit in (reach - _BORDER, reach)
            if limit >= self.inner / 2
        ]
        chosen = list(dict.fromkeys(place for pool in pools for place in pool))
        if self.brief.piece.worked == ROUND:
            chosen += [replace(place, reverse=True) for place in roundest(chosen, min(self._pool, _REVERSE))]
        return chosen

    def more_places(self, laid: Sequence[PlaceLaid]) -> list[Place]:
        """Further places in the sectors and turns that did best: other sizes and positions."""
        tried = {each.place for each in laid}
        rng = np.random.default_rng([self.brief.run.seed, self.size.half_size, 2])
        worth: dict[tuple[str, float], float] = {}
        for each in laid:
            turned = (each.place.sector.name, each.place.turn)
            worth[turned] = max(worth.get(turned, 0.0), each.worth)
        best = sorted(worth, key=lambda turned: (-worth[turned], turned))[: self._again]
        chosen: list[Place] = []
        for sector, turn in best:
            alike = [turned for turned in self.sectors if (turned.sector.name, turned.turn) == (sector, turn)]
            further = self._draw(alike, self.reach, rng, 2 * _FURTHER)
            chosen += [place for place in further if place not in tried][:_FURTHER]
        return chosen

    def survey(self, laid: Sequence[PlaceLaid]) -> list[Place]:
        """One place for every way of laying the print, as large as it can lie there, and one a little smaller."""
        tried = {each.place for each in laid}
        reach = self.reach
        chosen: dict[Place, None] = {}
        for turned in self.sectors:
            largest = turned.largest(self.sizes, reach)
            for size in (largest, largest - 1.0):
                if size in self.sizes:
                    chosen[quietest(turned, size, reach)] = None
        return [place for place in chosen if place not in tried]

    def closer_places(self, laid: Sequence[PlaceLaid]) -> list[Place]:
        """Places between the whole units and sizes, round the best so far: small prints gain by it."""
        tried = {each.place for each in laid}
        reach = self.reach
        best: dict[TurnedSector, Place] = {}
        for each in sorted(laid, key=lambda each: -each.worth):
            turned = self.turned(each.place)
            if not each.place.reverse and each.blocking is not None and len(best) < _LOOKED_AT:
                best.setdefault(turned, each.place)
        chosen: dict[Place, None] = {}
        steps = (0.0, 0.5, -0.5) if self.brief.stamp.size is None else (0.0,)
        for turned, place in best.items():
            for size in (place.size + step for step in steps):
                chosen.update(dict.fromkeys(turned.near(size, place.centre, reach)))
        return [place for place in chosen if place not in tried]

    @cached_property
    def sectors(self) -> list[TurnedSector]:
        assert self.stamp is not None
        return turned_sectors(self.stamp, self.brief.piece.symmetry, self.brief.stamp.turns)

    def turned(self, place: Place) -> TurnedSector:
        """The sector of a place, turned as it is."""
        own = (place.sector, place.turn)
        return next(turned for turned in self.sectors if (turned.sector, turned.turn) == own)

    def beside(self, place: Place) -> list[Place]:
        """Places as large as this one and less than a pitch away, or in the middle nearly as large: the grid favours
        some of them, and no simple rule says which."""
        turned = self.turned(place)
        sizes = [place.size]
        if place.sector.centred and self.brief.stamp.size is None:
            sizes = [place.size - 0.5, place.size + 0.5]
        near = [each for size in sizes for each in turned.near(size, place.centre, self.reach)]
        return [replace(each, reverse=place.reverse) for each in near if each.centre != place.centre or len(sizes) > 1]

    @property
    def reach(self) -> int:
        """How far from the middle a print may reach, units."""
        return self.inner - self.brief.rules.margin

    def _draw(self, among: Sequence[TurnedSector], reach: float, rng: np.random.Generator, count: int) -> list[Place]:
        # Sizes that she named are all hers to see.
        smallest = SMALLEST if self.brief.stamp.size is None else 0.0
        return draw_places(among, self.sizes, reach, rng, count, smallest, self.brief.stamp.copies)

    @cached_property
    def sizes(self) -> Sequence[float]:
        """Sizes that the print may have, rising, pitches."""
        if self.brief.stamp.size is None:
            largest = min(self.size.half_size, round(_LARGEST * self.brief.rules.widest))
            return [float(size) for size in range(4, largest + 1)]
        least, most = self.brief.stamp.size
        return sorted({least, most, *(float(size) for size in range(int(least) + 1, int(most) + 1))})

    def room_for_border(self, taken: BoolArray) -> int:
        """Units left between the margin and what is taken, (n,); below 0 where that lies within the margin."""
        return self.reach - int(np.abs(self.context.piece.pinholes[taken]).max(initial=0))

    def lay(self, place: Place, patience: float = 1.0) -> PlaceLaid:
        """The stamp at a place, with as many more copies as the brief asks for, and its best blocking.

        patience multiplies the usual effort.
        """
        assert self.stamp is not None
        group = self._with_companions(place)
        if len(group) < self.brief.stamp.copies:
            return PlaceLaid.at(self.stamp.name, place, (), Target(np.zeros(0, int), np.zeros(0, int)), None)
        rings = tuple(ring for each in group for ring in outlines(self._placed(each)))
        shape = shape_of(rings)
        aim = target(self.context.piece, shape, place.reverse)
        if not len(aim.inside):
            return PlaceLaid.at(self.stamp.name, place, rings, aim, None)
        effort = _BLOCKING_EFFORT * self.brief.run.effort * patience
        plain = simplified(shape, self.brief.rules)
        worth = noticed(self.context.piece, aim, plain)
        mirror = None if place.sector.mirrored or len(group) > 1 else own_mirror(self.context.piece, self.stamp, place)
        model = self._splitting(place).blocks
        least = self.brief.rules.match
        found = blockings(model, aim, worth, effort, mirror, least)
        if not found and mirror is not None:
            found = blockings(model, aim, worth, effort, least=least)
        if not found:
            return PlaceLaid.at(self.stamp.name, place, rings, aim, None)
        # Splits are kept where they change anything.
        telling = [each for number, each in enumerate(found) if not number or each.worth != found[number - 1].worth]
        return where_it_pays([self._blocked(place, rings, aim, plain, each) for each in telling])

    def _splitting(self, place: Place) -> Context:
        """What the print is laid on: its own blocks may split too, as often in each copy as the brief allows."""
        images = len(SYMMETRIES[self.brief.piece.symmetry])
        lying = images if place.sector.centred else 2 if place.sector.mirrored else 1
        return self.context.allowing(self.brief.stamp.own_splits * self.brief.stamp.copies * images // lying)

    def _blocked(
        self, place: Place, rings: tuple[Ring, ...], aim: Target, plain: Simplified, blocking: Blocking
    ) -> PlaceLaid:
        """The stamp with these outlines in these blocks."""
        assert self.stamp is not None
        detail = shown_detail(plain.kept, self.context.piece.pinholes[blocking.block], place.reverse)
        crossing = 0 if _folded(place) else int(blocking.block[over_lines(self.context.piece)].all(axis=1).sum())
        found = PlaceLaid.at(self.stamp.name, place, rings, aim, blocking, detail, crossing)
        return found.looked_at(self.context.piece, self.brief.rules.corners)

    def amid(self, laid: PlaceLaid) -> BoolArray:
        """(n,) the pinholes amid a laid stamp and its images. None where several copies are laid, or the stamp is left
        open."""
        piece = self.context.piece
        if self.brief.stamp.copies > 1 or laid.place.reverse:
            return np.zeros(len(piece), dtype=np.bool_)
        return amid(laid, piece)

    def _placed(self, place: Place) -> MultiPolygon:
        assert self.stamp is not None
        return self.stamp.placed(place.size, place.turn, place.centre)

    def _with_companions(self, place: Place) -> list[Place]:
        """The place and further ones of its size, all their images clear of each other."""
        group = [place]
        if self.brief.stamp.copies == 1:
            return group
        taken = shapely.union_all(images(self._placed(place), self.brief.piece.symmetry))
        rng = np.random.default_rng([self.brief.run.seed, int(place.turn), *(int(abs(c)) for c in place.centre)])
        reach = self.reach
        every = [(turned, centre) for turned in self.sectors for centre in turned.centres(place.size, reach)]
        for number in rng.permutation(len(every))[:_COMPANIONS]:
            if len(group) == self.brief.stamp.copies:
                break
            turned, centre = every[number]
            other = turned.place(place.size, centre)
            shape = self._placed(other)
            if taken.distance(shape) >= 2 * AIR:
                group.append(other)
                taken = shapely.union_all([taken, *images(shape, self.brief.piece.symmetry)])
        return group


def _folded(place: Place) -> bool:
    """Whether a print lies with its own mirror on a corner line: the seam is its midrib."""
    return place.sector.mirrored and place.sector.ray % 90 == 45
