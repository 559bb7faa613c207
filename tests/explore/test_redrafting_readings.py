"""Readings: which blocks, spiders and headsides pinholes allow.

Sources: Therese de Dillmont, Encyclopedia of Needlework (1886), figures 788 and 799; the teaching pages of Jo Edkins
(a diamond of four pinholes a side takes four pairs from each side; spiders of 8, 12 and 16 legs). The rest is
held against brute force.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from redrafting_cards import EDGING, GROUND, repeated

from constraints.check import check
from constraints.edging import DEPTHS, FAN, SCALLOP, Headside
from constraints.forms import Strip
from constraints.lattice import Point
from constraints.layout import lay
from constraints.outer_side import outer_pins
from constraints.pins import pin_places
from constraints.repeats import repeat_of
from constraints.square import Square
from explore.reading import read
from explore.redrafting.bed import Bed
from explore.redrafting.draft import Draft, by_row
from explore.redrafting.headsides import possible, strip_piece
from explore.redrafting.proposals import Wish, chosen, propose
from explore.redrafting.readings import read_blocks
from explore.redrafting.repeat import Repeat, find_repeat, one_repeat
from explore.redrafting.stamps import stamp_svg, whole_bed
from explore.redrafting.strips import strip_bed, strip_of
from explore.refused import Refused


def diamond(top: Point, along: int, across: int | None = None) -> set[Point]:
    """A block of so many pinholes along and across, from its top."""
    return {(top[0] + i - j, top[1] + i + j) for i in range(along) for j in range(across or along)}


def neighbours(place: Point) -> set[Point]:
    return {(place[0] + dx, place[1] + dy) for dx in (1, -1) for dy in (1, -1)}


def pinned(columns: int, rows: int, block: set[Point]) -> set[Point]:
    """The pins of plain ground with a block, by the trade's rule: pins only where its border is."""
    every = {(x, y) for x in range(columns) for y in range(rows) if (x + y) % 2}
    return {place for place in every if not (place in block and neighbours(place) <= block)}


def pins_of(square: Square) -> tuple[set[Point], set[Point], np.ndarray]:
    """Of one repeat: pins at pinholes, pins in holes, pins outside the grid."""
    layout = repeat_of(square)
    outside = outer_pins(layout.piece)
    every = {tuple(each) for each in pin_places(layout).tolist()} - {tuple(each) for each in outside.tolist()}
    grid = {(int(x), int(y)) for x, y in every if (x + y) % 2 == 1}
    return grid, {(int(x), int(y)) for x, y in every} - grid, outside


def draft_of(square: Square) -> Draft:
    """Four repeats of the pins of a strip as an old pricking would show them."""
    assert isinstance(square.form, Strip)
    rows = square.form.rows
    grid, holes, outside = pins_of(square)
    many = [repeated(tuple(each), rows, 4) for each in (grid, holes)]
    # Outer pins of the grid are straight; a pricking curves them outwards, here by one unit.
    off = tuple((float(x) + 1.2, float(y + rows * k)) for x, y in outside.tolist() for k in range(4))
    return Draft(many[0], many[1], off)


# --- figure 799 ------------------------------------------------------------------------------------------


def test_the_edging_of_1886_becomes_a_strip_of_ten_pairs_with_a_half_stitch_scallop_and_the_same_pins() -> None:
    # Six scallop pins stand outside the grid, one a row.
    draft = Draft(repeated(EDGING, 6, 4), headside=tuple((5.6, float(row)) for row in range(24)))
    repeat = find_repeat(draft)
    assert repeat is not None
    proposal = propose(repeat, Wish(repeats=3)).found[0]
    assert proposal.headside == Headside(SCALLOP, "half", 3, 6, 1)
    square = proposal.square
    assert square.pairs == 3 + 6 + 1 == 10
    assert check(square) == []
    grid, holes, outside = pins_of(square)
    assert not holes
    assert len(outside) == 6
    # The strip begins at its valley: two rows later than the list of the book.
    assert grid == {(x, (y - 2) % 6) for x, y in EDGING}
    assert len(grid) == 12
    # Seamless: all pins of the whole strip come again after six rows.
    whole = {tuple(each) for each in pin_places(lay(square)).tolist()}
    inside = [(x, y) for x, y in whole if 6 <= y < 12 and x <= 4]
    assert inside
    assert all((x, y + 6) in whole and (x, y - 6) in whole for x, y in inside)


def test_the_list_of_the_book_without_its_scallop_pins_reads_alike() -> None:
    repeat = find_repeat(Draft(by_row(set(EDGING))))
    assert repeat is not None
    found = propose(repeat, Wish()).found
    assert [each.square.pairs for each in found] == [10, 6]
    assert [each.headside.kind for each in found if each.headside] == [SCALLOP, FAN]
    assert propose(repeat, Wish(kind="scallop", at_valley=4)).found[0].square.pairs == 3 + 4 + 1


def test_the_ground_of_1886_has_no_blocks_and_takes_ten_pairs() -> None:
    repeat = find_repeat(Draft(GROUND))
    assert repeat is not None
    proposals = propose(repeat, Wish())
    (only,) = proposals.found
    assert (only.reading.blocks, only.reading.spiders, only.headside) == ((), (), None)
    assert only.square.pairs == 9 + 1
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
    best = propose(repeat, Wish()).found[0]
    assert best.reading.blocks == (frozenset(block),)
    assert best.reading.splits == 0


@pytest.mark.parametrize(("legs", "side"), [(8, 2), (12, 3), (16, 4)])
def test_spiders_are_known_by_their_pin(legs: int, side: int) -> None:
    columns, rows = 15, 16
    top = (7, 4)
    square = diamond(top, side)
    every = {(x, y) for x in range(columns) for y in range(rows) if (x + y) % 2}
    centre = (7, 4 + side - 1)
    dots = every - square | ({centre} if side % 2 else set())
    holes = () if side % 2 else (centre,)
    best = propose(one_repeat(Draft(by_row(dots), holes)), Wish()).found[0]
    assert (best.reading.blocks, best.reading.spiders) == ((), ((centre, legs),))
    grid, in_holes, _ = pins_of(best.square)
    assert grid == dots
    assert in_holes == set(holes)
    # Without its pin a block is likelier, the spider still among the readings.
    other = propose(one_repeat(Draft(by_row(dots - {centre}))), Wish()).found
    assert other[0].reading.blocks
    assert [each.reading.spiders for each in other if each.reading.spiders] == [((centre, legs),)]


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
        with_blocks = [each for each in readings.listed if not each.spiders]
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
    """Any block with a spider below it, wherever they lie over the seam; one pinned all over leaves no trace."""
    columns, rows = 19, 28
    top = (8, start + (start + 1) % 2)
    below = top[1] + along + across - 2 + gap
    centre = (8 + side, (below + (side + below + 1) % 2 + legs // 4 - 1) % rows)
    block = frozenset((x, y % rows) for x, y in diamond(top, along, across))
    ground = tuple((x, y) for y in range(rows) for x in range((y + 1) % 2, columns, 2))
    plain = Repeat(rows, 0, False, ground, (), (), 4)
    reading = replace(read_blocks(strip_bed(plain, None)).listed[0], blocks=(block,))
    if legs:
        reading = replace(reading, spiders=((centre, legs),))
    square = strip_of(reading, plain, None, repeats=2, pitch_mm=5, stitch="half", passives=1)
    assert check(square) == []
    repeat = find_repeat(draft_of(square))
    assert repeat is not None
    traced = min(along, across) >= 3
    assert repeat.rows == (rows if traced or legs else 2)
    if not traced and not legs:
        return
    assert repeat.first == 0
    expected = {block} if traced else set()
    spider = {(centre, legs)} if legs else set()
    found = propose(repeat, Wish(), most=200).found
    assert any(set(each.reading.blocks) == expected and set(each.reading.spiders) == spider for each in found)


# --- headsides -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize("kind", [FAN, SCALLOP])
def test_a_headside_is_known_by_its_inner_border_and_its_pins_outside(kind: str, depth: int) -> None:
    columns = depth + 5
    first = columns % 2
    headside = Headside(kind, "cloth", depth, 2 if kind == FAN else 5, first)
    plain = Repeat(2 * depth, 0, False, ((columns - 1, 0), (columns - 2, 1)), (), (), 4)
    piece = strip_piece(plain, headside)
    reading = read_blocks(
        Bed(frozenset(), frozenset(), frozenset(), frozenset(), 2 * depth)
    ).listed[0]
    square = strip_of(reading, plain, headside, repeats=4, pitch_mm=5, stitch="cloth", passives=0)
    assert check(square) == []
    grid, _, outside = pins_of(square)
    # A pricking curves the outer side of a fan off the grid, but for its valleys.
    curved = {
        (x, y) for x, y in grid if x == columns - 1 and (y - first) % (2 * depth) and bool(piece.fan[piece.index[x, y]])
    }
    draft = Draft(
        by_row(grid - curved),
        headside=tuple((columns + 0.5, float(y)) for _, y in [*curved, *outside.tolist()]),
    )
    draft = replace(
        draft,
        pinholes=repeated(draft.pinholes, 2 * depth, 4),
        headside=tuple((x, y + 2 * depth * k) for x, y in draft.headside for k in range(4)),
    )
    repeat = find_repeat(draft)
    assert repeat is not None
    best = propose(repeat, Wish(at_valley=5 if kind == SCALLOP else None)).found[0].headside
    assert best is not None
    assert (best.kind, best.depth) == (kind, depth)
    assert possible(repeat)


def test_an_edge_of_no_kind_is_refused_for_a_strip_but_not_for_a_stamp() -> None:
    every = [(x, y) for y in range(14) for x in range((y + 1) % 2, 9 + (y * 7 % 5), 2)]
    draft = Draft(by_row(set(every)))
    with pytest.raises(Refused, match="--as stamp"):
        propose(one_repeat(draft), Wish())
    assert read_blocks(whole_bed(draft)).listed


# --- stamps ----------------------------------------------------------------------------------------------


def test_a_stamp_has_the_area_of_its_blocks_and_is_read_as_any_other(tmp_path: Path) -> None:
    block = frozenset(diamond((8, 3), 5))
    bed = whole_bed(Draft(by_row(pinned(17, 18, set(block)))))
    best = read_blocks(bed).listed[0]
    assert best.blocks == (block,)
    file = tmp_path / "diamond.svg"
    file.write_text(stamp_svg(best.blocks, bed, 4.0))
    shape = read(file, turn=0).shape
    # Two square units a pinhole, a unit half a pitch: 2 mm; SVG counts 96 pixels to the inch of 25.4 mm.
    assert shape.area * (25.4 / 96) ** 2 == pytest.approx(25 * 2 * 2.0**2, rel=1e-3)
    left, top, right, bottom = shape.bounds
    assert right - left == pytest.approx(bottom - top)
    assert shapely.minimum_rotated_rectangle(shape).area == pytest.approx(shape.area, rel=1e-3)
    with pytest.raises(Refused, match="no block"):
        stamp_svg((), bed, 4.0)


def test_readings_are_chosen_by_number() -> None:
    repeat = one_repeat(Draft(by_row(pinned(13, 14, diamond((6, 1), 4)))))
    found = propose(repeat, Wish())
    assert [each.number for each in found.found] == list(range(1, found.total + 1))
    assert chosen(found, 2) is found.found[1]
    with pytest.raises(Refused, match=rf"--reading 99: the readings are 1 to {found.total}"):
        chosen(found, 99)
    corners = [each.reading.corners for each in found.found if not each.reading.spiders]
    assert corners == sorted(corners)
    assert math.isclose(found.found[0].square.pitch_mm, 5)
