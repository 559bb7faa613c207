"""How far threads run: plain ground and footside by geometry, workers by the sums of their rows."""

from __future__ import annotations

import numpy as np
import pytest
from designs import blocks, diamond, made

from constraints.design import Block, FieldFilling
from constraints.working.threads import ThreadLengths, play, thread_lengths
from constraints.working.work import work


def measured(*parts: Block | FieldFilling, half_size: int = 12, passives: int = 1) -> ThreadLengths:
    done = work(made(half_size, *parts, passives=passives))
    return thread_lengths(done, play(done))


def test_a_passive_of_the_edge_runs_round_the_square_and_ground_no_further() -> None:
    half_size = 12
    found = measured(half_size=half_size)
    # Four sides from first pin to last, 2N - 1 units each, and three of the corners, sqrt(2) each.
    round_the_edge = 4 * (2 * half_size - 2) + 3 * np.sqrt(2)
    assert found.units[found.passive] == pytest.approx([round_the_edge] * 2)
    assert not found.worker.any()


def test_a_straight_pair_runs_root_two_times_what_it_works() -> None:
    # Worked across, a pair comes from the top edge and bounces at the sides: every unit down is one aside.
    half_size = 6
    done = work(made(half_size, worked="across", passives=0))
    found = thread_lengths(done, play(done))
    inner = found.units[np.isclose(found.units / np.sqrt(2) % 1, 0, atol=1e-9)]
    assert len(inner) > 0
    assert inner.max() <= np.sqrt(2) * 2 * half_size + 1e-9


def test_the_worker_of_a_diamond_runs_further_than_its_passives() -> None:
    found = measured(*blocks("cloth", diamond((0, -11), 5)))
    assert 0 < found.worker.sum() <= 4
    plain = measured()
    assert found.units[found.worker].max() > plain.units.max()
