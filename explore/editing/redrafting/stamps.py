"""The blocks of a reading as a stamp: an SVG drawing of their outlines, to give to `stampwork explore`."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from constraints.lattice import Point, neighbour_table
from constraints.layout import components
from explore.bad_input import BadInput
from explore.editing.redrafting.bed import Bed
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.grid import by_row, row_ends, steps
from explore.editing.redrafting.repeat import Repeat
from gallery.looks.blocks import outlines

_ROOM = 2.0  # lattice units of paper round the print


def whole_bed(draft: Draft) -> Bed:
    """The bed of a draft that is no strip: every place between the first and the last pinhole of its row.

    No block takes the outermost pinhole of a row: something must work round it.
    """
    pinned = set(draft.taken)
    ends = row_ends(pinned)
    places = {(column, row) for row, (first, last) in ends.items() for column in range(first, last + 1, 2)}
    barred = {(column, row) for row, pair in ends.items() for column in pair}
    return Bed(frozenset(places), frozenset(pinned), frozenset(draft.taken_centres), frozenset(barred), 0)


def repeat_draft(repeat: Repeat) -> Draft:
    """One repeat as a draft of its own."""
    return Draft(repeat.pinholes, repeat.centres, repeat.headside)


def unfolded(block: frozenset[Point], bed: Bed) -> frozenset[Point]:
    """A block of a repeat laid out whole, past the last row where it runs on there. A trail without end is cut."""
    if not bed.rows:
        return block
    start = by_row(block)[0]
    seen, waiting, placed = {start}, [start], {start}
    while waiting:
        for place in steps(waiting.pop()):
            home = bed.fold(*place)
            if home in block and home not in seen:
                seen.add(home)
                placed.add(place)
                waiting.append(place)
    return frozenset(placed)


def stamp_svg(blocks: Sequence[frozenset[Point]], bed: Bed, pitch_mm: float) -> str:
    """The outlines of blocks as an SVG drawing in mm, black on nothing. Refused if there are no blocks."""
    if not blocks:
        raise BadInput("as stamp: this reading has no block to print", of="as")
    places = np.array(sorted({place for block in blocks for place in unfolded(block, bed)}))
    places = places[np.lexsort((places[:, 0], places[:, 1]))]
    neighbours = neighbour_table(places)
    rings = outlines(places, neighbours, components(neighbours, np.zeros(len(places), dtype=np.int64)))
    corner = np.min([ring.min(axis=0) for ring in rings], axis=0) - _ROOM
    size = np.max([ring.max(axis=0) for ring in rings], axis=0) + _ROOM - corner
    unit = pitch_mm / 2
    paths = []
    for ring in rings:
        points = " L ".join(f"{_short(x)} {_short(y)}" for x, y in ((ring - corner) * unit).tolist())
        paths.append(f"M {points} Z")
    width, height = (_short(side * unit) for side in size.tolist())
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}">\n'
        f' <path d="{" ".join(paths)}" fill="#000000" fill-rule="evenodd"/>\n</svg>\n'
    )


def _short(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") if math.isfinite(value) else "0"
