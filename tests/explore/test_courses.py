"""Trails that close round an upright print, above, below and beside it each in its own way."""

from __future__ import annotations

from functools import cache

import networkx
import numpy as np
import pytest

from constraints.brief import Brief
from constraints.check import check
from constraints.lattice import BoolArray
from explore.search.attempt import Making, decoded
from explore.search.compose import parts
from explore.search.compose.canvas import Canvas
from explore.search.composing import courses
from explore.search.composing.candidates import Candidate, desk_of, pieces, repertory
from explore.search.context import Context
from explore.search.squares.suited import placings_of

MAKING = Making(5.0, 1, 1, "", "a trail of a test")


@cache
def context(symmetry: str) -> Context:
    brief = Brief.of(half_size=(24, 24), symmetry=symmetry, pairs=60, solid=(0.0, 1.0))
    return placings_of(brief, None)[0].context


def pear(own: Context) -> BoolArray:
    """A print with much below and little above: a diamond over a larger one."""
    return parts.diamond(own.piece, (0, -7), 4) | parts.diamond(own.piece, (0, 3), 8)


def canvas(own: Context, print_: BoolArray) -> Canvas:
    return Canvas(own.blocks, print_, np.zeros(len(own.piece), dtype=np.bool_))


def trails(own: Context, print_: BoolArray, family: str) -> list[Candidate]:
    return [each for each in repertory(canvas(own, print_)) if each.family == family]


def only(own: Context, each: Candidate) -> BoolArray:
    block = np.zeros(len(own.piece), dtype=np.bool_)
    block[each.places] = True
    return block


@pytest.mark.parametrize("family", ["outline", "shield"])
@pytest.mark.parametrize("symmetry", ["none", "upright-mirror"])
def test_it_can_be_worked_closes_round_the_print_and_is_its_own_mirror_image(symmetry: str, family: str) -> None:
    own = context(symmetry)
    print_ = pear(own)
    found = trails(own, print_, family)
    assert len(found) >= 10
    for each in found[::6]:
        block = only(own, each)
        values = np.zeros(own.model.formula.size, dtype=np.bool_)
        values[own.model.stitch["cloth"][block]] = True
        assert check(decoded(own, own.model.formula.complete(values), (), MAKING)) == []
        assert (block[own.piece.images_under("upright-mirror")] == block).all()
        # One piece with one opening, by Euler's count and by walking over the ground from the print.
        assert pieces(own.piece, block) == 0
        beside = own.piece.neighbours
        ground = [
            (p, q) for p in np.flatnonzero(~block).tolist() for q in beside[p].tolist() if q >= 0 and not block[q]
        ]
        graph = networkx.Graph(ground)
        there = networkx.node_connected_component(graph, int(np.flatnonzero(print_)[0]))
        assert not any(own.piece.depth[place] == 0 for place in there)


def test_below_and_above_it_need_not_be_alike() -> None:
    own = context("upright-mirror")
    level = own.piece.images_under("upright-mirrors")
    differing = [
        each for each in trails(own, pear(own), "shield") if not only(own, each)[level].all(axis=0)[each.places].all()
    ]
    assert differing


def test_an_outline_is_as_far_from_the_print_on_every_side() -> None:
    """Of a pear's: nearer above than a trail alike on all sides, which must go round the wider part."""
    own = context("upright-mirror")
    print_ = pear(own)
    desk = desk_of(canvas(own, print_))
    x, y = own.piece.pinholes.T

    def gap(each: Candidate, below: bool) -> int:
        middle = only(own, each) & (x == 0) & ((y > 0) if below else (y < 0))
        return int(np.abs(y[middle]).min() - np.abs(y[print_ & ((y > 0) if below else (y < 0)) & (abs(x) <= 1)]).max())

    within = [each for each in trails(own, print_, "outline") if desk.away[each.places].max() < desk.reach - 2]
    assert within
    assert min(abs(gap(each, True) - gap(each, False)) for each in within) <= 2


@pytest.mark.parametrize("symmetry", ["full", "quarter-turn", "half-turn", "diagonal-mirrors"])
def test_where_above_and_below_are_one_there_is_none(symmetry: str) -> None:
    own = context(symmetry)
    print_ = parts.diamond(own.piece, (0, 0), 6)
    desk = desk_of(canvas(own, print_))
    assert all(draw(desk, np.random.default_rng(1)) is None for draw in (courses.outline, courses.shield))


def test_crumbs_are_no_figures_beside_a_print() -> None:
    """Pieces of nine places are figures of an empty square, and none beside a print unless in a row."""
    own = context("upright-mirror")
    nothing = np.zeros(len(own.piece), dtype=np.bool_)

    def crumbs(print_: BoolArray) -> list[str]:
        every = repertory(canvas(own, print_))
        found = [each for each in every if len(each.places) < 16 * pieces(own.piece, only(own, each))]
        return [each.family for each in found if each.family not in ("diamonds", "chain", "herringbone")]

    assert crumbs(nothing)
    assert not crumbs(pear(own))
