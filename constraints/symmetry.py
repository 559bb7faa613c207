"""The symmetries a piece may have, as matrices on lattice units (y down)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.lattice import PLAIN, Grid, IntArray, Matrix, Point, Wrap

_SAME = ((1, 0), (0, 1))
_QUARTER = ((0, -1), (1, 0))
_HALF = ((-1, 0), (0, -1))
_THREE_QUARTERS = ((0, 1), (-1, 0))
_LEFT_RIGHT = ((-1, 0), (0, 1))
_TOP_BOTTOM = ((1, 0), (0, -1))
_FALLING = ((0, 1), (1, 0))  # across the diagonal x = y
_RISING = ((0, -1), (-1, 0))  # across the diagonal x = -y

SYMMETRIES: dict[str, tuple[tuple[tuple[int, int], tuple[int, int]], ...]] = {
    "full": (_SAME, _QUARTER, _HALF, _THREE_QUARTERS, _LEFT_RIGHT, _TOP_BOTTOM, _FALLING, _RISING),
    "quarter-turn": (_SAME, _QUARTER, _HALF, _THREE_QUARTERS),
    "half-turn": (_SAME, _HALF),
    "upright-mirrors": (_SAME, _HALF, _LEFT_RIGHT, _TOP_BOTTOM),
    "diagonal-mirrors": (_SAME, _HALF, _FALLING, _RISING),
    "upright-mirror": (_SAME, _LEFT_RIGHT),
    "diagonal-mirror": (_SAME, _FALLING),
    "none": (_SAME,),
}

# The other symmetries that only a strip may have: it runs down, so that a level mirror turns it over end for end.
# A glide is its upright mirror with half a repeat. With `none`, `upright-mirror`, `half-turn` and `upright-mirrors`
# these are the seven frieze groups.
FRIEZES = {
    "level-mirror": (_SAME, _TOP_BOTTOM),
    "glide": (_SAME, _LEFT_RIGHT),
    "glide-mirrors": (_SAME, _HALF, _LEFT_RIGHT, _TOP_BOTTOM),
}
OF_STRIPS = ("none", "upright-mirror", "half-turn", "upright-mirrors", *FRIEZES)


def matrices(symmetry: str) -> IntArray:
    """The transformations of a symmetry, the identity first: shape (order, 2, 2). KeyError if unknown."""
    return np.array(SYMMETRIES[symmetry] if symmetry in SYMMETRIES else FRIEZES[symmetry])


# A symmetry or way of working that leaves it to the search: what shows the stamp best.
SUITS = "suits"


@dataclass(frozen=True)
class Setting:
    """How the transformations lie on a piece. middle: twice the point that they leave where it is. wrap: how
    a repeat meets itself."""

    middle: Point = (0, 0)
    wrap: Wrap = PLAIN

    def moved(self, points: IntArray, symmetry: str) -> IntArray:
        """Where each transformation takes each point, (order, n, 2)."""
        turns, shift = self.affine(symmetry)
        return self.wrap.fold(points @ turns.transpose(0, 2, 1) + shift[:, None, :])

    def affine(self, symmetry: str) -> tuple[IntArray, IntArray]:
        """The transformations as matrices (order, 2, 2) and the shifts after them, (order, 2)."""
        turns = matrices(symmetry)
        middle = np.array(self.middle)
        shift: IntArray = (middle - turns @ middle) // 2
        if symmetry.startswith("glide"):
            shift[turns[:, 0, 0] < 0, 1] += self.wrap.rows // 2
        return turns, shift


@dataclass(frozen=True)
class ToldSetting(Setting):
    """The same with the transformations themselves, whatever the symmetry is called. told: matrix and shift after it of
    each, the identity first."""

    told: tuple[tuple[Matrix, Point], ...] = ()

    def affine(self, symmetry: str) -> tuple[IntArray, IntArray]:
        return np.array([turn for turn, _ in self.told]), np.array([shift for _, shift in self.told])


CENTRED = Setting()


def images(points: IntArray, symmetry: str, setting: Setting = CENTRED) -> IntArray:
    """Where each transformation takes each point: indices into `points`, shape (order, n).

    ValueError if the points are not closed under the symmetry.
    """
    table = Grid.of(points).at(setting.moved(points, symmetry))
    if (table < 0).any():
        raise ValueError(f"the points are not closed under the symmetry {symmetry!r}")
    return table


def orbits(image_table: IntArray) -> tuple[IntArray, IntArray]:
    """Number the orbits of an image table of shape (order, n).

    Returns the orbit of each point, shape (n,), and one representative point per orbit (the first),
    shape (orbits,).
    """
    first = image_table.min(axis=0)
    representatives, orbit = np.unique(first, return_inverse=True)
    return orbit, representatives


def told(name: str) -> str:
    """A symmetry in words, such as "full symmetry"; "no symmetry" for none.

    name: one, several with commas between, or SUITS.
    """
    if name == SUITS:
        return "whatever symmetry suits"
    if "," in name:
        return f"{name.replace(',none', ',no').replace(',', ' or ')} symmetry"
    return f"{'no' if name == 'none' else name} symmetry"
