"""How much of a print's thin parts its blocks still show."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import MultiPolygon

from constraints.lattice import IntArray

# Limbs and gaps thinner than this share of the print's longer side are its detail.
_FINE = 0.14


def shown_detail(shape: MultiPolygon, blocks: IntArray, reverse: bool = False) -> float:
    """Share of the area of a placed shape's thin limbs and narrow gaps that block places show rightly.

    blocks: (k, 2) pinholes of blocks in lattice units, each worth its diamond cell. reverse: the shape is to
    be open and what lies round it in blocks. 1.0 if there is no such detail.
    """
    left, top, right, bottom = shape.bounds
    radius = max(right - left, bottom - top) * _FINE / 2
    body = shape.buffer(-radius).buffer(radius * 1.05)
    limbs = shape.difference(body)
    gaps = shape.buffer(radius).buffer(-radius * 1.05).difference(shape)
    total = limbs.area + gaps.area
    if total < 1e-9 or not len(blocks):
        return 1.0 if len(blocks) else 0.0
    ring = np.array([(0, -1), (1, 0), (0, 1), (-1, 0), (0, -1)], dtype=float)
    # Cells do not overlap. Together they take one walk along the outline, and not one each.
    cells = shapely.union_all(shapely.polygons(blocks[:, None, :] + ring[None]))
    on_limbs, on_gaps = cells.intersection(limbs).area, cells.intersection(gaps).area
    right = float((on_limbs + gaps.area - on_gaps) / total)
    return 1.0 - right if reverse else right
