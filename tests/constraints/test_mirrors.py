"""A strip laid round a frame: every place of a side shows what the strip has there, reflected at the corner lines.

Told here place by place, from the outer edges alone; a corner is a mirror at 45 degrees (common practice, no source).
"""

from __future__ import annotations

import pytest
from squares import roses, spiders
from strips import strip

from constraints.forms import Frame, Strip
from constraints.mirrors import corners, frame_of, laid
from constraints.repeats import repeat_of
from constraints.square import FieldFilling

COLUMNS, ROWS = 9, 12
FILLINGS = {
    "spiders": spiders({(4, 2), (2, 8)}),
    "spiders beside the footside": spiders({(6, 4)}),
    "spiders with twelve legs": spiders({(4, 3)}, 12),
    "roses": roses({(3, 3), (5, 5), (3, 7)}),
}


def centres(form: Frame, up: bool, row: int, filling: FieldFilling) -> set[tuple[int, int]]:
    """The figures of the frame: at each of its places the one that the strip has there, seen from the nearest edge."""
    held = {(x, y % ROWS) for x, y in filling.places}
    found = set()
    for x in range(-form.half_width, form.half_width + 1):
        for y in range(-form.half_height, form.half_height + 1):
            beside, below = form.half_width - abs(x), form.half_height - abs(y)
            for across, along in ((beside, below), (below, beside)):
                if across <= along and (COLUMNS - 1 - across, (row - along if up else row + along) % ROWS) in held:
                    found.add((x, y))
    return found


@pytest.mark.parametrize("name", FILLINGS)
def test_each_side_of_a_frame_has_the_figures_that_lie_on_its_side_of_the_corner_lines(name: str) -> None:
    filling = FILLINGS[name]
    lace = strip(Strip(COLUMNS, ROWS, 3), filling)
    tried = 0
    for corner in corners(lace.form):
        for turnover in range(0, ROWS, 3):
            form = frame_of(lace.form, corner, (turnover, turnover), (1, 2))
            if form is not None:
                draft = laid(repeat_of(lace), form, corner)
                told = {each.centre for each in draft.figures}
                assert told == centres(form, corner.up, corner.row, filling)
                assert len(draft.figures) == len(told)
                tried += 1
    assert tried > 20
