"""Outlines and rows of blocks; areas and shapes by shapely."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from examples import band, diamond, gallery_of, make, ring
from shapely.geometry import Polygon

from constraints.design import Design
from constraints.layout import lay
from gallery.looks.blocks import block_outlines, rows, whole_holes
from gallery.looks.cloth import WEAVES, Spacing, across, lengthwise, quarters

SHELF = [*gallery_of(8, 12), *gallery_of(8, 24), *gallery_of(4, 24, "across")]
names = pytest.mark.parametrize("design", SHELF, ids=lambda s: f"{s.half_size}-{s.worked}-{s.number}")


def area(outline: np.ndarray) -> float:
    """Positive clockwise on the page, where y runs down."""
    x, y = outline.T
    return float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2)


@names
def test_outlines_enclose_two_square_units_for_every_place(design: Design) -> None:
    layout = lay(design)
    places = sum(len(block.pinholes) for block in design.blocks)
    assert sum(area(ring) for ring in block_outlines(layout, layout.inside)) == 2 * places


@names
def test_outlines_are_the_border_of_the_union_of_the_cells(design: Design) -> None:
    layout = lay(design)
    for block in design.blocks:
        cells = [Polygon([(x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)]) for x, y in block.pinholes]
        which = np.zeros(len(layout.piece), dtype=np.bool_)
        which[[layout.piece.index[p] for p in block.pinholes]] = True
        border = shapely.union_all([shapely.linearrings(ring) for ring in block_outlines(layout, which)])
        assert border.equals(shapely.union_all(cells).boundary)


def test_a_closed_trail_has_two_outlines_and_a_diamond_four_corners() -> None:
    layout = lay(make(12, [("cloth", band(10, 7))]))
    outer, inner = sorted(block_outlines(layout, layout.inside), key=area, reverse=True)
    assert area(outer) > 0 > area(inner)
    layout = lay(make(12, [("half", diamond(0, 0, 4))]))
    (corners,) = block_outlines(layout, layout.inside)
    assert sorted(corners.tolist()) == [[-4, 0], [0, -4], [0, 4], [4, 0]]


@names
def test_rows_run_across_the_working_direction_from_pin_to_pin(design: Design) -> None:
    layout = lay(design)
    held = rows(layout, layout.inside)
    places = {p for block in design.blocks for p in block.pinholes}
    for share in (0.0, 1.0):
        for (a, b), along in zip(held.lines(share, share).tolist(), held.along.tolist(), strict=True):
            assert (np.array(b) - a) @ along == 0
            for end in (a, b):
                # A row ends on a pinhole of the block or, cut by a corner line, on that line.
                assert tuple(end) in places or abs(end[0]) == abs(end[1])


def test_worked_across_every_row_of_a_diamond_is_crossed_once() -> None:
    layout = lay(make(12, [("cloth", diamond(0, 0, 4))], worked="across", symmetry="none"))
    held = rows(layout, layout.inside)
    assert held.line.tolist() == [-3, -2, -1, 0, 1, 2]
    assert held.ends.tolist()[:2] == [[0, 0, -1, 1], [-1, 1, -2, 2]]


def test_a_row_without_a_next_one_is_crossed_as_well() -> None:
    """Two by two places round the centre lie in four quarters, one in each."""
    layout = lay(make(12, [("half", diamond(0, 0, 2))]))
    lines = rows(layout, layout.inside).lines(0.0, 0.0)
    assert sorted(lines[:, 1].tolist() + lines[:, 0].tolist()) == sorted(
        [[0, 0]] * 4 + [[1, 0], [-1, 0], [0, 1], [0, -1]]
    )


@names
def test_threads_of_a_block_stay_within_its_cloth(design: Design) -> None:
    layout = lay(design)
    full = layout.piece.pinholes[whole_holes(layout)]
    within = shapely.union_all([Polygon(hole) for hole in full]).buffer(1e-6)
    shapely.prepare(within)
    held = quarters(layout, layout.inside)
    for weave in WEAVES.values():
        woven = weave(held)
        for lines in (woven.under, woven.top):
            assert shapely.covers(within, shapely.linestrings(lines)).all()


@names
def test_threads_are_as_long_as_their_spacing_asks(design: Design) -> None:
    """Lines at every p units through an area A are A / p long."""
    layout = lay(design)
    held = quarters(layout, layout.inside)
    closed = 2 * len(whole_holes(layout))
    for spacing in (Spacing(0.25, 0.125), Spacing(0.5, 0.25)):
        for lines in (across(held, spacing), lengthwise(held, spacing)):
            length = np.hypot(*(lines[:, 1] - lines[:, 0]).T).sum()
            assert length == pytest.approx(closed / spacing.period)


def test_lines_of_a_straight_trail_run_on_from_hole_to_hole() -> None:
    layout = lay(make(12, [("cloth", ring(10, 6))], worked="across", symmetry="none"))
    held = quarters(layout, layout.inside)
    (middle,) = [line for line in across(held, Spacing(100.0, 0.5)) if line[0, 0] < 0]
    assert sorted(middle.tolist()) == [[-8.5, 0.5], [-6.5, 0.5]]
