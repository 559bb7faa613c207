"""Optional pins that square the corners: the edge pair and its passives turn there, and nothing is exchanged."""

from __future__ import annotations

import numpy as np
import pytest
from designs import GOOD, made
from strips import worked_round

from constraints.design import Design
from constraints.forms import Frame
from constraints.materials import materials
from constraints.working import check
from constraints.working.ends import ends_of, faults
from constraints.working.habits import CORNER, HORIZONTAL, Habits
from constraints.working.ledger import NOWHERE
from constraints.working.steps import CornerPin, steps_of
from constraints.working.work import work

ROUND = {name: design for name, design in GOOD.items() if design.worked == "round"}


@pytest.mark.parametrize(
    ("design", "line"),
    [
        *((design, CORNER) for design in ROUND.values()),
        # A field of roses has no horizontal start.
        *((design, HORIZONTAL) for name, design in ROUND.items() if name != "rose field"),
    ],
)
def test_four_pins_more_and_not_one_crossing(design: Design, line: str) -> None:
    plain = work(design, Habits(start_line=line))
    done = work(design, Habits(start_line=line, corner_pins=True))
    assert [*check.faults(done), *faults(done, ends_of(done))] == []
    assert len(done.crossings) == len(plain.crossings)
    assert np.array_equal(done.crossings.taken, plain.crossings.taken)
    n = float(design.half_size)
    more = {pin.place for pin in done.pins} - {pin.place for pin in plain.pins}
    assert more == {(-n, -n), (-n, n), (n, n), (n, -n)}
    assert materials(done).pins == materials(plain).pins + 4


@pytest.mark.parametrize("line", [CORNER, HORIZONTAL])
@pytest.mark.parametrize("passives", [0, 1, 3])
def test_the_edge_pair_and_its_passives_turn_at_each(line: str, passives: int) -> None:
    done = work(made(6, passives=passives), Habits(start_line=line, corner_pins=True))
    turned = [turns for pin, turns in zip(done.pins, done.turned, strict=True) if pin.crossing == NOWHERE]
    assert [len(turns) for turns in turned] == [1 + passives] * 4
    # The edge pair is outermost; none of them is twisted or worked there.
    hung = {length for held in ends_of(done).hung for length in held.segments}
    assert [set(turns) <= hung for turns in turned] == [line == CORNER, False, False, False]


@pytest.mark.parametrize("design", ROUND.values(), ids=ROUND.keys())
def test_each_has_a_step_after_the_last_pin_of_its_quarter_edge(design: Design) -> None:
    done = work(design, Habits(corner_pins=True))
    steps = steps_of(done)
    corners = [step for step in steps if isinstance(step, CornerPin)]
    assert [step.hung for step in corners] == [True, False, False, False]
    assert [pin for step in steps for pin in step.pins] == list(range(1, len(done.pins) + 1))
    assert corners[0].pins == (1,)


def test_what_hangs_round_the_corner_pin_is_sewn_there() -> None:
    ends = ends_of(work(made(6, passives=2), Habits(corner_pins=True)))
    assert [(held.place, len(held.segments)) for held in ends.hung[:2]] == [((-6, -6), 3), ((-5.5, -5.5), 1)]
    assert [each.place for each in ends.sewings[:4]] == [(-6, -6)] * 3 + [(-5.5, -5.5)]


def test_worked_across_there_is_no_corner_to_turn() -> None:
    with pytest.raises(ValueError, match="corner"):
        work(made(6, worked="across", pairs=16), Habits(corner_pins=True))


@pytest.mark.parametrize("passives", [0, 1, 2])
@pytest.mark.parametrize("line", [CORNER, HORIZONTAL])
def test_a_frame_has_them_at_its_outer_corners(passives: int, line: str) -> None:
    done = work(worked_round(Frame(16, 12, 7), passives=passives), Habits(start_line=line, corner_pins=True))
    ends = ends_of(done)
    assert [*check.faults(done), *faults(done, ends)] == []
    assert {pin.place for pin in done.pins if pin.crossing == NOWHERE} == {(x, y) for x in (-16, 16) for y in (-12, 12)}
    assert all(held.segments for held in ends.hung)
    assert len(ends.hung[0].segments) == 1 + passives
