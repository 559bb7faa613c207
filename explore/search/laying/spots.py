"""Where on a piece prints lie: at its corners, along its sides, over its middle."""

from __future__ import annotations

import numpy as np

from constraints.brief import SPOTS
from constraints.forms import Form
from constraints.lattice import FloatArray, IntArray
from explore.search.laying.placement import Placement, copies_of

_CORNERS, _SIDES, _MIDDLE = range(len(SPOTS))
# A print lies over the middle up to such a share of the way outwards, and at a corner where it is at least such a part
# as far from one axis as from the other.
_NEAR, _ASLANT = 0.2, 0.5


def spot_of(placement: Placement, form: Form) -> str:
    """The spot of all copies of a print, one of SPOTS; "" if they lie in several."""
    middles = np.array([each.convex_hull.centroid.coords[0] for each in copies_of(placement)])
    found = {SPOTS[number] for number in spots(middles, form).tolist()}
    return found.pop() if len(found) == 1 else ""


def spots(middles: FloatArray, form: Form) -> IntArray:
    """(k,) the spots, as places in SPOTS, of prints with these middles, (k, 2) lattice units."""
    left, top, right, bottom = form.bounds
    centre, half = np.array([left + right, top + bottom]) / 2, np.array([right - left, bottom - top]) / 2
    away = np.abs(middles - centre) / half
    most, least = away.max(axis=1), away.min(axis=1)
    found: IntArray = np.where(most <= _NEAR, _MIDDLE, np.where(least >= _ASLANT * most, _CORNERS, _SIDES))
    return found
