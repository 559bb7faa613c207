"""The start line of a round: along a corner line, or horizontal. Both cut the same flow.

E: Jo Edkins, teaching pages on Torchon lace. A horizontal start hangs two pairs on every pin but those of the edge
(common practice, no source; D, Therese de Dillmont 1886, fig. 787, hangs two on each of the top pins of a ground).
"""

from __future__ import annotations

from dataclasses import replace

import networkx
import numpy as np
import pytest
from designs import GOOD, blocks, border_trail, diamond, made, roses
from flows import single_pins
from strips import worked_round

from constraints.design import Design
from constraints.flow import START_LINES, flow_of, over_start, pair_arcs, quietest_start
from constraints.forms import Frame, Square
from constraints.layout import lay
from constraints.working import check
from constraints.working.ends import ends_of, faults, places_from_footside, start_line
from constraints.working.habits import AS_SUITS, HORIZONTAL, Habits
from constraints.working.start import level_row
from constraints.working.steps import steps_of
from constraints.working.work import work

# A field of roses without a gap leaves no row free.
ROUND = {name: design for name, design in GOOD.items() if design.worked == "round" and name != "rose field"}
LEVEL, AS_IT_SUITS = Habits(start_line=HORIZONTAL), Habits(start_line=AS_SUITS)


@pytest.mark.parametrize("half_size", [6, 7])
@pytest.mark.parametrize("start", START_LINES)
def test_every_row_cuts_as_many_pairs_as_a_corner_line_and_leaves_no_cycle(half_size: int, start: str) -> None:
    # N lines and one edge pair (E: mats worked as four triangular quarters); cycles by networkx.
    piece = Square(half_size).piece("round")
    arcs = pair_arcs(piece)
    for row in range(2 - half_size, half_size - 1):
        over = over_start(piece, arcs, start, row)
        assert over.sum() == half_size + 1
        left = networkx.DiGraph(arcs[~over].tolist())
        assert networkx.is_directed_acyclic_graph(left)
        cut = flow_of(piece, single_pins(piece), start, row)
        assert (cut.across_cuts == half_size + 1).all()


def test_the_middle_row_is_cut_straight_from_the_footside_to_the_middle() -> None:
    done = work(made(7, passives=0), LEVEL)
    assert done.start_row == 0
    assert start_line(done).tolist() == [[-7, -0.5], [-0.5, -0.5], [0, 0]]
    assert [(held.place, len(held.segments)) for held in ends_of(done).hung] == [((x, -1), 2) for x in (-7, -5, -3, -1)]


def test_where_the_row_begins_inside_the_edge_pair_hangs_alone() -> None:
    hung = ends_of(work(made(6, passives=2), LEVEL)).hung
    held = [(each.place, len(each.segments)) for each in hung]
    assert held == [((-6, 0), 3), ((-5, -1), 2), ((-3, -1), 2), ((-1, -1), 2)]


@pytest.mark.parametrize("design", ROUND.values(), ids=ROUND.keys())
@pytest.mark.parametrize("start", START_LINES)
def test_every_pair_of_a_horizontal_start_is_sewn_into_its_own_loop(design: Design, start: str) -> None:
    for passives in (0, 2):
        pairs = design.pairs + passives - design.passives
        done = work(replace(design, start=start, passives=passives, pairs=pairs), LEVEL)
        ends = ends_of(done)
        assert [*check.faults(done), *faults(done, ends)] == []
        places = places_from_footside(done)
        # The first pair in the row of pairs ends as the first one, and so on.
        assert [places[each.finished] for each in ends.sewings] == list(range(1, pairs + 1))
        assert [places[each.loop] for each in ends.sewings] == list(range(1, pairs + 1))
        assert sorted(pin for step in steps_of(done) for pin in step.pins) == list(range(1, len(done.pins) + 1))


@pytest.mark.parametrize("design", ROUND.values(), ids=ROUND.keys())
def test_pairs_that_meet_are_neighbours_from_a_horizontal_start_on(design: Design) -> None:
    done = work(design, LEVEL)
    row = [length for held in ends_of(done).hung for length in held.segments]
    for taken, given in zip(done.crossings.taken.tolist(), done.crossings.given.tolist(), strict=True):
        at = row.index(taken[0])
        assert row[at : at + 2] == taken
        row[at : at + 2] = given


@pytest.mark.parametrize("design", ROUND.values(), ids=ROUND.keys())
def test_no_spider_or_rose_lies_on_the_line(design: Design) -> None:
    row = level_row(lay(design), design.start)
    for placed in lay(design).units:
        for places in placed.places.tolist():
            points = lay(design).piece.pinholes[places]
            beside = points[(points[:, 0] < 0) & (np.abs(points[:, 0]) > np.abs(points[:, 1]))]
            assert len({bool(y >= row) for _, y in beside.tolist()}) <= 1


def test_of_two_rows_the_nearer_to_the_middle_that_cuts_no_block_is_taken() -> None:
    # A diamond of 3 x 3 pinholes in the left quarter, rows -2 to 2: the rows right above and below it are free.
    design = made(12, *blocks("cloth", diamond((-7, -2), 3)))
    assert level_row(lay(design), "top-left") == -2
    assert level_row(lay(replace(design, start="bottom-left")), "bottom-left") == 0


def test_a_field_of_roses_without_a_gap_has_no_row_to_begin_on() -> None:
    with pytest.raises(ValueError, match="cuts a spider or a rose: start along the corner line"):
        work(GOOD["rose field"], LEVEL)


def test_what_is_worked_across_has_no_start_line() -> None:
    with pytest.raises(ValueError, match="worked round"):
        work(made(6, worked="across", pairs=16), LEVEL)


def test_a_frame_begins_horizontally_from_edge_to_edge() -> None:
    frame = worked_round(Frame(14, 14, 6))
    done = work(frame, LEVEL)
    assert [*check.faults(done), *faults(done, ends_of(done))] == []
    assert [x for x, _ in start_line(done).tolist()] == [-14, -8]


def test_no_row_parts_two_pairs_that_cross_over() -> None:
    # Roses one below the other in the left quarter: each takes two rows, and the rows above and below it run between
    # the two pairs of its cross-overs.
    column = [(-10, y) for y in (-8, -4, 0, 4, 8)]
    with pytest.raises(ValueError, match="cuts a spider or a rose: start along the corner line"):
        work(made(14, roses(set(column))), LEVEL)
    # Without one of them its rows are free, the nearer ones to the middle of the side first.
    assert [level_row(lay(made(14, roses({*column} - {each}))), "top-left") for each in column[1:4]] == [-2, 0, 3]


def over_corners(corners: str) -> Design:
    """A square of half-size 12 with a diamond of 4 x 4 pinholes over some of the corner lines, such as "tl br"."""
    at = {"tl": (-7, -10), "tr": (7, -10), "bl": (-7, 4), "br": (7, 4)}
    places = {point for name in corners.split() for point in diamond(at[name], 4)}
    return made(12, *blocks("cloth", frozenset(places)))


def test_a_round_begins_at_the_corner_line_over_which_the_fewest_pairs_of_blocks_run() -> None:
    every = {"": "top-left", "tl": "bottom-left", "tl bl br": "top-right", "tl tr bl br": "top-left"}
    for corners, start in every.items():
        layout = lay(over_corners(corners))
        assert quietest_start(layout.piece, layout.inside) == start


def test_as_suits_a_round_begins_along_a_corner_line_that_cuts_no_block() -> None:
    for design in (over_corners("bl"), over_corners("tr br"), made(12)):
        assert work(design, AS_IT_SUITS).start_row is None


def test_as_suits_a_round_begins_horizontally_where_blocks_lie_on_all_corner_lines() -> None:
    design = over_corners("tl tr bl br")
    done = work(design, AS_IT_SUITS)
    row = level_row(lay(design), design.start)
    assert done.start_row == row
    assert [*check.faults(done), *faults(done, ends_of(done))] == []
    places = np.array([point for block in design.blocks for point in block.pinholes])
    left = places[(places[:, 0] < 0) & (np.abs(places[:, 0]) > np.abs(places[:, 1]))]
    assert len({bool(y >= row) for _, y in left.tolist() if abs(y) < 3}) <= 1


def test_a_trail_all_round_is_cut_by_the_corner_line() -> None:
    design = made(13, *blocks("cloth", border_trail(13, 2, 3)), symmetry="full")
    assert work(design, AS_IT_SUITS).start_row is None
