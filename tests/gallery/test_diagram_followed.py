"""Working diagrams followed line by line, as they are printed, beside the words of the order of work."""

from __future__ import annotations

from functools import cache

import pytest
from before_her import pricking_of, text_of
from player.following import follow
from random_pieces import Cell, Drawn, drawn, few_cells
from seen_diagram import Seen

from gallery.diagram.drawn import Diagram, DiagramOptions
from gallery.diagram.pages import leaf_of_all
from gallery.hands import FOOTSIDE_LEFT, FOOTSIDE_RIGHT
from gallery.paper.layers_svg import svg

CELLS = few_cells()
every = pytest.mark.parametrize("cell", CELLS, ids=str)


@cache
def seen_of(cell: Cell) -> tuple[Drawn, Seen]:
    piece = drawn(cell, 1)
    assert piece is not None
    wanted = DiagramOptions(3.0, FOOTSIDE_RIGHT if piece.telling.mirrored else FOOTSIDE_LEFT, numbers=True)
    return piece, Seen(svg(leaf_of_all(Diagram(piece.work, wanted), "greenhouse")))


@every
def test_every_worker_is_drawn_from_pin_to_pin_as_the_words_tell_it(cell: Cell) -> None:
    piece, seen = seen_of(cell)
    board = follow(text_of(piece.work, piece.telling), pricking_of(piece.work, piece.telling.mirrored))
    told = [way for block in board.begun.values() for way in block.ways]
    assert sorted(map(seen.turns, seen.workers)) == sorted(told)


@every
def test_each_number_stands_nearest_to_its_own_pin_and_no_two_run_together(cell: Cell) -> None:
    piece, seen = seen_of(cell)
    places = [tuple(place.tolist()) for place in seen.pins.values()]
    assert len(set(places)) == len(places) == len(piece.work.pins)
    assert seen.run_together() == []


@every
def test_the_twist_at_a_pin_of_a_block_lies_on_its_worker(cell: Cell) -> None:
    _, seen = seen_of(cell)
    assert seen.strayed_bars() == []


@every
def test_every_sign_that_is_drawn_is_in_the_legend(cell: Cell) -> None:
    _, seen = seen_of(cell)
    explained = seen.signs(legend=True)
    for kind, colour, width, dashed in seen.signs(legend=False):
        like = [each for each in explained if (each[0], each[1], each[3]) == (kind, colour, dashed)]
        assert any(abs(each[2] - width) < 0.06 for each in like), (kind, colour, width, dashed)
    assert ("tip or waist" in seen.told) == bool(seen.rounded())
    assert ("from both sides" in seen.told) == bool(seen.shared())
