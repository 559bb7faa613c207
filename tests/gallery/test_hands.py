"""Sides as she sees them, with the footside on either hand."""

import pytest

from constraints.flow import START_LINES, corner_signs
from gallery.hands import FOOTSIDE_LEFT, FOOTSIDE_RIGHT, QUARTERS, corner, sides


@pytest.mark.parametrize("start", START_LINES)
def test_with_the_footside_on_the_right_left_and_right_change_places(start: str) -> None:
    x, y = corner_signs(start)
    assert corner(start, sides(FOOTSIDE_LEFT)) == start
    assert corner_signs(corner(start, sides(FOOTSIDE_RIGHT))) == (-x, y)


def test_the_start_line_lies_between_the_quarters_of_its_name() -> None:
    """At the top left corner the top quarter meets the left one, and so on."""
    for start, quarters in START_LINES.items():
        assert {QUARTERS[number] for number in quarters} == set(start.split("-"))
