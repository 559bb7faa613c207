"""Keeping squares apart: two squares of a study differ in a least share of their pinholes, however turned.

Two pinholes agree if both lie in blocks of whatever stitch, or both in the same kind of unit, or both in
neither.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from functools import lru_cache

import numpy as np

from constraints import forms
from constraints import piece as pieces
from constraints.bands import repeat
from constraints.brief import Brief
from constraints.forms import Strip
from constraints.lattice import Grid, IntArray
from constraints.layout import lay
from constraints.repeats import repeat_of
from constraints.square import Square
from constraints.stitches import ROSE, SPIDER

_GROUND, _BLOCK = range(2)
_OF_KIND = {ROSE: 2, SPIDER: 3}


def kinds(square: Square) -> IntArray:
    """(n,) what each pinhole of a square is for telling squares apart; of a strip, of one repeat."""
    layout = repeat_of(square) if isinstance(square.form, Strip) else lay(square)
    found = np.where(layout.inside, _BLOCK, _GROUND)
    for placed in layout.units:
        found[placed.places] = _OF_KIND[placed.unit.kind]
    return found


def difference(first: Square, second: Square) -> float:
    """The least share of pinholes in which two squares differ under all eight turns and reflections, two strips under
    all that move their grid onto itself.

    1.0 for pieces of different sizes.
    """
    if _size(first) != _size(second):
        return 1.0
    return _closest(kinds(first)[_images(first)], kinds(second))


def _size(square: Square) -> Hashable:
    """What pieces must have in common to be compared."""
    form = square.form
    if isinstance(form, Strip):
        return form.columns, form.rows
    return square.half_size if isinstance(form, forms.Square) else form


def _images(square: Square) -> IntArray:
    """(k, n) where the turns and reflections take each pinhole; both ways of working have the same pinholes."""
    form = square.form
    if isinstance(form, Strip):
        return strip_images(form.columns, form.rows)
    if isinstance(form, forms.Square):
        return pieces.square(square.half_size, pieces.ROUND, "full").images
    return square.piece().images_under("upright-mirrors")


@lru_cache(maxsize=16)
def strip_images(columns: int, rows: int) -> IntArray:
    """(k, n) every way to lay one repeat of a strip on itself: moved along, turned over, or both."""
    piece = repeat(columns, rows)
    grid = Grid.of(piece.pinholes)
    x, y = piece.pinholes.T
    found = []
    for shift in range(rows):
        for sideways in (x, columns - 1 - x):
            for along in (y, -y):
                moved = grid.at(np.stack([sideways, (along + shift) % rows], axis=1))
                if (moved >= 0).all():
                    found.append(moved)
    return np.array(found)


def _closest(turned: IntArray, other: IntArray) -> float:
    return float((turned != other).mean(axis=1).min())


class Collection:
    """The squares of a study so far."""

    def __init__(self, brief: Brief, kept: Sequence[Square]) -> None:
        self._least = brief.apart
        self._by_size: dict[Hashable, list[IntArray]] = {}
        for each in kept:
            self._keep(_size(each), kinds(each))

    def takes(self, candidate: Square) -> bool:
        """Whether the square differs enough from all before it; if so it is one of them from now on."""
        own = kinds(candidate)
        turned = own[_images(candidate)]
        for other in self._by_size.get(_size(candidate), []):
            if _closest(turned, other) < self._least:
                return False
        self._keep(_size(candidate), own)
        return True

    def _keep(self, size: Hashable, found: IntArray) -> None:
        self._by_size.setdefault(size, []).append(found)
