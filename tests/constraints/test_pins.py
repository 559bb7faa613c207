"""How many pins a square takes, against the figures that handbooks and the trade give."""

from __future__ import annotations

import pytest
from designs import Points, blocks, diamond, double, made, roses, spiders

from constraints.layout import lay
from constraints.pins import pin_places, pins

PINHOLES = 2 * 12 * 13  # of a square of half-size 12


def test_plain_ground_takes_a_pin_at_every_pinhole() -> None:
    """An Aztec diamond of order N has 2N(N + 1) cells (Elkies, Kuperberg, Larsen, Propp 1992)."""
    assert pins(made(12)) == PINHOLES
    assert pins(made(12, double({(0, 1), (0, 3)}))) == PINHOLES


@pytest.mark.parametrize("side", [2, 3, 4, 5, 6])
def test_a_diamond_of_n_pinholes_a_side_takes_4_times_n_minus_1(side: int) -> None:
    """A 4 x 4 diamond has 12 pins: teaching pages of Jo Edkins."""
    places = diamond((0, -side - 3 + side % 2), side)
    design = made(12, *blocks("cloth", places))
    assert pins(design) - (PINHOLES - side * side) == 4 * (side - 1)


@pytest.mark.parametrize(("legs", "taken", "centre"), [(8, 4, (-8, 0)), (12, 9, (-7, 0)), (16, 16, (-7, 1))])
def test_a_spider_takes_one_pin_at_its_centre(legs: int, taken: int, centre: tuple[int, int]) -> None:
    """8 and 16 legs have their pin off the grid: teaching pages of Jo Edkins."""
    design = made(12, spiders({centre}, legs))
    assert pins(design) == PINHOLES - taken + 1
    places = {tuple(place) for place in pin_places(lay(design)).tolist()}
    assert centre in places
    assert ((centre[0] + centre[1]) % 2 == 0) == (legs != 12)


def test_a_rose_unit_has_four_pins() -> None:
    """Teaching pages of Jo Edkins."""
    assert pins(made(12, roses({(-8, 0), (-6, 2)}))) == PINHOLES


def test_places_of_two_blocks_side_by_side_are_pinned_all_round() -> None:
    first, second = diamond((-6, -3), 2), diamond((-4, -1), 2)
    design = made(12, *blocks("cloth", first), *blocks("half", second))
    assert pins(design) == PINHOLES


def test_pins_stand_apart() -> None:
    design = made(12, *blocks("cloth", diamond((0, -9), 4)), spiders({(-8, 0)}), roses({(8, 0)}))
    places = pin_places(lay(design))
    assert len({tuple(place) for place in places.tolist()}) == len(places) == pins(design)


@pytest.mark.parametrize(("notch", "clefts"), [((0, 1), {(0, -1)}), ((0, -3), {(0, 1)}), ((2, -1), set())])
def test_in_the_cleft_of_a_block_that_splits_or_merges_stands_a_pin(notch: tuple[int, int], clefts: Points) -> None:
    """Where two workers part or meet (from a lacemaker's memory, no source). A diamond of four pinholes a side, worked
    down, less a diamond of two: without its lower quarter it splits, without its upper one it merges; without one at a
    side one worker goes round a bend."""
    places = diamond((0, -3), 4) - diamond(notch, 2)
    standing = {tuple(place) for place in pin_places(lay(made(12, *blocks("cloth", places), worked="across"))).tolist()}
    amid = {(x, y) for x, y in places if {(x + dx, y + dy) for dx in (-1, 1) for dy in (-1, 1)} <= places}
    assert amid & standing == clefts
