"""The squares that a series is chosen from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import pytest
from fakes import petal
from walls import BRIEF, MODEL, OTHER, ROSES, contrast, hand_made, ring, shares, tulip

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.stamp import Stamp
from explore.editing.series import kin, pool
from explore.editing.series.family import Family, family
from explore.editing.series.part import NOTHING
from explore.search.accepting import JobResult


@pytest.fixture(autouse=True)
def small_pools(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "WANTED", 10)
    monkeypatch.setattr(pool, "_AT_LEAST", 2)


def gathered(
    study: Sequence[Design], chosen: Sequence[Design], found: Family, order: str, *stamps: Stamp
) -> list[pool.Member]:
    return pool.gather(pool.SeriesRequest(BRIEF, stamps, study, chosen, found, order, len(study)), 1)


def test_new_squares_keep_the_part_and_can_be_worked() -> None:
    found = family("centre", [MODEL])
    made = [design for design in kin.kin(BRIEF, (), found, MODEL, [MODEL], 3, 1) if design is not None]
    assert len(made) == 3
    for design in made:
        assert shares(design, {"share": "centre", **found.figures}, MODEL)
        assert check(design) == []
    assert len({design.blocks for design in made}) > 1


@pytest.mark.parametrize(("share", "order"), [("centre", "symmetry"), ("trail", "filling")])
def test_a_pool_has_no_doubles(share: str, order: str) -> None:
    """However turned, of whatever stitches, and laid on a larger one: by the files alone."""
    members = gathered([MODEL, OTHER], [MODEL], family(share, [MODEL]), order)
    assert len(members) > 3
    assert min(contrast(a.design, b.design) for a, b in combinations(members, 2)) > 0


def test_a_pool_takes_no_turned_and_no_larger_double(monkeypatch: pytest.MonkeyPatch) -> None:
    corner = hand_made(14, [("cloth", ring(11, 8))], symmetry="none", spiders=[(0, 4)])
    side = hand_made(14, [("half", ring(11, 8))], symmetry="none", spiders=[(4, 0)])
    larger = hand_made(15, [("cloth", ring(11, 8))], spiders=[(0, -4)])
    other = hand_made(14, [("cloth", ring(11, 8))], symmetry="none", spiders=[(0, 2)])
    monkeypatch.setattr(pool, "_made", lambda *_: iter([side, larger, other, corner]))
    monkeypatch.setattr(pool, "cousins", lambda *_, **__: iter([]))
    trail = replace(family("trail", [corner]), part=NOTHING)
    members = gathered([corner, side], [corner], trail, "density")
    assert [member.design for member in members] == [corner, other]


def test_a_size_without_room_for_the_part_gives_nothing() -> None:
    small = Brief.of(stamp="", pairs=10, half_size=(8, 8), match=0.65)
    assert list(kin.kin(small, (), family("trail", [MODEL]), MODEL, [MODEL], 3, 1)) == []


def test_a_shared_stamp_is_searched_for_in_its_size_and_turn(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Brief] = []

    def search(brief: Brief, *_: object, **__: object) -> Sequence[object]:
        asked.append(brief)
        return []

    monkeypatch.setattr(pool, "search", search)
    exemplar = hand_made(14, [("cloth", ring(11, 8))], printed=tulip(7.0, 135.0))
    members = gathered([exemplar], [exemplar], family("stamp", [exemplar]), "symmetry", petal())
    assert [member.design for member in members] == [exemplar]
    assert {brief.piece.symmetry for brief in asked} >= {"full", "none"}
    assert {(brief.stamp.size, brief.stamp.turns, brief.piece.half_size) for brief in asked} == {
        ((7.0, 7.0), (135.0,), (14, 14))
    }


def test_cousins_make_up_for_what_cannot_be_composed(monkeypatch: pytest.MonkeyPatch) -> None:
    found, wanted = family("trail", [MODEL]), []
    cousin = replace(MODEL, fillings=ROSES[0])

    def cousins(design: Design, *_: object, count: int, **__: object) -> list[JobResult]:
        wanted.append(count)
        assert design is MODEL
        return [JobResult(0, None), JobResult(1, cousin), JobResult(2, OTHER)]

    monkeypatch.setattr(pool, "kin", lambda *_: [])
    monkeypatch.setattr(pool, "cousins", cousins)
    members = gathered([MODEL, OTHER], [MODEL], found, "density")
    assert [member.design for member in members] == [MODEL, cousin]  # the other has no such trail
    assert wanted == [pool.WANTED // 2]
