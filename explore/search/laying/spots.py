"""Where on a piece prints lie: at its corners, along its sides, over its middle."""

from __future__ import annotations

from constraints.brief import SPOTS
from constraints.forms import Form
from explore.search.laying.placement import Placement, copies_of

CORNERS, SIDES, MIDDLE = SPOTS
# A copy lies over the middle up to such a share of the way outwards, and at a corner where it is at least such a part
# as far from one axis as from the other.
_MIDDLE, _CORNER = 0.2, 0.5


def spot_of(placement: Placement, form: Form) -> str:
    """The spot of all copies of a print, one of SPOTS; "" if they lie in several."""
    found = {_spot(each.convex_hull.centroid.coords[0], form) for each in copies_of(placement)}
    return found.pop() if len(found) == 1 else ""


def _spot(middle: tuple[float, float], form: Form) -> str:
    left, top, right, bottom = form.bounds
    across = abs(middle[0] - (left + right) / 2) / ((right - left) / 2)
    down = abs(middle[1] - (top + bottom) / 2) / ((bottom - top) / 2)
    if max(across, down) <= _MIDDLE:
        return MIDDLE
    return CORNERS if min(across, down) >= _CORNER * max(across, down) else SIDES
