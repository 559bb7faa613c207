"""A gimp pair round a block passes every pair on its way in and out, once, and changes no crossing.

E: Jo Edkins, teaching pages on Torchon model: a diamond of 4 x 4 pinholes takes four pairs from each side.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from designs import GOOD, bar, blocks, diamond, made

from constraints.design import Design
from constraints.layout import lay
from constraints.materials import Allowances, materials
from constraints.working import check
from constraints.working.gimp import blocks_called
from constraints.working.habits import Habits
from constraints.working.threads import play
from constraints.working.work import Work, work


def begun(design: Design) -> dict[int, int]:
    done = work(design)
    return blocks_called(done.layout, done.flow, done.order)


def with_all_gimps(design: Design) -> Work:
    """Gimps round all blocks that can have one."""
    fit = []
    for number in begun(design):
        try:
            work(design, Habits(gimp=(number,)))
        except ValueError:
            continue
        fit.append(number)
    return work(design, Habits(gimp=tuple(fit)))


@pytest.mark.parametrize(("side", "worked"), [(2, "round"), (3, "round"), (4, "round"), (4, "across"), (5, "across")])
def test_round_a_diamond_it_passes_the_pairs_of_each_side_in_and_out(side: int, worked: str) -> None:
    design = made(14, *blocks("cloth", diamond((-7, -4), side)), worked=worked)
    (gimp,) = work(design, Habits(gimp=(1,))).gimps
    for passed in (gimp.left, gimp.right):
        assert [passing.inwards for passing in passed] == [True] * side + [False] * side
    assert gimp.begin == (-7, -5)
    assert gimp.end == (-7, 2 * side - 5)
    assert max(passing.place[0] for passing in gimp.left) < -7
    assert min(passing.place[0] for passing in gimp.right) > -7


@pytest.mark.parametrize("rows", [3, 4, 5, 6])
def test_round_a_block_that_begins_and_ends_with_several_pins_it_does_so_beside_the_first_and_the_last(
    rows: int,
) -> None:
    """Above the pin put up first and below the one put up last; all other pairs of those rows pass to one side."""
    places = {(x, y) for x in range(-15, -8) for y in range(-2, rows - 2) if (x + y) % 2}
    done = work(made(18, *blocks("cloth", places)), Habits(gimp=(1,)))
    (gimp,) = done.gimps
    pins = [pin.place for pin in done.pins if pin.place in places]
    x, y = pins[0]
    assert gimp.begin == (x, y - 1)
    x, y = pins[-1]
    assert gimp.end == (x, y + 1)
    assert check.faults(done) == []


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
def test_it_makes_no_crossing_and_only_twists_the_pairs_that_it_passes(design: Design) -> None:
    plain, done = work(design), with_all_gimps(design)
    assert check.faults(done) == []
    assert np.array_equal(done.crossings.taken, plain.crossings.taken)
    passed = sum(len(gimp.left) + len(gimp.right) for gimp in done.gimps)
    # Once before and once after each passing; an even number, so that threads leave a length as they would without.
    assert (done.segments.twists - plain.segments.twists).sum() == 2 * passed
    assert np.array_equal(play(done).end, play(plain).end)


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
def test_its_bobbins_are_counted_apart(design: Design) -> None:
    done = with_all_gimps(design)
    found, plain = materials(done), materials(work(design))
    assert (found.pairs, found.bobbins, found.pins) == (plain.pairs, plain.bobbins, plain.pins)
    assert (found.gimp.count if found.gimp else 0) == 2 * len(done.gimps)


@pytest.mark.parametrize("side", [2, 3, 4])
def test_its_bobbins_are_as_long_as_its_way_round_a_diamond_and_back_past_three_pairs(side: int) -> None:
    """From the hole above a diamond of n pinholes a side either thread runs along two sides of n steps each, a step
    being a diagonal of the unit square; back beside the other it passes three pairs, as far apart (common practice, no
    source). At 5 mm a unit is 2.5 mm."""
    done = work(made(14, *blocks("cloth", diamond((-7, -4), side))), Habits(gimp=(1,)))
    bare = materials(done, Allowances(take_up=0.0, reserve=0.0, handling_mm=0.0)).gimp
    more = materials(done, Allowances(take_up=0.7, reserve=0.5, handling_mm=300.0)).gimp
    assert bare is not None
    assert more is not None
    way = (2 * side + 3) * np.sqrt(2) * 2.5
    assert [bare.shortest, bare.mean, bare.longest] == pytest.approx([way] * 3)
    assert [more.shortest, more.mean, more.longest] == pytest.approx([1.5 * way + 300] * 3)


def test_a_block_that_the_start_line_cuts_has_none() -> None:
    design = made(10, *blocks("cloth", diamond((0, -3), 4)))  # about the middle
    with pytest.raises(ValueError, match="not worked in one go"):
        work(design, Habits(gimp=(1,)))


def test_an_unknown_block_is_told() -> None:
    design = made(14, *blocks("cloth", diamond((-7, -2), 3)))
    with pytest.raises(ValueError, match=r"no block 2 .* numbered 1 to 1"):
        work(design, Habits(gimp=(2,)))
    with pytest.raises(ValueError, match="there are no blocks"):
        work(made(6), Habits(gimp=(1,)))


def test_the_check_reports_a_gimp_that_leaves_out_a_pair_or_leaps() -> None:
    done = work(made(14, *blocks("cloth", diamond((-7, -2), 3))), Habits(gimp=(1,)))
    (gimp,) = done.gimps
    short = replace(done, gimps=(replace(gimp, left=gimp.left[:-1]),))
    assert any("every pair once" in fault for fault in check.faults(short))
    swapped = replace(done, gimps=(replace(gimp, left=(gimp.left[1], gimp.left[0], *gimp.left[2:])),))
    assert any("leaps" in fault for fault in check.faults(swapped))
    assert lay(done.design).block[done.arcs.head[gimp.left[0].arc]] == gimp.block


def test_a_block_whose_arms_meet_again_in_a_point_has_none() -> None:
    arm = bar((-9, -8), 2, 5) | bar((-12, -5), 3, 2)
    design = made(20, *blocks("cloth", arm | {(-18 - x, y) for x, y in arm}), worked="across", splits=1)
    assert len(design.blocks) == 1
    with pytest.raises(ValueError, match="not worked in one go"):
        work(design, Habits(gimp=(1,)))
