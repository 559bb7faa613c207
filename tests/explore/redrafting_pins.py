"""The pins of blocks, strips and old prickings."""

from __future__ import annotations

import numpy as np
from redrafting_cards import repeated

from constraints.design import Design
from constraints.edgings.outer_side import outer_pins
from constraints.forms import Strip
from constraints.lattice import Point
from constraints.pins import pin_places
from constraints.repeats import repeat_of
from explore.editing.redrafting.draft import Draft


def neighbours(place: Point) -> set[Point]:
    return {(place[0] + dx, place[1] + dy) for dx in (1, -1) for dy in (1, -1)}


def pinned(columns: int, rows: int, block: set[Point]) -> set[Point]:
    """The pins of plain ground with a block, by the trade's rule: pins only where its border is."""
    every = {(x, y) for x in range(columns) for y in range(rows) if (x + y) % 2}
    return {place for place in every if not (place in block and neighbours(place) <= block)}


def pins_of(design: Design) -> tuple[set[Point], set[Point], np.ndarray]:
    """Of one repeat: pins at pinholes, pins in holes, pins outside the grid."""
    layout = repeat_of(design)
    outside = outer_pins(layout.piece)
    every = {tuple(each) for each in pin_places(layout).tolist()} - {tuple(each) for each in outside.tolist()}
    grid = {(int(x), int(y)) for x, y in every if (x + y) % 2 == 1}
    return grid, {(int(x), int(y)) for x, y in every} - grid, outside


def draft_of(design: Design) -> Draft:
    """Four repeats of the pins of a strip as an old pricking would show them."""
    assert isinstance(design.form, Strip)
    rows = design.form.rows
    grid, holes, outside = pins_of(design)
    many = [repeated(tuple(each), rows, 4) for each in (grid, holes)]
    # Outer pins of the grid are straight; a pricking curves them outwards, here by one unit.
    off = tuple((float(x) + 1.2, float(y + rows * k)) for x, y in outside.tolist() for k in range(4))
    return Draft(many[0], many[1], off)
