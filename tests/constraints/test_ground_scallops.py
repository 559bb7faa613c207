"""Ground scallops: where their spiders stand, on strips and round squares."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from constraints.check import check
from constraints.design import Block, Design, FieldFilling
from constraints.design_file import from_text, to_text
from constraints.edgings import Headside, named
from constraints.edgings.dressing import figures
from constraints.edgings.headside import offsets
from constraints.edgings.outer_side import curved
from constraints.edgings.own_figures import with_own, without_own
from constraints.forms import Frame, Square, Strip
from constraints.piece import Piece
from constraints.working import check as working
from constraints.working.work import work

# The pinholes of a spider with 8 and with 12 legs, from its middle (teaching pages of Jo Edkins: 4 pairs and a pin
# off the grid; 6 pairs and a pin on it).
PINHOLES = {8: {(1, 0), (-1, 0), (0, 1), (0, -1)}, 12: {(x, y) for x in range(-2, 3) for y in range(-2, 3)
                                                       if abs(x) + abs(y) in (0, 2)}}  # fmt: skip


def _named(depth: int, first: int = 0, pairs: int = 3) -> Headside:
    found = named(f"ground scallop {depth} with {pairs} pairs", first)
    assert found is not None
    return found


def _legs(depth: int) -> int:
    """Of the largest spider with room between the scallop's tip and the edge, where `depth` lines of ground lie."""
    return max(legs for legs, places in PINHOLES.items() if len({x for x, _ in places}) <= depth)


def _strip(depth: int, columns: int = 15, repeats: int = 3) -> Strip:
    first = depth + (depth + columns) % 2
    return Strip(columns, 2 * depth, repeats, _named(depth, first))


def test_a_name_is_read_back_and_a_spider_needs_depth_3() -> None:
    for depth in (3, 4, 5, 6):
        assert named(_named(depth).name) == _named(depth)
    for wrong in ("2 with 3 pairs", "4 with 2 pairs", "4"):
        with pytest.raises(ValueError, match="is no edging"):
            named(f"ground scallop {wrong}")
    for wrong in ("cloth ground scallop 4 with 3 pairs", "ground fan 4"):
        with pytest.raises(ValueError, match="is no edging"):
            named(wrong)


def test_a_deep_scallop_has_a_spider_of_twelve_legs_and_a_shallow_one_of_eight() -> None:
    """Reckoned from the room: a spider of 8 legs lies on 3 lines, one of 12 on 5."""
    assert {depth: _legs(depth) for depth in (3, 4, 5, 6)} == {3: 8, 4: 8, 5: 12, 6: 12}
    assert [_named(depth).figure.legs for depth in (3, 4, 5, 6)] == [_legs(depth) for depth in (3, 4, 5, 6)]


@pytest.mark.parametrize("depth", [3, 4, 5, 6])
@pytest.mark.parametrize("columns", [14, 15])
def test_a_strip_has_one_spider_in_every_scallop_and_its_legs_reach_pins(depth: int, columns: int) -> None:
    form = replace(_strip(depth, columns), rows=4 * depth)
    piece = form.repeat()
    middles = figures(piece).tolist()
    assert len(middles) == 2
    assert abs(middles[0][1] - middles[1][1]) == 2 * depth
    for x, y in middles:
        own = {(x + dx, (y + dy) % form.rows) for dx, dy in PINHOLES[_legs(depth)]}
        assert own <= set(piece.index)
        # It keeps off the edge itself, and lies within the half diamond that a fan of the depth would take.
        assert all(1 <= columns - 1 - column <= depth for column, _ in own)
        near = np.concatenate([piece.neighbours[piece.index[each]] for each in own])
        beside = {(column, row) for column, row in piece.pinholes[near].tolist()}
        assert len(beside - own) == _legs(depth)


@pytest.mark.parametrize("depth", [3, 4, 5, 6])
def test_round_every_square_the_scallops_are_whole_up_to_half_size_40(depth: int) -> None:
    """As for fans: every side has (N - 1 - 2t) / h scallops beside its corners, and a spider in each of them."""
    tried = 0
    for size in range(depth + 3, 41):
        for first in offsets(size, depth)[:3]:
            piece = Square(size, _named(depth, first)).piece("round", "none")
            middles = figures(piece)
            assert len(middles) == 4 * ((size - 1 - 2 * first) // depth)
            # No two of them stand in the ring of one another, and none over a corner line.
            zones = [{int(piece.zone[place]) for place in _places(piece, middle, depth)} for middle in middles.tolist()]
            assert all(len(each) == 1 for each in zones)
            tried += 1
    assert tried > 40


def _places(piece: Piece, middle: list[int], depth: int) -> list[int]:
    x, y = middle
    return [piece.index[x + dx, y + dy] for dx, dy in PINHOLES[_legs(depth)]]


def test_it_takes_the_pairs_of_a_footside_with_two_passives_fewer_than_pairs_at_its_valley() -> None:
    for pairs in (3, 4, 6):
        dressed = Strip(15, 8, 3, _named(4, 5, pairs))
        plain = Strip(15, 8, 3)
        assert dressed.passives("across", 1) == (1, pairs - 2)
        assert dressed.pairs("across", 1) == plain.pairs("across", 1) + pairs - 3
    assert Square(15, _named(4, 1, 3)).pairs("round", 2) == Square(15).pairs("round", 1)


def test_edge_pins_stand_in_scallops_valleys_where_they_were() -> None:
    form = _strip(4)
    piece = form.piece("across", "none")
    edge = piece.pinholes[piece.edge == 1].astype(np.float64)
    out = curved(piece, edge)[:, 0] - edge[:, 0]
    assert form.headside is not None
    at_valley = (edge[:, 1] - form.headside.first) % form.headside.period == 0
    assert out[at_valley] == pytest.approx(0)
    assert out[~at_valley].min() > 0.5
    # The middle of a scallop stands out by half its depth, and no pinhole behind it moves.
    assert out.max() == pytest.approx(2)
    inner = piece.pinholes[piece.pinholes[:, 0] <= form.columns - 1 - 4].astype(np.float64)
    assert (curved(piece, inner) == inner).all()


def _plain(form: Square | Frame | Strip) -> Design:
    """Nothing but ground and the edging."""
    worked = form.ways[0]
    piece = form.piece(worked, "none")
    return Design(
        number=1, form=form, pitch_mm=5.0, worked=worked, symmetry="none", passives=1,
        pairs=form.pairs(worked, 1), splits=0, blocks=(), fillings=with_own((), piece), prints=(), seed=1,
        brief={},
    )  # fmt: skip


PIECES = [
    pytest.param(_strip(3), id="strip, depth 3"),
    pytest.param(Strip(17, 20, 2, _named(5, 5), both=True), id="strip, both sides"),
    pytest.param(Square(13, _named(4, 2)), id="square"),
    pytest.param(Square(17, _named(6, 2, 4)), id="square, depth 6"),
    pytest.param(Frame(21, 29, 12, _named(4, 2)), id="frame"),
]


@pytest.mark.parametrize("form", PIECES)
def test_ground_with_scallops_is_sound_and_can_be_worked(form: Square | Frame | Strip) -> None:
    model = _plain(form)
    assert model.fillings
    assert check(model) == []
    assert working.faults(work(model)) == []
    assert from_text(to_text(model)) == model


@pytest.mark.parametrize("form", PIECES)
def test_a_scallop_without_its_spider_is_found(form: Square | Frame | Strip) -> None:
    model = _plain(form)
    [filling] = model.fillings
    missing = replace(model, fillings=(replace(filling, places=filling.places[1:]),))
    assert {each.rule for each in check(missing)} & {"headside", "every repeat alike", "repeat"}


def test_a_block_or_a_second_spider_in_a_scallop_is_found() -> None:
    model = _plain(Square(13, _named(4, 2)))
    x, y = model.fillings[0].places[0]
    piece = model.piece()
    near = [point for point in piece.index if abs(point[0] - x) + abs(point[1] - y) == 3]
    blocked = replace(model, blocks=(Block("cloth", (near[0],)),), fillings=model.fillings)
    assert "a block lies in a ground scallop" in {each.message for each in check(blocked)}
    held = [(cx, cy) for cx, cy in piece.hole_centres.tolist() if piece.held[_hole(piece, cx, cy)].all()]
    other = next(centre for centre in held if abs(centre[0] - x) + abs(centre[1] - y) == 2)
    again = FieldFilling("spider-8", tuple(sorted({*model.fillings[0].places, other}, key=lambda p: p[::-1])))
    assert check(replace(model, fillings=(again,)))


def _hole(piece: Piece, x: int, y: int) -> list[int]:
    return [piece.index[p] for p in ((x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y))]


def test_its_spiders_are_told_from_others_of_their_kind() -> None:
    piece = Square(13, _named(4, 2)).piece("round", "none")
    hers = FieldFilling("spider-8", ((0, 1), (1, 4)))
    together = with_own((hers,), piece)
    assert set(together[0].places) > set(hers.places)
    assert without_own(together, piece) == (hers,)
    assert without_own(with_own((), piece), piece) == ()
