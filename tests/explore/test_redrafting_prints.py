"""Cards that the program pricked, printed and scanned, are read back: pins and headside, whatever edging they have.

What is read is held against the pins of the strip that was pricked.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from redrafting_prints import EDGES, Edge, Scan, least_apart, pins, pricked, printed

from constraints.edging import FAN, GROUND_SCALLOP, SCALLOP
from constraints.forms import Strip
from explore.redrafting.proposals import Proposal, Wish, propose
from explore.redrafting.redraft import Redraft, redraft
from explore.redrafting.repeat import one_repeat
from explore.redrafting.rows import read_rows, rows_text

SHOWN = [
    Edge(FAN, 3, False), Edge(FAN, 5, True), Edge(SCALLOP, 4, False), Edge(SCALLOP, 3, True),
    Edge(GROUND_SCALLOP, 4, False), Edge(GROUND_SCALLOP, 6, True), EDGES[0],
]  # fmt: skip


def read(folder: Path, edge: Edge, scan: Scan) -> tuple[Strip, int, Redraft, Proposal]:
    """A card of an edging; how many pins the likeliest reading has otherwise, and that reading."""
    square = printed(edge, 0)
    file = folder / "card.png"
    file.write_bytes(pricked(square, scan, 0)[0])
    made = redraft(file, 1, None, (), ())
    assert made.repeat is not None
    best = propose(made.repeat, Wish()).found[0]
    assert isinstance(square.form, Strip)
    return square.form, least_apart(pins(square), pins(best.square)), made, best


@pytest.mark.parametrize("edge", SHOWN, ids=str)
def test_a_card_as_it_is_printed_is_read_back_pin_for_pin(tmp_path: Path, edge: Edge) -> None:
    form, apart, made, best = read(tmp_path, edge, Scan(tilt=2))
    assert apart == 0
    assert (best.repeat.columns, best.repeat.both) == (form.columns, edge.both)
    if form.headside is not None:
        assert best.headside is not None
        assert (best.headside.kind, best.headside.depth) == (edge.kind, edge.depth)
        # Ground scallops are pricked alike whatever their pairs; of scallops the outer pins tell them.
        assert best.headside.pairs == form.headside.pairs or edge.kind == GROUND_SCALLOP
    again = read_rows(rows_text(made.draft, "again"))
    assert (again.taken, again.edging, again.both) == (made.draft.taken, made.draft.edging, made.draft.both)


def test_of_a_card_with_lost_dots_the_doubts_are_named(tmp_path: Path) -> None:
    """Of many groups of unpinned places alike in shape some can be read in fewer ways than others."""
    edge = Edge(FAN, 2, True)
    file = tmp_path / "card.png"
    file.write_bytes(pricked(printed(edge, 1), Scan(tilt=3, noise=6, lost=0.02), 1)[0])
    made = redraft(file, 1, None, (), ())
    found = propose(made.repeat or one_repeat(made.draft), Wish())
    assert made.draft.doubts or made.draft.lost
    assert found.assumed
