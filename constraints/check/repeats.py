"""The rule that only a strip has: all its repeats are alike."""

from __future__ import annotations

from collections.abc import Iterator

from constraints.check.listing import Fault
from constraints.design import Design
from constraints.lattice import in_order
from constraints.layout import Layout


def even(design: Design, repeat: Layout) -> Iterator[Fault]:
    """Every place is worked as the one a repeat further on; figures that an end would cut are left out, and eyes with
    no cloth between them and the end."""
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
    listed = {(each.kind, place) for each in design.fillings for place in each.places}
    reaches, wanted = {placed.unit.name: placed.unit.size - 1 for placed in repeat.units}, set()
    for each in repeat.design.fillings:
        reach = reaches.get(each.kind, 0)
        for x, y in each.places:
            for row in range(y % form.rows, form.length, form.rows):
                if reach <= row < form.length - reach:
                    wanted.add((each.kind, (x, row)))
    odd = in_order({place for _, place in listed ^ wanted})
    if odd:
        yield "fillings that differ from one repeat to another", odd
    eyes = {(x, row) for x, y in repeat.design.eyes for row in range(y % form.rows, form.length, form.rows)}
    odd = in_order({*design.eyes} ^ {(x, row) for x, row in eyes if 2 <= row < form.length - 2})
    if odd:
        yield "eyes that differ from one repeat to another", odd
