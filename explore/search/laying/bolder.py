"""How much bolder a thin limb must be carved that blocks show it, tried out."""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry import MultiPolygon, Polygon

from constraints.brief import Brief
from constraints.stamp import Stamp
from explore.search.laying.falls import Fall, fall
from explore.search.laying.simplified import whereabouts

# Tried, as shares of the longer side of the print, all round a limb.
_SHARES = (0.01, 0.02, 0.03, 0.04, 0.06)
# A limb is shown if less than this share of it is lost.
_SHOWN = 0.3


def bolder(stamp: Stamp, brief: Brief, at: Fall) -> Iterator[tuple[str, float]]:
    """For each place where parts of the print are lost at a size how much bolder they must be carved to be shown there:
    a share of its longer side, all round. Places that none of a few shares mends are left out."""
    splits = at.design.splits > 0
    own = brief if splits else brief.changed(own_splits=0)
    for place in at.lost_at:
        parts = [part for part in at.lost if whereabouts(part, at.plain.kept) == place]
        for share in _SHARES:
            tried = fall(_carved(stamp, at.shape, parts, share * 2 * at.size), own, at.size, 0.0)
            if tried is not None and _mostly(parts, tried):
                yield place, share
                break


def _carved(stamp: Stamp, shape: MultiPolygon, parts: list[Polygon], by: float) -> Stamp:
    """The placed print with some parts of it bolder by so much, lattice units."""
    whole = shapely.union_all([shape, *(part.buffer(by) for part in parts)])
    return Stamp(stamp.name, MultiPolygon([each for each in shapely.get_parts(whole) if each.area > 0]))


def _mostly(parts: list[Polygon], tried: Fall) -> bool:
    """Whether most of the parts is shown."""
    missing = shapely.union_all(list(tried.lost)) if tried.lost else Polygon()
    every = shapely.union_all(parts)
    return bool(every.intersection(missing).area < _SHOWN * every.area)
