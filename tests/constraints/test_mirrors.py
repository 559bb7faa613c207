"""A strip laid round a frame: every place of a side shows what the strip has there, reflected at the corner lines.

Told here place by place, from the outer edges alone; a corner is a mirror at 45 degrees (common practice, no source).
"""

from __future__ import annotations

import pytest
from designs import diamond, double, roses, spiders
from reflected import plain
from strips import strip

from constraints.forms import Strip
from constraints.lattice import Point
from constraints.mirrors import FrameDraft, corners, frame_of, laid
from constraints.places import KIND_NUMBERS, PLAIN
from constraints.repeats import repeat_of

COLUMNS, ROWS = 9, 12
PARTS = {
    "spiders": spiders({(4, 2), (2, 8)}),
    "spiders beside the footside": spiders({(6, 4)}),
    "spiders with twelve legs": spiders({(4, 3)}, 12),
    "spiders with sixteen legs": spiders({(4, 6)}, 16),
    "roses": roses({(3, 3), (5, 5), (3, 7)}),
    "double ground": double({(3, 2), (4, 3), (2, 3), (3, 4), (5, 4)}),
    "a diamond": ("half", {(x, y % ROWS) for x, y in diamond((3, 10), 3)}),
}


@pytest.mark.parametrize("name", PARTS)
def test_every_place_of_a_frame_is_worked_as_the_strip_has_it_there_what_a_mirror_cuts_too(name: str) -> None:
    model, tried = strip(Strip(COLUMNS, ROWS, 3), PARTS[name]), 0
    for corner in corners(model.form):
        for turnover in range(0, ROWS, 3):
            form = frame_of(model.form, corner, (turnover, turnover), (1, 2))
            if form is not None:
                wanted = plain(model, form, corner)
                found = _worked(laid(repeat_of(model), form, corner))
                # On the line of a turnover either half has its own half of a figure that it cuts: both ways are right.
                own = {point for point in found if 0 not in point}
                assert {point: found[point] for point in own} == {
                    point: (KIND_NUMBERS[name], x, y) for point, (name, x, y) in wanted.items() if 0 not in point
                }
                tried += len(own)
    assert tried > 500


def _worked(draft: FrameDraft) -> dict[Point, tuple[int, int, int]]:
    """What every place that is not in plain ground is worked in."""
    piece = draft.form.piece("round", "none")
    rows = zip(piece.index, draft.places.tolist(), strict=True)
    return {point: (what, x, y) for point, (what, x, y) in rows if what != PLAIN}
