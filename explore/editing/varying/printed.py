"""The print of a chosen design: the pinholes it asks for, and its outlines under a looser symmetry."""

from __future__ import annotations

from dataclasses import replace

import shapely
from shapely.geometry import MultiPolygon

from constraints.design import Print
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.stamp import outlines, shape_of
from constraints.targets import Target, images, target
from explore.search.laying.blocking import BAND

# Two copies of a print are one if their middles lie so near, in lattice units.
_SAME = 0.05


def loosened(printed: Print, symmetry: str, looser: str) -> Print:
    """The same print with outlines for a symmetry that repeats it less often."""
    if symmetry == looser:
        return printed
    whole = shapely.union_all(images(shape_of(printed.outlines), symmetry), grid_size=1e-6)
    parts = [part for part in shapely.get_parts(whole) if part.geom_type == "Polygon"]
    chosen: list[shapely.Polygon] = []
    seen: list[MultiPolygon] = []
    for part in sorted(parts, key=lambda each: (round(each.centroid.y, 2), round(each.centroid.x, 2))):
        if not any(_same(part, other) for other in seen):
            chosen.append(part)
            seen += images(MultiPolygon([part]), looser)
    return replace(printed, outlines=outlines(MultiPolygon(chosen)))


def _same(part: shapely.Polygon, other: MultiPolygon) -> bool:
    return bool(part.centroid.distance(other.centroid) < _SAME and abs(part.area - other.area) < _SAME)


def target_of(printed: Print, piece: Piece) -> Target:
    """The pinholes that the print and its images ask for."""
    return target(piece, shape_of(printed.outlines), printed.reverse)


def print_places(aim: Target, piece: Piece, block: BoolArray) -> BoolArray:
    """(n,) the pinholes that must stay as they are so that the print does. block: (n,) places of blocks."""
    kept = aim.touched(len(piece))
    # Blocks that leave a print open belong to it as far as it was blocked.
    return kept | (piece.widened(kept, BAND) & block) if aim.reverse else kept
