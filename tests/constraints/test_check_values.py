"""What a square says of itself: sizes too small and headsides that do not fit, told with the sizes that do.

The rules are common practice, no source; the numbers told are tried, or read off coordinates.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from designs import made
from strips import worked_across, worked_round

from constraints.check import check
from constraints.design import Design
from constraints.edgings import Fan
from constraints.forms import Form, Frame, Rectangle, Square, Strip

PLAIN = made(5)
FAN = Fan("cloth", 3, 2, 3)


def told(form: Form, worked: str = "across") -> list[str]:
    """What is told of the values of a piece of this form."""
    return [each.message for each in check(replace(PLAIN, form=form, worked=worked)) if each.rule == "values"]


@pytest.mark.parametrize(
    ("form", "worked", "words"),
    [
        (Square(0), "round", "the half-size is 0; it is at least 1"),
        (Rectangle(0, 4), "across", "the half-width is 0; it is at least 1"),
        (Rectangle(4, 0), "across", "the half-height is 0; it is at least 1"),
        (Frame(0, 9, 3), "round", "the half-width is 0; it is at least 1"),
        (Frame(9, 0, 3), "round", "the half-height is 0; it is at least 1"),
        (Frame(9, 9, 0), "round", "the band is 0; it is at least 1"),
        (Frame(9, 6, 6), "round", "the opening is 0; it is at least 1"),
        (Frame(6, 9, 6), "round", "the opening is 0; it is at least 1"),
        (Strip(1, 6, 2), "across", "the columns is 1; it is at least 2"),
        (Strip(6, 0, 2), "across", "the rows is 0; it is at least 2"),
        (Strip(6, 6, 1), "across", "the repeats is 1; it is at least 2"),
    ],
)
def test_a_measure_below_its_least_is_told_by_its_name(form: Form, worked: str, words: str) -> None:
    assert words in told(form, worked)


@pytest.mark.parametrize("piece", [worked_across(Rectangle(5, 4)), worked_round(Frame(9, 8, 3))])
def test_the_least_measures_of_other_forms_are_no_fault(piece: Design) -> None:
    assert check(piece) == []


@pytest.mark.parametrize("both", [False, True])
@pytest.mark.parametrize("depth", [2, 3, 4])
def test_the_columns_told_leave_ground_beside_a_headside_and_one_less_does_not(depth: int, both: bool) -> None:
    """By hand: a fan of depth h stands on h lines, and between c columns lie c - 1; one is left for ground."""
    wanted = depth * (2 if both else 1) + 1 + 1

    def sentences(columns: int) -> list[str]:
        form = Strip(columns, 2 * depth, 2, replace(FAN, depth=depth, first=columns % 2), both)
        return told(form)

    words = f"{wanted - 1} columns leave no ground beside a cloth fan {depth}; {wanted} do"
    assert sentences(wanted - 1) == [words]
    assert sentences(wanted) == []


@pytest.mark.parametrize(("high", "first"), [(12, 11), (13, 10), (13, 6), (14, 13), (15, 12)])
def test_fans_along_a_rectangle_are_whole(high: int, first: int) -> None:
    """By hand: fans 6 units high from pin 1 - B to pin B - 1; of half-height 13 they are four."""
    words = f"sides of half-height {high}; half-heights one more than a multiple of 3 do"
    if high == 13:
        words = f"a cloth fan 3 along the sides stand {first} units from the middle; of half-height 13 it is 12"
    assert any(words in each for each in told(Rectangle(9, high, replace(FAN, first=first))))
    assert told(Rectangle(9, 13, replace(FAN, first=12))) == []


@pytest.mark.parametrize("columns", [11, 12])
@pytest.mark.parametrize("first", range(6))
def test_a_valley_stands_on_a_pin_of_the_edge(columns: int, first: int) -> None:
    """Pinholes are where x + y is odd."""
    words = f"row {first} of the headside has no edge pin for a valley"
    on_pin = (columns - 1 + first) % 2 == 1
    assert told(Strip(columns, 6, 2, replace(FAN, first=first))) == ([] if on_pin else [words])


@pytest.mark.parametrize("depth", [2, 3, 4])
@pytest.mark.parametrize(("half_size", "t"), [(16, 1), (15, 1), (16, 2), (14, 3), (17, 2)])
def test_a_headside_that_does_not_fit_a_side_is_told_with_its_last_valleys_and_the_side(
    half_size: int, t: int, depth: int
) -> None:
    """By hand: the side of a square of half-size N is N pitches long, the last valleys stand N - 1 - 2t units from its
    middle, and between them lie whole fans of 2h units."""
    fan = f"a cloth fan {depth} with its last valleys {2 * t + 1} units from the corners"
    fits = 2 * (half_size - 1 - 2 * t) % (2 * depth) == 0
    wanted = [] if fits else [f"{fan} does not fit a side of {half_size} pitches"]
    assert told(Square(half_size, replace(FAN, depth=depth, first=t)), "round") == wanted
