"""The rule that only a strip has: all its repeats are alike."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.listing import Fault
from constraints.design import Design
from constraints.lattice import in_order
from constraints.layout import Layout, unit_of_filling


def even(design: Design, repeat: Layout) -> Iterator[Fault]:
    """Every place is worked as the one a repeat further on; figures that an end would cut are left out."""
    form = design.form.repeating
    if form is None:
        return
    stitch = {place: block.stitch for block in design.blocks for place in block.pinholes}
    once = {place: block.stitch for block in repeat.design.blocks for place in block.pinholes}
    uneven = tuple(
        (x, y)
        for y in range(form.length)
        for x in range((y + 1) % 2, form.columns, 2)
        if stitch.get((x, y)) != once.get((x, y % form.rows))
    )
    if uneven:
        yield "places that differ from one repeat to another", uneven
    listed = {(each.filling, each.legs, place) for each in design.fillings for place in each.places}
    wanted = set()
    for each in repeat.design.fillings:
        unit = unit_of_filling(each)
        reach = 0 if unit is None else unit.size - 1
        for x, y in each.places:
            for row in range(y % form.rows, form.length, form.rows):
                if reach <= row < form.length - reach:
                    wanted.add((each.filling, each.legs, (x, row)))
    odd = in_order({place for _, _, place in listed ^ wanted})
    if odd:
        yield "fillings that differ from one repeat to another", odd
