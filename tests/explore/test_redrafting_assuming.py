"""What a reading assumes is named as doubtful, and settling it brings back the card.

What is read is held against pins laid by the rule of the trade: blocks are pinned along their border alone, spiders in
the middle.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from asked import Ask
from designs import diamond
from redrafting_dots import find_dots_once
from redrafting_pins import pinned
from redrafting_prints import Edge, Scan, expected, least_apart, pins, pricked, printed

from constraints.design import Design
from constraints.edgings import Fan, Scallop
from explore.editing.redrafting.assuming import with_assumed
from explore.editing.redrafting.blank import StripWorking
from explore.editing.redrafting.draft import Draft
from explore.editing.redrafting.grid import by_row
from explore.editing.redrafting.proposals import propose
from explore.editing.redrafting.redraft import CardRequest, Redraft, redraft
from explore.editing.redrafting.repeat import one_repeat

COLUMNS, ROWS = 13, 16
EVERY = {(x, y) for x in range(COLUMNS) for y in range(ROWS) if (x + y) % 2}


@pytest.fixture(autouse=True)
def _dots_once(monkeypatch: pytest.MonkeyPatch) -> None:
    find_dots_once(monkeypatch)


def doubts(draft: Draft) -> dict[tuple[int, int], bool]:
    """The doubtful places that a reading of the whole draft adds, and whether they count."""
    return {each.place: each.taken for each in with_assumed(draft, one_repeat(draft)).doubts}


def test_a_place_that_no_block_can_hold_is_filled_in_and_doubtful() -> None:
    assert doubts(Draft(by_row(EVERY - {(0, 5)}))) == {(0, 5): True}


def test_a_place_without_a_dot_alone_may_be_a_small_block_or_a_lost_dot() -> None:
    assert doubts(Draft(by_row(EVERY - {(6, 7)}))) == {(6, 7): False}
    # A block of four pinholes a side leaves four places without a dot, together.
    assert not doubts(Draft(by_row(pinned(COLUMNS, ROWS, diamond((6, 5), 4)))))


def test_the_dot_that_a_spider_lacks_around_it_is_filled_in_and_doubtful() -> None:
    spider = diamond((6, 7), 2)
    whole = Draft(by_row(EVERY - spider), ((6, 8),))
    assert not doubts(whole)
    torn = replace(whole, pinholes=by_row(EVERY - spider - {(7, 6)}))
    assert doubts(torn)[7, 6]
    found = propose(one_repeat(with_assumed(torn, one_repeat(torn))), StripWorking()).found[0]
    assert (found.reading.blocks, found.reading.figures) == ((), (((6, 8), "spider-8"),))


def settled_by_the_card(file: Path, made: Redraft, truth: set[tuple[int, int]], headside: str | None = None) -> Redraft:
    """The same file read again, each doubt settled as the card itself has it."""
    take = [each.number for each in made.draft.doubts if each.place in truth]
    drop = [each.number for each in made.draft.doubts if each.place not in truth]
    return redraft(file, CardRequest(headside=headside, take=take, drop=drop))


@pytest.mark.parametrize(
    ("edge", "seed"),
    [
        (Edge(Fan.kind, 6, False), 1),
        (Edge(Scallop.kind, 4, False), 1),
        (Edge(Fan.kind, 3, False), 2),
        (Edge(Scallop.kind, 2, True), 2),  # but for one small block its ground comes again after four rows
        (Edge(Scallop.kind, 5, True), 1),  # along one of its edges fans explain what is left of its pins better
    ],
    ids=str,
)
def test_settling_the_doubts_of_two_repeats_with_lost_dots_brings_back_the_card(
    tmp_path: Path, edge: Edge, seed: int
) -> None:
    design, scan, file = printed(edge, seed, repeats=2), Scan(tilt=3, noise=6, lost=0.02), tmp_path / "card.png"
    file.write_bytes(pricked(design, scan, seed)[0])
    assert apart_once_settled(design, scan, file, redraft(file, CardRequest())) == 0


def test_a_kind_of_headside_that_is_nearly_as_likely_is_told_and_asked_for_brings_back_the_card(
    tmp_path: Path, ask: Ask
) -> None:
    """Of two scallops two of seven pins off the grid are lost, those that fans have not."""
    design, scan = printed(Edge(Scallop.kind, 6, False), 1, repeats=2), Scan(tilt=3, noise=6, lost=0.02)
    file = tmp_path / "card.png"
    file.write_bytes(pricked(design, scan, 1)[0])
    status, _, errors = ask("redraft", str(file), "--out", str(tmp_path / "any"))
    assert status == 0
    assert any("shows fans; scallops fit it nearly as well: --headside scallop reads it so" in each for each in errors)
    made = redraft(file, CardRequest(headside=Scallop.kind))
    assert apart_once_settled(design, scan, file, made, Scallop.kind) == 0


def apart_once_settled(design: Design, scan: Scan, file: Path, made: Redraft, headside: str | None = None) -> int:
    """By how many pins the card differs from its reading, once every doubt is settled as the card has it."""
    (first, last), seen = made.draft.rows, {*made.draft.taken, *made.draft.taken_centres}
    whole = [
        {(x, y) for x in range(made.draft.columns) for y in range(first, last + 1) if (x, (y + shift) % rows) in one}
        for grid, holes, rows in expected(design, scan)
        for one in [grid | holes]
        for shift in range(0, rows, 2)
    ]
    settled = settled_by_the_card(file, made, min(whole, key=lambda each: len(each ^ seen)), headside)
    read = pins(propose(settled.repeat or one_repeat(settled.draft), StripWorking()).found[0].design)
    return min(least_apart(each, read) for each in expected(design, scan))
