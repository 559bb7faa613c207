"""Fillings: fields, units and double ground. The rules are common practice, no source."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from designs import (
    ALL_EIGHT,
    HALF,
    SAME,
    Points,
    blocks,
    border_trail,
    diamond,
    double,
    made,
    roses,
    spiders,
    spread,
)

from constraints.check import check
from constraints.check.fillings.parts import fields_below
from constraints.design import Design, FieldFilling
from constraints.layout import lay

KINDS = ["rose", "spider-8", "spider-12", "spider-16"]


def rules(design: Design) -> set[str]:
    return {finding.rule for finding in check(design)}


def unit(kind: str, points: Points) -> FieldFilling:
    return roses(points) if kind == "rose" else spiders(points, int(kind[7:]))


def taken(kind: str, centre: tuple[int, int]) -> Points:
    """The pinholes of a unit: a diamond of 2, 3 or 4 pinholes a side round its centre."""
    side = {"rose": 2, "spider-8": 2, "spider-12": 3, "spider-16": 4}[kind]
    return diamond((centre[0], centre[1] - side + 1), side)


def quarter_of(point: tuple[int, int]) -> tuple[bool, bool]:
    """A quarter is told by the sides of the two corner lines on which it lies."""
    return point[0] > point[1], point[0] > -point[1]


@pytest.mark.parametrize("kind", KINDS)
def test_a_unit_clear_of_the_edge_can_be_worked_round_exactly_in_one_quarter(kind: str) -> None:
    """At every place of a plain design: the quarters from coordinates, and the flow, which knows no rule."""
    half_size = 9
    seen = set()
    for centre in product(range(-half_size, half_size + 1), repeat=2):
        places = taken(kind, centre)
        if sum(next(iter(places))) % 2 == 0 or max(abs(c) for p in places for c in p) >= half_size:
            continue
        one = len({quarter_of(p) for p in places}) == 1
        assert rules(made(half_size, unit(kind, {centre}))) == (set() if one else {"quarter", "flow"}), centre
        assert rules(made(half_size, unit(kind, {centre}), worked="across")) == set()
        seen.add(one)
    assert seen == {True, False}


@pytest.mark.parametrize("kind", KINDS)
def test_a_unit_takes_no_pin_of_the_edge(kind: str) -> None:
    reach = {"rose": 1, "spider-8": 1, "spider-12": 2, "spider-16": 3}[kind]
    parity = 1 if kind == "spider-12" else 0
    for shift, expected in ((1, set()), (0, {"margin", kind.split("-")[0]})):
        centre = (0, 12 - reach - shift)
        centre = (centre[0] + (sum(centre) + parity) % 2, centre[1])
        assert rules(made(12, unit(kind, {centre}), worked="across")) == expected


def test_rose_fields_round_the_centre_are_odd_along_both_diagonals() -> None:
    """A whole square of roses in each of the four alignments; all but one lie over a corner line."""
    passing = []
    for u0, v0 in product((0, 1), repeat=2):
        lines = range(-10, 11)
        units = {(u - v, u + v) for u in lines for v in lines if u % 2 == u0 and v % 2 == v0}
        units = {p for p in units if max(map(abs, p)) <= 8}
        if not rules(made(10, roses(units))):
            passing.append((u0, v0))
        assert rules(made(10, roses(units), worked="across")) == set()
    assert passing == [(1, 1)]


def test_each_field_has_its_own_alignment() -> None:
    trail = border_trail(16, 6, 3)
    inner, outer = {(-4, -2), (-6, 0)}, {(-13, 3), (-13, -1), (-13, 1)}
    apart = made(16, *blocks("cloth", trail), roses(inner | outer - {(-13, 1)}))
    assert rules(apart) == set()
    mixed = made(16, *blocks("cloth", trail), roses(inner | outer))
    assert {"rose", "one unit"} <= rules(mixed)  # (-13, 1) shares a pinhole with both its fellows


def test_fields_are_open_holes_joined_by_shared_pairs_of_pinholes() -> None:
    """Counted by hand: a closed trail parts the ground into two fields, the edge belongs to none."""
    layout = lay(made(14, *blocks("cloth", border_trail(14, 5, 3))))
    assert len(set(fields_below(layout).tolist()) - {-1}) == 2
    # A way three lines wide outside the trail is a row of single holes, tip to tip, but for the corners:
    # 40 holes, of which three at each corner are joined by a fourth, and the field inside.
    layout = lay(made(12, *blocks("cloth", border_trail(12, 4, 3))))
    assert len(set(fields_below(layout).tolist()) - {-1}) == 40 - 4 * 3 + 4 + 1
    # A trail on the third line from the edge leaves no hole outside that does not touch the edge.
    layout = lay(made(12, *blocks("cloth", border_trail(12, 2, 3))))
    assert len(set(fields_below(layout).tolist()) - {-1}) == 1
    assert (fields_below(lay(made(1))) == -1).all()
    # One hole, of half-size 3: centres up to N - 2 from the middle, |x|, |y| <= 1 and x + y even.
    assert (fields_below(lay(made(3))) >= 0).sum() == 5


def test_two_fields_that_touch_in_one_pinhole_stay_apart() -> None:
    opened = diamond((-12, -1), 2) | diamond((-10, -1), 2)
    shape = diamond((-11, -8), 9) - opened
    both = (roses({(-12, 0)}), spiders({(-10, 0)}))
    wide = {"splits": 4, "widest": 9}
    layout = lay(made(22, *blocks("cloth", shape)))
    tops = [layout.piece.index[-12, -1], layout.piece.index[-10, -1]]
    assert len(set(fields_below(layout)[tops].tolist()) - {-1}) == 2
    for filling in both:
        assert check(made(22, *blocks("cloth", shape), filling, splits=4, brief=wide)) == []


def test_spiders_may_share_the_pins_of_their_legs() -> None:
    # Eight-legged spiders three steps apart along a diagonal: one line of pinholes stands between them.
    row = {(-9, -3), (-6, 0), (-9, 3)}
    assert check(made(14, spiders(row))) == []
    assert rules(made(14, spiders({(-8, -2), (-6, 0)}))) == {"spider"}


def test_a_leg_may_end_on_the_border_of_a_block() -> None:
    # Pinned all the same: the diamond's lower left side is the ring of the spider.
    beside = made(14, *blocks("cloth", diamond((-6, -5), 3)), spiders({(-8, 0)}))
    ring = {(x + dx, y + dy) for x, y in taken("spider-8", (-8, 0)) for dx in (-1, 1) for dy in (-1, 1)}
    assert len(ring & diamond((-6, -5), 3)) == 2
    assert check(beside) == []


def test_double_ground_leaves_out_only_the_units_of_other_fields() -> None:
    opened = diamond((-12, -1), 2) | diamond((-10, -1), 2)
    shape = diamond((-11, -8), 9) - opened
    wide = {"splits": 4, "widest": 9}
    left, right = diamond((-12, -1), 2), diamond((-10, -1), 2)
    cases = {
        frozenset(left | right): set(),
        frozenset(left): set(),
        frozenset(left - right): {"double ground"},
        frozenset(left - {(-12, -1)}): {"double ground"},
    }
    for listed, expected in cases.items():
        design = made(22, *blocks("cloth", shape), double(set(listed)), splits=4, brief=wide)
        assert rules(design) == expected
    shared = made(22, *blocks("cloth", shape), roses({(-12, 0)}), double(right - left), splits=4, brief=wide)
    assert check(shared) == []


def test_double_ground_of_the_whole_open_square_leaves_the_plain_edge() -> None:
    within = {(x, y) for x, y in product(range(-7, 8), repeat=2) if (x + y) % 2}
    corners = {(x, y) for x, y in within if abs(x) == 7 and abs(y) == 7}
    assert not corners
    assert check(made(8, double(within))) == []
    assert rules(made(8, double(within | {(8, 1)}))) == {"double ground"}


@pytest.mark.parametrize("kind", KINDS)
def test_units_lie_on_the_pinholes_that_their_centre_says(kind: str) -> None:
    centre = (-5, 2) if kind == "spider-12" else (-5, 1)
    layout = lay(made(14, unit(kind, {centre})))
    assert set(layout.points(layout.unit_of >= 0)) == taken(kind, centre)
    assert len(np.unique(layout.unit_of)) == 2


@pytest.mark.parametrize("stitch", ["cloth", "half", "whole"])
def test_a_block_without_its_image_is_told_in_every_stitch(stitch: str) -> None:
    shape = diamond((-8, -3), 3)
    found = check(made(14, *blocks(stitch, shape), symmetry="half-turn"))
    told = [set(finding.pinholes) for finding in found if finding.rule == "symmetry"]
    assert told == [shape | {(-x, -y) for x, y in shape}]


def test_symmetric_units_pass_and_one_missing_is_named() -> None:
    centres = spread({(-7, 3)}, ALL_EIGHT)
    assert check(made(12, spiders(centres), symmetry="full")) == []
    [finding] = check(made(12, spiders(centres - {(-7, 3)}), symmetry="full"))
    assert finding.rule == "symmetry"
    assert set(finding.pinholes) == centres - {(-7, 3)}
    assert check(made(12, spiders(spread({(-7, 3)}, (SAME, HALF))), symmetry="half-turn")) == []


@pytest.mark.parametrize(("step", "lined_up"), [((3, 3), False), ((-3, 3), False), ((0, 6), False), ((0, 4), True)])
def test_roses_of_a_field_line_up_along_both_diagonals(step: tuple[int, int], lined_up: bool) -> None:
    """By hand: a step to (3, 3) is three holes along one diagonal and none along the other; (0, 4) is two and two."""
    pair = made(14, roses({(-9, -1), (-9 + step[0], -1 + step[1])}))
    assert rules(pair) == (set() if lined_up else {"rose"})


def test_spiders_that_touch_are_told_of_every_size() -> None:
    """Two of eight legs stand well apart, at the other side two of twelve touch along one side: that side is named."""
    far, touching = {(-11, -5), (-11, 5)}, {(10, -3), (13, 0)}
    told = [finding for finding in check(made(16, spiders(far), spiders(touching, 12))) if finding.rule == "spider"]
    side = {(10, -1), (11, -2), (12, -3)}
    assert [set(each.pinholes) for each in told] == [side | {(x + 1, y + 1) for x, y in side}]


def test_spiders_of_two_sizes_that_touch_are_told() -> None:
    """One of each, the first of its size: the pinholes of either that a neighbour step joins."""
    found = check(made(16, spiders({(-10, -2)}), spiders({(-7, 0)}, 12)))
    told = [set(finding.pinholes) for finding in found if finding.rule == "spider"]
    small, large = taken("spider-8", (-10, -2)), taken("spider-12", (-7, 0))
    assert not small & large
    pairs = [(p, q) for p in small for q in large if abs(p[0] - q[0]) == abs(p[1] - q[1]) == 1]
    assert pairs
    assert told == [{place for pair in pairs for place in pair}]


def test_both_blocks_that_meet_are_told() -> None:
    """Two diamonds of two stitches along one side: the pinholes of either on that side."""
    left, right = diamond((-7, -2), 3), diamond((-4, 1), 3)
    found = check(made(14, *blocks("cloth", left), *blocks("half", right)))
    [finding] = [each for each in found if each.rule == "one stitch"]
    beside = {p for p in left if any((p[0] + a, p[1] + b) in right for a in (-1, 1) for b in (-1, 1))}
    back = {p for p in right if any((p[0] + a, p[1] + b) in left for a in (-1, 1) for b in (-1, 1))}
    assert len(beside) == len(back) == 3
    assert set(finding.pinholes) == beside | back
