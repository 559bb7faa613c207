"""Roses in line, told from hole to hole, against walks through fields and the laces of an answer set program."""

from __future__ import annotations

from collections import deque

import numpy as np
import pytest
from answer_forms import AskedForms, Outline, every
from answer_sets import Told
from hypothesis import given, settings
from hypothesis import strategies as some
from test_small_forms import piece_of

from constraints import rulebook
from constraints.alignment import stands
from constraints.encoding import align, label
from constraints.forms import Square, Strip
from constraints.lattice import STEPS, BoolArray
from constraints.layout import fields_of
from constraints.piece import Piece
from constraints.ruleset import Rules
from constraints.variables import Model

ODD, EVEN, SMALL = Strip(9, 6, 2).repeat(), Strip(9, 8, 2).repeat(), Square(4).piece("round")


def seen_from(piece: Piece, field: np.ndarray, first: int) -> dict[int, set[tuple[int, int]]]:
    """Every hole of a field with how far it lies along both diagonals of the first one, odd or even, on any way there.

    A step along one diagonal goes one hole on along it and stays in its row of the other.
    """
    found: dict[int, set[tuple[int, int]]] = {first: {(0, 0)}}
    ahead = deque([(first, 0, 0)])
    while ahead:
        hole, u, v = ahead.popleft()
        for step, (x, y) in zip(piece.hole_neighbours[hole].tolist(), STEPS.tolist(), strict=True):
            if step < 0 or field[step] != field[hole]:
                continue
            there = (u ^ 1, v) if x == y else (u, v ^ 1)
            if there not in found.setdefault(step, set()):
                found[step].add(there)
                ahead.append((step, *there))
    return found


@settings(max_examples=40)
@given(numbers=some.sets(some.integers(0, 35), max_size=8), piece=some.sampled_from([ODD, EVEN, SMALL]))
def test_holes_of_a_field_are_in_line_as_one_walks_through_it(numbers: set[int], piece: Piece) -> None:
    inside = np.isin(np.arange(len(piece)), list(numbers))
    field = fields_of(piece, inside)
    stand = stands(piece, field)
    assert (stand[field < 0] == -1).all()
    for first in np.flatnonzero(field >= 0)[::4].tolist():
        seen = seen_from(piece, field, first)
        alone = all(len(ways) == 1 for ways in seen.values())
        assert (stand[first] >= 0) == alone
        if alone:
            for hole, (way,) in seen.items():
                assert (stand[hole] == stand[first]) == (way == (0, 0))


def test_a_field_round_a_repeat_of_rows_whose_half_is_odd_comes_back_out_of_line() -> None:
    nothing = np.zeros(len(ODD), dtype=np.bool_)
    assert (stands(ODD, fields_of(ODD, nothing)) == -1).all()
    nothing = np.zeros(len(EVEN), dtype=np.bool_)
    field = fields_of(EVEN, nothing)
    assert (stands(EVEN, field)[field >= 0] >= 0).all()


def written(model: Model, told: Told) -> BoolArray:
    """The values that describe a lace, its roses aligned."""
    blocks, units, doubled = told
    values = np.zeros(model.formula.size, dtype=np.bool_)
    inside = np.zeros(len(model.piece), dtype=np.bool_)
    for x, y, stitch in blocks:
        values[model.stitch[stitch][model.piece.index[x, y]]] = True
        inside[model.piece.index[x, y]] = True
    field = fields_of(model.piece, inside)
    for kind, sites in model.sites.items():
        own = np.array([(kind, x, y) in units for x, y in sites.centres.tolist()])
        if own.any():
            values[sites.chosen[own]] = True
            label(model, values, kind, np.isin(field, field[sites.holes[own, 0]]))
            align(model, values, field, sites.holes[own, 0])
    taken = {i for kind, sites in model.sites.items() for i in sites.pinholes[values[sites.chosen]].ravel().tolist()}
    twice = {model.piece.index[point] for point in doubled}
    for number in np.unique(field[field >= 0]).tolist():
        corners = set(model.piece.holes[field == number].ravel().tolist())
        if corners & twice and corners <= twice | taken:
            label(model, values, "double-ground", field == number)
    return model.formula.complete(values)


ROSES = ("cloth", "rose")


@pytest.mark.parametrize(
    "asked",
    [
        AskedForms(Outline("strip", (8, 6)), "none", ROSES),
        AskedForms(Outline("strip", (11, 6)), "upright-mirror", ROSES),
        AskedForms(Outline("strip", (12, 6)), "glide", ROSES),
        AskedForms(Outline("rectangle", (5, 4)), "half-turn", (*ROSES, "double-ground")),
        AskedForms(Outline("frame", (8, 7), 6), "upright-mirrors", ROSES),
    ],
    ids=str,
)
def test_a_lace_with_its_roses_aligned_keeps_every_rule(asked: AskedForms) -> None:
    limits = {name: getattr(asked, name) for name in ("stitches", "narrowest", "narrowest_ground", "margin", "solid")}
    model = rulebook.build(piece_of(asked.outline, asked.symmetry), Rules(**limits))
    laces = every(asked)
    assert sum(any(kind == "rose" for kind, _, _ in units) for _, units, _ in laces) > 4
    for told in sorted(laces, key=repr)[::3]:
        assert model.formula.broken(written(model, told)) == []
