"""Numbers of pins: each once, in an order in which they can be put up (checked by networkx on the crossings)."""

from __future__ import annotations

import networkx
import pytest
from designs import GOOD, blocks, diamond, made
from test_working import graph_of_work

from constraints.design import Design
from constraints.pins import pins
from constraints.working.ledger import NOWHERE
from constraints.working.numbers import number_at, pin_numbers
from constraints.working.work import work


@pytest.mark.parametrize("design", GOOD.values(), ids=GOOD.keys())
def test_every_pin_has_one_number_from_one_on(design: Design) -> None:
    done = work(design)
    assert sorted(number_at(done).values()) == list(range(1, pins(design) + 1))


@pytest.mark.parametrize("name", list(GOOD)[:4])
def test_no_pin_is_numbered_before_one_that_its_pairs_come_from(name: str) -> None:
    done = work(GOOD[name])
    closure = networkx.transitive_closure_dag(networkx.DiGraph(graph_of_work(done)))
    numbers = zip(done.pins, pin_numbers(done).tolist(), strict=True)
    at = {pin.crossing: number for pin, number in numbers if pin.crossing != NOWHERE}
    for before, after in closure.edges:
        if before in at and after in at:
            assert at[before] < at[after]


def test_the_pins_of_a_diamond_follow_one_another() -> None:
    """4(n - 1) pins for n pinholes a side (teaching pages of Jo Edkins)."""
    shape = diamond((0, -11), 4)
    numbers = number_at(work(made(12, *blocks("cloth", shape))))
    own = sorted(numbers[place] for place in shape if place in numbers)
    assert own == list(range(own[0], own[0] + 12))
