"""Readings: which headside pins at an edge allow, and blocks as a stamp."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from designs import diamond
from redrafting_cards import repeated
from redrafting_pins import pinned, pins_of

from constraints.check import check
from constraints.edgings import EDGINGS, Fan, Scallop
from explore.bad_input import BadInput
from explore.editing.redrafting.bed import Bed
from explore.editing.redrafting.blank import StripWorking
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.grid import by_row
from explore.editing.redrafting.headsides import possible, strip_piece
from explore.editing.redrafting.proposals import NoReading, chosen, propose
from explore.editing.redrafting.readings import read_blocks
from explore.editing.redrafting.repeat import Repeat, find_repeat, one_repeat
from explore.editing.redrafting.stamps import stamp_svg, whole_bed
from explore.editing.redrafting.strips import strip_of
from explore.reading import read

# --- headsides -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("depth", Fan.depths)
@pytest.mark.parametrize("kind", [Fan.kind, Scallop.kind])
def test_a_headside_is_known_by_its_inner_border_and_its_pins_outside(kind: str, depth: int) -> None:
    columns = depth + 5
    first = columns % 2
    headside = EDGINGS[kind]("cloth", depth, 2 if kind == Fan.kind else 5, first)
    plain = Repeat(2 * depth, 0, False, ((columns - 1, 0), (columns - 2, 1)), (), (), 4)
    piece = strip_piece(plain, headside)
    reading = read_blocks(Bed(frozenset(), frozenset(), frozenset(), frozenset(), 2 * depth)).listed[0]
    design = strip_of(reading, plain, headside, StripWorking())
    assert check(design) == []
    grid, _, outside = pins_of(design)
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
    best = propose(repeat, StripWorking(at_valley=5 if kind == Scallop.kind else None)).found[0].headside
    assert best is not None
    assert (best.kind, best.depth) == (kind, depth)
    assert possible(repeat)


def test_an_edge_of_no_kind_is_refused_for_a_strip_but_not_for_a_stamp() -> None:
    every = [(x, y) for y in range(14) for x in range((y + 1) % 2, 9 + (y * 7 % 5), 2)]
    draft = Draft(by_row(set(every)))
    with pytest.raises(NoReading, match="has no straight right edge"):
        propose(one_repeat(draft), StripWorking())
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
    with pytest.raises(BadInput, match="no block"):
        stamp_svg((), bed, 4.0)


def test_readings_are_chosen_by_number() -> None:
    repeat = one_repeat(Draft(by_row(pinned(13, 14, diamond((6, 1), 4)))))
    found = propose(repeat, StripWorking())
    assert [each.number for each in found.found] == list(range(1, found.total + 1))
    assert chosen(found.found, 2) is found.found[1]
    with pytest.raises(BadInput, match=rf"reading 99: the readings are 1 to {found.total}"):
        chosen(found.found, 99)
    corners = [each.reading.corners for each in found.found if not each.reading.figures]
    assert corners == sorted(corners)
    assert math.isclose(found.found[0].design.pitch_mm, 5)
