"""From one repeat of a strip to the whole strip and back.

A strip is listed whole, as it is worked; its rules are judged on one repeat that meets itself, because a block
that the first or last row cuts off is no fault.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from constraints.design import Design, FieldFilling
from constraints.fillings import UNITS
from constraints.forms import Strip
from constraints.lattice import Point, in_order
from constraints.layout import Layout, as_points, blocks_of, lay, lay_on, locate


def repeat_of(design: Design) -> Layout:
    """One repeat of a strip, laid on the piece that meets itself. Places of the middle repeats stand for all."""
    form = _strip(design)
    whole = lay(design)
    rows = whole.piece.pinholes[:, 1]
    # From the middle of the first repeat on: what the first row cuts off is whole there.
    first = form.rows // 2
    window = (rows >= first) & (rows < first + form.rows)
    piece = form.repeat(design.symmetry)
    here = locate(piece, whole.piece.pinholes[window])
    folded = np.full(len(piece), -1)
    folded[here] = whole.stitch[window]

    def once(places: tuple[Point, ...]) -> tuple[Point, ...]:
        own = [p for p in places if first <= p[1] < first + form.rows]
        return in_order(piece.setting.wrap.fold(as_points(tuple(own))))

    fillings = (replace(each, places=once(each.places)) for each in design.fillings)
    repeat = replace(
        design,
        blocks=blocks_of(piece, folded),
        fillings=tuple(each for each in fillings if each.places),
        eyes=once(design.eyes),
    )
    return lay_on(repeat, piece)


def laid_once(design: Design) -> Layout:
    """What of a design is composed and judged: of a strip one repeat, of any other all of it."""
    return repeat_of(design) if design.form.repeating else lay(design)


def unrolled(repeat: Design, form: Strip) -> Design:
    """The whole strip of so many repeats from a square that lists one; what its ends cut off is left out."""
    once = lay_on(repeat, form.repeat(repeat.symmetry))
    piece = form.piece(repeat.worked, "none")
    everywhere = once.stitch[locate(once.piece, piece.pinholes)]
    eyes = once.eyes[locate(once.piece, piece.pinholes)]
    fillings = [_unrolled_filling(each, form) for each in repeat.fillings]
    return replace(
        repeat,
        form=form,
        blocks=blocks_of(piece, everywhere),
        fillings=tuple(each for each in fillings if each.places),
        eyes=tuple((x, y) for x, y in piece.pinholes[eyes].tolist() if 2 <= y < form.length - 2),
    )


def _unrolled_filling(filling: FieldFilling, form: Strip) -> FieldFilling:
    """The figures that lie on the piece with all their pinholes; of a ground every pinhole."""
    reach = UNITS[filling.kind].size - 1 if filling.kind in UNITS else 0
    points = [
        (x, y + form.rows * number)
        for number in range(form.repeats)
        for x, y in filling.places
        if reach <= y + form.rows * number < form.length - reach
    ]
    return replace(filling, places=in_order(points))


def _strip(design: Design) -> Strip:
    strip = design.form.repeating
    if strip is None:
        raise ValueError(f"a {design.form.name} has no repeats")
    return strip
