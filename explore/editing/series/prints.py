"""The prints of a square that is there, laid again on another placing."""

from __future__ import annotations

import numpy as np
import shapely

from constraints.design import Design, Print, Ring
from constraints.layout import locate
from constraints.stamp import outlines, shape_of
from constraints.targets import images, target
from explore.search.laying.blocking import Blocking
from explore.search.laying.detail import shown_detail
from explore.search.laying.laid import PlaceLaid
from explore.search.laying.sectors import Place, Sector
from explore.search.squares.placing import Placing

_AS_BEFORE = Sector("as before", 0.0, 180.0)


def own_prints(placing: Placing, exemplar: Design) -> tuple[PlaceLaid, ...]:
    """The prints of a square with the blocks that show them, at their old places; none if one of them does not fit the
    placing."""
    laid = [_own_print(placing, exemplar, each) for each in exemplar.prints]
    fit = tuple(each for each in laid if each is not None)
    return fit if len(fit) == len(laid) else ()


def _own_print(placing: Placing, exemplar: Design, printed: Print) -> PlaceLaid | None:
    rings = _rings(exemplar.symmetry, printed, placing.brief.piece.symmetry)
    aim = target(placing.context.piece, shape_of(rings), printed.reverse)
    shows = aim.near if printed.reverse else aim.inside
    block = np.zeros(len(placing.context.piece), dtype=np.bool_)
    for each in exemplar.blocks:
        places = locate(placing.context.piece, np.array(each.pinholes))
        if np.isin(places, shows).any():
            if (places < 0).any() or (placing.context.piece.depth[places] < placing.brief.rules.margin).any():
                return None
            block[places] = True
    if not len(aim.inside):
        return None
    lain = Place(_AS_BEFORE, printed.size, printed.turn_degrees, (0.0, 0.0), printed.reverse)
    piece = placing.context.piece
    detail = shown_detail(shape_of(rings), piece.pinholes[block], printed.reverse)
    laid = PlaceLaid.at(printed.name, lain, rings, aim, Blocking(block, aim.match(block)), detail)
    return laid.looked_at(piece, placing.brief.rules.corners)


def _rings(before: str, printed: Print, symmetry: str) -> tuple[Ring, ...]:
    """The outlines; with those of all images where the new symmetry does not give them. before: the old symmetry."""
    if symmetry == before:
        return printed.outlines
    every = shapely.union_all(images(shape_of(printed.outlines), before), grid_size=1e-9)
    parts = [part for part in shapely.get_parts(every) if part.geom_type == "Polygon"]
    return outlines(shapely.MultiPolygon(parts))
