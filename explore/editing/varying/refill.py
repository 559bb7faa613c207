"""Fillings for a square whose blocks have changed: fields that are still there keep theirs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from constraints.encoding import align, chosen, in_fields, label, set_true
from constraints.fillings import GROUNDS
from constraints.formula import truth
from constraints.lattice import BoolArray, IntArray, diagonals
from constraints.layout import fields_of
from constraints.piece import Piece
from constraints.symmetry import SYMMETRIES, matrices
from constraints.variables import Model, Sites
from explore.editing.varying.patterns import ALL, Pattern
from explore.search.compose.fillings import Filler
from explore.search.compose.liking import Liking
from explore.search.compose.parts import Random

_FULLEST = sorted(SYMMETRIES, key=lambda name: -len(matrices(name)))


@dataclass(frozen=True, eq=False)
class FieldFillings:
    """The fillings of the chosen square. field: (m,) its fields. kinds: what each is filled with, by number."""

    values: BoolArray
    field: IntArray
    kinds: dict[int, str]


def filled(model: Model, values: BoolArray) -> FieldFillings:
    """What the fields of a square are filled with: the name of a figure or of a ground, or "" for plain ground."""
    field = fields_of(model.piece, truth(values, model.block))
    kinds = dict.fromkeys(np.unique(field[field >= 0]).tolist(), "")
    for kind in model.labels.codes:
        if kind in model.sites:
            sites = model.sites[kind]
            held = np.unique(field[sites.holes[chosen(values, sites)]])
            kinds.update(dict.fromkeys(held.tolist(), kind))
        else:
            here = in_fields(model, values, kind) & (field >= 0)
            kinds.update(dict.fromkeys(np.unique(field[here]).tolist(), kind))
    return FieldFillings(values, field, kinds)


class Refiller(Filler):
    """Fills the fields of changed blocks, beginning from the fillings of the chosen square."""

    def __init__(
        self, model: Model, block: BoolArray, clear: BoolArray, values: BoolArray, old: FieldFillings, kept: BoolArray
    ) -> None:
        """clear: as for a Filler. kept: (n,) pinholes whose filling stays; they must lie in open holes as before."""
        super().__init__(model, block, clear | kept, values)
        self._old, self._kept = old, kept
        self._pattern = ALL
        self._patterned: dict[tuple[Pattern, str], BoolArray] = {}

    def orbits(self) -> Iterator[tuple[BoolArray, bool, tuple[int, int]]]:
        """The fields as `fields_once` has them; whether each is new; and a name that it shares with those which turns
        and reflections of the whole square make of it."""
        alike = _alike(self.model.piece)
        for inside in self.fields_once():
            yield inside, not self._is_old(inside), (int(alike[inside].min()), int(inside.sum()))

    def keep(self, inside: BoolArray) -> None:
        """Fill a field that has not changed as it was."""
        for kind in {self._old.kinds[number] for number in np.unique(self._old.field[inside]).tolist()}:
            if kind:
                self._as_before(kind, inside, inside)

    def stay(self, inside: BoolArray) -> None:
        """Leave the figures of a field that has changed where they were, so far as they still lie in it; no others
        come. Where fields of several fillings have become one, that goes on of which there was most."""
        before = self._old.field[inside]
        numbers, counts = np.unique(before[before >= 0], return_counts=True)
        ranked = [int(number) for number in numbers[np.argsort(-counts, kind="stable")]]
        first = next((number for number in ranked if self._old.kinds[number]), None)
        if first is None:
            return
        kind = self._old.kinds[first]
        was = np.isin(self._old.field, [number for number in ranked if self._old.kinds[number] == kind])
        if kind in self.model.sites and self.model.sites[kind].unit.aligned:
            for literals in (self.model.labels.even_u, self.model.labels.even_v):
                even = truth(self._old.values, literals)
                was &= even == even[np.flatnonzero(self._old.field == first)[0]]
        self._as_before(kind, inside, was)

    def go_on(self, inside: BoolArray, pattern: Pattern = ALL) -> bool:
        """Give a field the filling that most of it had before, in a pattern; more of it where there is room now."""
        self._pattern = pattern if self.is_large(inside) else ALL
        before = self._old.field[inside]
        numbers, counts = np.unique(before[before >= 0], return_counts=True)
        ranked = [int(number) for number in numbers[np.argsort(-counts, kind="stable")]]
        if not ranked:
            return False
        own = self.bound(inside)
        kind = self._old.kinds[ranked[0]] if own is None else own
        if kind == "":
            return True
        if kind in GROUNDS:
            label(self.model, self.values, kind, inside)
            return True
        sites = self.model.sites[kind]
        was = np.isin(self._old.field, [number for number in ranked if self._old.kinds[number] == kind])
        return self._spread(sites, inside, was)

    def afresh(self, inside: BoolArray, taste: Liking, rng: Random, pattern: Pattern = ALL) -> None:
        """Give a field the first filling of the taste that finds room, or go on with the one it must keep."""
        if self.bound(inside) is not None:
            self.go_on(inside, pattern)
            return
        self._pattern = pattern if self.is_large(inside) else ALL
        for kind in taste.large if self.is_large(inside) else taste.small:
            if kind == "" or (not self._touches_kept(inside, kind) and self._try(kind, inside, taste, rng)):
                return

    def bound(self, inside: BoolArray) -> str | None:
        """The filling that a field must keep for the sake of its kept pinholes; None if it is free."""
        if not self._kept.any():
            return None
        for kind, sites in self.model.sites.items():
            here = self._old.values[sites.chosen] if len(sites.chosen) else np.zeros(0, dtype=np.bool_)
            stays = here & self._kept[sites.pinholes].any(axis=1) & inside[sites.holes[:, 0]]
            if stays.any():
                return kind
        corners = self._corners(inside) & self._kept
        if not corners.any():
            return None
        before = self._old.field[inside & self._kept[self.model.piece.holes].any(axis=1)]
        kinds = {self._old.kinds[number] for number in np.unique(before[before >= 0]).tolist()}
        return next((kind for kind in GROUNDS if kind in kinds), None)

    def _closed(self, sites: Sites, inside: BoolArray, wanted: BoolArray) -> BoolArray:
        key = (self._pattern, sites.unit.name)
        if key not in self._patterned:
            self._patterned[key] = self._pattern.holds(sites.centres)
        return super()._closed(sites, inside, wanted & self._patterned[key])

    def _touches_kept(self, inside: BoolArray, kind: str) -> bool:
        """A ground takes every pinhole, so none of them may be kept plain."""
        return kind in GROUNDS and bool((self._corners(inside) & self._kept).any())

    def _corners(self, inside: BoolArray) -> BoolArray:
        corners = np.zeros(len(self._used), dtype=np.bool_)
        corners[self.model.piece.holes[inside].reshape(-1)] = True
        return corners

    def _is_old(self, inside: BoolArray) -> bool:
        numbers = np.unique(self._old.field[inside])
        return len(numbers) == 1 and numbers[0] >= 0 and int((self._old.field == numbers[0]).sum()) == int(inside.sum())

    def _as_before(self, kind: str, inside: BoolArray, was: BoolArray) -> None:
        """The units of a kind that lay in the old field and lie whole in the new one; for both of their images."""
        if kind in GROUNDS:
            label(self.model, self.values, kind, inside)
            return
        sites = self.model.sites[kind]
        chosen = self._units_before(sites, was) & inside[sites.holes].all(axis=1)
        label(self.model, self.values, kind, inside)
        if sites.unit.aligned:
            align(self.model, self.values, self.field, sites.holes[chosen, 0])
        if chosen.any():
            self._take(sites, chosen)

    def _units_before(self, sites: Sites, was: BoolArray) -> BoolArray:
        return self._old.values[sites.chosen] & was[sites.holes].all(axis=1)

    def _spread(self, sites: Sites, inside: BoolArray, was: BoolArray) -> bool:
        """Units on the grid on which they stood before, over the whole field."""
        before = self._units_before(sites, was) & inside[sites.holes].all(axis=1)
        kept = before & self._kept[sites.pinholes].any(axis=1)
        on_grid = _grid(sites, kept if kept.any() else before)
        if on_grid is None:
            return False
        label(self.model, self.values, sites.unit.name, inside)
        if sites.unit.aligned:
            align(self.model, self.values, self.field, sites.holes[kept if kept.any() else before, 0])
        if kept.any():
            self._take(sites, kept)
        more = self._closed(sites, inside, self._possible(sites, inside) & on_grid)
        if more.any():
            self._take(sites, more)
        return bool(more.any() or kept.any())


@lru_cache(maxsize=8)
def _alike(piece: Piece) -> IntArray:
    """(m,) the least hole that turns and reflections of the whole piece make of each hole."""
    fullest = next(name for name in _FULLEST if piece.closed_under(name))
    least: IntArray = piece.images_of(piece.hole_centres, fullest).min(axis=0)
    return least


def _grid(sites: Sites, units: BoolArray) -> BoolArray | None:
    """The sites on one grid with units: every second hole for those in line, else the widest that they share."""
    if not units.any():
        return None
    u, v = diagonals(sites.centres).T
    size = sites.unit.size
    for period in (2,) if sites.unit.aligned else (size + 3, size + 2, size + 1):
        if len(np.unique(u[units] % period)) == 1 and len(np.unique(v[units] % period)) == 1:
            break
    one = int(np.flatnonzero(units)[0])
    line: BoolArray = (u % period == u[one] % period) & (v % period == v[one] % period)
    return line


def fresh_values(model: Model, stitch: IntArray, names: tuple[str, ...]) -> BoolArray:
    """Values with the blocks alone. stitch: (n,) number of the stitch among `names` at each place, -1 where open."""
    values = np.zeros(model.formula.size, dtype=np.bool_)
    for number, name in enumerate(names):
        set_true(values, model.stitch[name][stitch == number])
    return values
