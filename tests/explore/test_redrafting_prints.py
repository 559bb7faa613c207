"""Cards that the program pricked, printed and scanned, are read back: pins and headside, whatever edging they have.

What is read is held against the pins of the strip that was pricked.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from redrafting_prints import EDGES, Edge, Scan, expected, least_apart, pins, pricked, printed

from constraints.edgings import Fan, GroundScallop, Scallop
from constraints.forms import Strip
from explore.editing.redrafting.blank import StripWorking
from explore.editing.redrafting.proposals import Proposal, propose
from explore.editing.redrafting.redraft import CardRequest, Redraft, redraft
from explore.editing.redrafting.repeat import find_repeat
from explore.editing.redrafting.rows import read_rows, rows_text

SHOWN = [
    Edge(Fan.kind, 3, False), Edge(Fan.kind, 5, True), Edge(Scallop.kind, 4, False), Edge(Scallop.kind, 3, True),
    Edge(GroundScallop.kind, 4, False), Edge(GroundScallop.kind, 6, True), EDGES[0],
]  # fmt: skip


def read(folder: Path, edge: Edge, scan: Scan, seed: int = 0, repeats: int = 4) -> tuple[Strip, int, Redraft, Proposal]:
    """A card of an edging; how many pins the likeliest reading has otherwise, and that reading."""
    design = printed(edge, seed, repeats)
    file = folder / "card.png"
    file.write_bytes(pricked(design, scan, seed)[0])
    made = redraft(file, CardRequest())
    assert made.repeat is not None
    best = propose(made.repeat, StripWorking()).found[0]
    assert isinstance(design.form, Strip)
    apart = min(least_apart(each, pins(best.design)) for each in expected(design, scan))
    return design.form, apart, made, best


@pytest.mark.parametrize("edge", SHOWN, ids=str)
def test_a_card_as_it_is_printed_is_read_back_pin_for_pin(tmp_path: Path, edge: Edge) -> None:
    form, apart, made, best = read(tmp_path, edge, Scan(tilt=2))
    assert apart == 0
    assert (best.repeat.columns, best.repeat.both) == (form.columns, edge.both)
    if form.headside is not None:
        assert best.headside is not None
        assert (best.headside.kind, best.headside.depth) == (edge.kind, edge.depth)
        # Ground scallops are pricked alike whatever their pairs; of scallops the outer pins tell them.
        assert best.headside.pairs == form.headside.pairs or edge.kind == GroundScallop.kind
    again = read_rows(rows_text(made.draft, "again"))
    assert (again.taken, again.edging, again.both) == (made.draft.taken, made.draft.edging, made.draft.both)


@pytest.mark.parametrize(
    ("edge", "seed"),
    [
        (Edge(Fan.kind, 2, True), 1),  # its outer pins stand in a line as straight as a footside
        (Edge(Fan.kind, 4, True), 0),  # a spider and a block are cut off by the ends
        (Edge(Scallop.kind, 3, True), 1),  # every second pinhole makes as large a net as all of them
        (Edge(Scallop.kind, 6, False), 1),  # a spider of twelve legs takes the outermost pinhole of its row
    ],
    ids=str,
)
def test_cards_that_are_easily_misread_are_read_back(tmp_path: Path, edge: Edge, seed: int) -> None:
    _, apart, made, _ = read(tmp_path, edge, Scan(), seed)
    assert apart == 0
    assert made.draft.both == edge.both


@pytest.mark.parametrize(
    ("edge", "scan"),
    [
        (Edge(Scallop.kind, 4, False), Scan(tilt=2, noise=4, aslant=0.1)),
        (Edge(Fan.kind, 5, False), Scan(tilt=2, noise=4, aslant=0.3)),
        (Edge(GroundScallop.kind, 4, False), Scan(tilt=-4, aslant=0.1, shadow=0.5, table=True, quality=60)),
        (Edge(Fan.kind, 2, False), Scan(tilt=1, noise=4, off=0.15, smudges=25)),
        (Edge(Scallop.kind, 4, False), Scan(tilt=1, noise=4, bent=0.04)),
    ],
    ids=["a tenth aslant", "three tenths aslant", "photograph", "pricked by hand", "bent"],
)
def test_a_card_badly_photographed_or_pricked_by_hand_is_read_back(tmp_path: Path, edge: Edge, scan: Scan) -> None:
    _, apart, made, _ = read(tmp_path, edge, scan)
    assert apart == 0
    assert made.seat is not None
    # The strip does not fill the picture, and less of the slant is seen in it.
    assert 0.5 * scan.aslant <= made.seat.net.aslant < scan.aslant + 0.06


@pytest.mark.parametrize("depth", [3, 4, 5, 6])
def test_ground_scallops_written_down_on_the_grid_are_read_if_she_says_so(depth: int) -> None:
    """On the grid they look like a straight edge with spiders beside it."""
    design = printed(Edge(GroundScallop.kind, depth, False), 0)
    grid, holes, rows = pins(design)
    lines = [" ".join(str(x) for x in sorted(x for x, y in grid if y == row)) for row in range(rows)] * 4
    text = "\n".join(["columns", *lines, *(f"hole {x} {y + rows * k}" for x, y in holes for k in range(4))])
    repeat = find_repeat(read_rows(text))
    assert repeat is not None
    best = propose(repeat, StripWorking(kind=GroundScallop.kind)).found[0]
    assert best.headside is not None
    assert (best.headside.kind, best.headside.depth) == (GroundScallop.kind, depth)
    assert least_apart(pins(design), pins(best.design)) == 0


@pytest.mark.parametrize(("edge", "seed"), [(edge, 1) for edge in EDGES if edge.kind == GroundScallop.kind], ids=str)
def test_ground_scallops_are_known_by_two_repeats_of_one_scallop_each(tmp_path: Path, edge: Edge, seed: int) -> None:
    """Ends that cut off their spiders take away two or four rows, no more."""
    design = printed(edge, seed, repeats=2)
    file = tmp_path / "card.png"
    file.write_bytes(pricked(design, Scan(tilt=3), seed)[0])
    made = redraft(file, CardRequest())
    assert made.draft.edging is not None
    assert (made.draft.edging.kind, made.draft.edging.depth, made.draft.both) == (edge.kind, edge.depth, edge.both)


@pytest.mark.parametrize(
    "edge",
    [
        EDGES[0],  # a block and a spider are cut off by the ends
        Edge(Scallop.kind, 2, True),  # of a spider on the seam nothing is left at either end
        Edge(Scallop.kind, 3, True),  # a trail runs all along
        Edge(Fan.kind, 5, False),
    ],
    ids=str,
)
def test_two_repeats_tell_what_the_ends_cut_off(tmp_path: Path, edge: Edge) -> None:
    form, apart, made, _ = read(tmp_path, edge, Scan(tilt=3, noise=6), 1, repeats=2)
    assert made.repeat is not None
    assert made.repeat.rows == form.rows
    assert apart == 0
    # Of a place of the block that only an end shows pinned, and of one that lies alone, nobody can tell whether its dot
    # is lost; none is filled in.
    open_ = {"missing here, there where the card ends", "missing, a small block or a lost dot"}
    assert {doubt.why for doubt in made.draft.doubts} <= open_
    assert not any(doubt.taken for doubt in made.draft.doubts)


@pytest.mark.parametrize(
    ("edge", "seed"),
    [
        (Edge(Fan.kind, 3, False), 1),  # few pins, and as many marks in the letters above and below them
        (Edge(GroundScallop.kind, 3, True), 1),
        (Edge(Scallop.kind, 2, False), 1),  # three of sixteen pins of its footside are lost
    ],
    ids=str,
)
def test_neither_letters_nor_a_worn_footside_hide_the_edges(tmp_path: Path, edge: Edge, seed: int) -> None:
    form, _, made, _ = read(tmp_path, edge, Scan(tilt=3, noise=6, lost=0.02), seed, repeats=2)
    assert made.draft.edging is not None
    assert (made.draft.edging.kind, made.draft.edging.depth, made.draft.both) == (edge.kind, edge.depth, edge.both)
    assert made.draft.columns == form.columns


def test_of_a_card_with_lost_dots_the_doubts_are_named(tmp_path: Path) -> None:
    _, apart, made, _ = read(tmp_path, Edge(Fan.kind, 2, True), Scan(tilt=3, noise=6, lost=0.02))
    assert made.draft.doubts
    assert apart == 0
