"""What a square takes, added up by hand for plain ground and held against the pair counts of the trade."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from designs import blocks, diamond, made, spiders

from constraints.materials import Allowances, materials
from constraints.working.habits import Habits
from constraints.working.work import work

BARE = Allowances(take_up=0.0, reserve=0.0, handling_mm=0.0)


def test_bobbins_are_two_for_every_pair_and_fall_into_groups() -> None:
    design = made(14, *blocks("cloth", diamond((0, -13), 4)), spiders({(0, 4)}), passives=2)
    found = materials(work(design))
    assert (found.pairs, found.bobbins) == (design.pairs, 2 * design.pairs)
    every, *groups = found.thread
    assert every.count == found.bobbins == sum(group.count for group in groups)
    assert {group.name: group.count for group in groups}["passives of the footside"] == 4
    assert every.shortest == min(group.shortest for group in groups)
    assert every.longest == max(group.longest for group in groups)
    assert found.total_m == pytest.approx(sum(group.count * group.mean for group in groups) / 1000)


def test_a_passive_of_the_edge_is_as_long_as_its_way() -> None:
    # Half-size 6 at 5 mm: four sides of 10 units, three corners of sqrt(2), a unit is half a pitch.
    found = materials(work(made(6)), BARE)
    passive = next(group for group in found.thread if group.name == "passives of the footside")
    assert passive.mean == pytest.approx(2.5 * (4 * 10 + 3 * np.sqrt(2)))


def test_allowances_add_up() -> None:
    done = work(made(6))
    bare = materials(done, BARE).thread[0]
    full = materials(done, Allowances(take_up=0.2, reserve=0.5, handling_mm=300.0)).thread[0]
    assert full.mean == pytest.approx(bare.mean * 1.2 * 1.5 + 300)
    assert full.longest == pytest.approx(bare.longest * 1.2 * 1.5 + 300)


def test_hours_go_by_the_crossings_and_her_own_pace() -> None:
    found = materials(work(made(6), Habits()), Allowances(crossings_an_hour=(100.0, 200.0)))
    assert found.hours == pytest.approx((found.crossings / 200, found.crossings / 100))


def test_a_coarser_pitch_takes_more_of_a_thicker_thread() -> None:
    fine, coarse = (materials(work(replace(made(6), pitch_mm=pitch)), BARE) for pitch in (4.0, 8.0))
    assert coarse.total_m == pytest.approx(2 * fine.total_m)
    assert coarse.wraps_per_cm == pytest.approx(fine.wraps_per_cm / 2)
    assert [b - a for a, b in zip(fine.card_mm, coarse.card_mm, strict=True)] == pytest.approx([24.0, 24.0])


def test_what_is_reckoned_with_unless_she_says_otherwise_is_what_the_guide_says() -> None:
    told = re.search(
        r"take-up (\d+)%, reserve (\d+)%, (\d+) mm a bobbin for handling, (\d+) to (\d+) crossings an hour",
        (Path(__file__).parents[2] / "explore" / "guides" / "pillow.md").read_text("utf-8"),
    )
    assert told is not None
    take_up, reserve, handling, slow, fast = map(int, told.groups())
    usual = Allowances(take_up / 100, reserve / 100, handling, (slow, fast))
    assert Allowances() == usual
