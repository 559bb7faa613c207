"""Readings: which blocks, spiders and headsides pinholes allow.

Sources: Therese de Dillmont, Encyclopedia of Needlework (1886), figures 788 and 799; the teaching pages of Jo Edkins
(a diamond of four pinholes a side takes four pairs from each side; spiders of 8, 12 and 16 legs). The rest is
held against brute force.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from designs import bar, diamond
from hypothesis import given, settings
from hypothesis import strategies as st
from redrafting_cards import EDGING, GROUND, repeated
from redrafting_pins import draft_of, neighbours, pinned, pins_of

from constraints.check import check
from constraints.edgings import Fan, Scallop
from constraints.lattice import Point
from constraints.layout import lay
from constraints.pins import pin_places
from explore.editing.redrafting.bed import Bed
from explore.editing.redrafting.blank import StripWorking
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.grid import by_row
from explore.editing.redrafting.proposals import propose
from explore.editing.redrafting.readings import read_blocks
from explore.editing.redrafting.repeat import Repeat, find_repeat, one_repeat
from explore.editing.redrafting.strips import strip_bed, strip_of

# --- figure 799 ------------------------------------------------------------------------------------------


def test_the_edging_of_1886_becomes_a_strip_of_ten_pairs_with_a_half_stitch_scallop_and_the_same_pins() -> None:
    # Six scallop pins stand outside the grid, one a row.
    draft = Draft(repeated(EDGING, 6, 4), headside=tuple((5.6, float(row)) for row in range(24)))
    repeat = find_repeat(draft)
    assert repeat is not None
    proposal = propose(repeat, StripWorking(repeats=3)).found[0]
    assert proposal.headside == Scallop("half", 3, 6, 1)
    design = proposal.design
    assert design.pairs == 3 + 6 + 1 == 10
    assert check(design) == []
    grid, holes, outside = pins_of(design)
    assert not holes
    assert len(outside) == 6
    # The strip begins at its valley: two rows later than the list of the book.
    assert grid == {(x, (y - 2) % 6) for x, y in EDGING}
    assert len(grid) == 12
    # Seamless: all pins of the whole strip come again after six rows.
    whole = {tuple(each) for each in pin_places(lay(design)).tolist()}
    inside = [(x, y) for x, y in whole if 6 <= y < 12 and x <= 4]
    assert inside
    assert all((x, y + 6) in whole and (x, y - 6) in whole for x, y in inside)


def test_the_list_of_the_book_without_its_scallop_pins_reads_alike() -> None:
    repeat = find_repeat(Draft(by_row(set(EDGING))))
    assert repeat is not None
    found = propose(repeat, StripWorking()).found
    assert [each.design.pairs for each in found] == [10, 6]
    assert [each.headside.kind for each in found if each.headside] == [Scallop.kind, Fan.kind]
    assert propose(repeat, StripWorking(kind="scallop", at_valley=4)).found[0].design.pairs == 3 + 4 + 1


def test_the_ground_of_1886_has_no_blocks_and_takes_ten_pairs() -> None:
    repeat = find_repeat(Draft(GROUND))
    assert repeat is not None
    proposals = propose(repeat, StripWorking())
    (only,) = proposals.found
    assert (only.reading.blocks, only.reading.figures, only.headside) == ((), (), None)
    assert only.design.pairs == 9 + 1
    assert proposals.total == 1


# --- blocks ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", [3, 4, 5, 6])
def test_a_diamond_of_n_pinholes_a_side_is_the_likeliest_reading_of_its_border(side: int) -> None:
    columns, rows = 2 * side + 5, 2 * side + 4
    block = diamond((side + 2, 1 + side % 2), side)
    dots = pinned(columns, rows, block)
    # A diamond of n a side has 4(n - 1) pins.
    assert len(dots & block) == 4 * (side - 1)
    repeat = one_repeat(Draft(by_row(dots)))
    best = propose(repeat, StripWorking()).found[0]
    assert best.reading.blocks == (frozenset(block),)
    assert best.reading.splits == 0


@pytest.mark.parametrize(("legs", "side"), [(8, 2), (12, 3), (16, 4)])
def test_spiders_are_known_by_their_pin(legs: int, side: int) -> None:
    columns, rows = 15, 16
    top = (7, 4)
    design = diamond(top, side)
    every = {(x, y) for x in range(columns) for y in range(rows) if (x + y) % 2}
    centre = (7, 4 + side - 1)
    dots = every - design | ({centre} if side % 2 else set())
    holes = () if side % 2 else (centre,)
    best = propose(one_repeat(Draft(by_row(dots), holes)), StripWorking()).found[0]
    assert (best.reading.blocks, best.reading.figures) == ((), ((centre, f"spider-{legs}"),))
    grid, in_holes, _ = pins_of(best.design)
    assert grid == dots
    assert in_holes == set(holes)
    # Without its pin a block is likelier, the spider still among the readings.
    other = propose(one_repeat(Draft(by_row(dots - {centre}))), StripWorking()).found
    assert other[0].reading.blocks
    assert [each.reading.figures for each in other if each.reading.figures] == [((centre, f"spider-{legs}"),)]


_INNER = [(x, y) for x in range(1, 7) for y in range(1, 6) if (x + y) % 2]


def _brute_force() -> dict[frozenset[Point], set[frozenset[Point]]]:
    """For every pattern of pins of a small patch, all blocks that leave it, by their definition alone."""
    found: dict[frozenset[Point], dict[frozenset[Point], int]] = {}
    for count in range(5, len(_INNER) + 1):
        for places in combinations(_INNER, count):
            block = set(places)
            middle = {place for place in block if neighbours(place) <= block}
            holes = {(x + dx, y + dy) for x, y in block for dx, dy in ((0, 1), (0, -1), (1, 0), (-1, 0))}
            corners = {h: [(h[0], h[1] - 1), (h[0] + 1, h[1]), (h[0], h[1] + 1), (h[0] - 1, h[1])] for h in holes}
            whole = {place for each in corners.values() if block.issuperset(each) for place in each}
            near = {place for each in corners.values() if middle & set(each) for place in each}
            if not middle or whole != block or not block <= near:
                continue
            splits = 0
            for top, right, bottom, left in corners.values():
                inside = [place in block for place in (top, right, bottom, left)]
                splits += sum(inside) == 3 and not (inside[0] and inside[2])
            found.setdefault(frozenset(middle), {})[frozenset(block)] = splits
    least = {middle: min(each.values()) for middle, each in found.items()}
    return {middle: {b for b, s in each.items() if s == least[middle]} for middle, each in found.items()}


def test_the_readings_of_a_small_patch_are_those_of_brute_force() -> None:
    every = frozenset((x, y) for x in range(8) for y in range(7) if (x + y) % 2)
    truth = _brute_force()
    assert len(truth) > 10
    for middle, blocks in truth.items():
        bed = Bed(every, every - middle, frozenset(), every - frozenset(_INNER), 0)
        readings = read_blocks(bed)
        assert not readings.assumed
        with_blocks = [each for each in readings.listed if not each.figures]
        assert {frozenset().union(*each.blocks) for each in with_blocks} == blocks
        assert len(with_blocks) == len(blocks)
        assert readings.total == len(readings.listed)


def test_places_that_no_block_can_hold_are_read_as_pinholes_and_told() -> None:
    every = {(x, y) for x in range(9) for y in range(8) if (x + y) % 2}
    lost = {(0, 3), (4, 5)}
    readings = read_blocks(strip_bed(one_repeat(Draft(by_row(every - lost))), None))
    # Beside the edge no block fits; in the middle of plain ground one does.
    assert readings.assumed == ((0, 3),)
    assert all(len(each.blocks) == 1 for each in readings.listed)


@settings(max_examples=30)
@given(
    along=st.integers(2, 5),
    across=st.integers(2, 5),
    start=st.integers(0, 27),
    side=st.integers(-3, 4),
    gap=st.integers(3, 5),
    legs=st.sampled_from((0, 8, 12, 16)),
)
def test_a_strip_that_was_designed_is_among_the_readings_of_its_own_pins(
    along: int, across: int, start: int, side: int, gap: int, legs: int
) -> None:
    """Any block with a spider below it, wherever they lie over the seam; one pinned all over leaves no trace, one that
    is pinned but in its middle too little."""
    columns, rows = 19, 28
    top = (8, start + (start + 1) % 2)
    below = top[1] + along + across - 2 + gap
    centre = (8 + side, (below + (side + below + 1) % 2 + legs // 4 - 1) % rows)
    block = frozenset((x, y % rows) for x, y in bar(top, along, across))
    ground = tuple((x, y) for y in range(rows) for x in range((y + 1) % 2, columns, 2))
    plain = Repeat(rows, 0, False, ground, (), (), 4)
    reading = replace(read_blocks(strip_bed(plain, None)).listed[0], blocks=(block,))
    if legs:
        reading = replace(reading, figures=((centre, f"spider-{legs}"),))
    design = strip_of(reading, plain, None, StripWorking(repeats=2, stitch="half", passives=1))
    assert check(design) == []
    repeat = find_repeat(draft_of(design))
    assert repeat is not None
    traced = min(along, across) >= 3
    # One unpinned place in each of two repeats is told shorter as two lost dots.
    known = (along - 2) * (across - 2) >= 2 or legs
    assert repeat.rows == (rows if known else 2)
    if not known:
        return
    assert repeat.first == 0
    expected = {block} if traced else set()
    spider = {(centre, f"spider-{legs}")} if legs else set()
    found = propose(repeat, StripWorking(), most=200).found
    assert any(set(each.reading.blocks) == expected and set(each.reading.figures) == spider for each in found)
