"""The lines of a design: each pair's step exactly once, and figures as handbooks have them."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from examples import diamond, gallery_of, make

from constraints.design import Design
from constraints.lattice import STEPS
from gallery.looks.edges import edge_lines
from gallery.looks.marks import Marks

SHELF = [*gallery_of(8, 12), *gallery_of(8, 24), *gallery_of(4, 24, "across")]

Ends = tuple[tuple[float, float], tuple[float, float]]


def sorted_ends(lines: np.ndarray) -> list[Ends]:
    return [tuple(sorted(map(tuple, line.tolist()))) for line in lines]


def grid_steps(half_size: int) -> set[Ends]:
    """All steps of a square, straight from the definition: (x, y) to (x +- 1, y + 1), x + y odd."""
    span = range(-half_size, half_size + 1)
    holes = {(x, y) for x in span for y in span if (x + y) % 2}
    return {tuple(sorted(((x, y), (x + d, y + 1)))) for x, y in holes for d in (-1, 1) if (x + d, y + 1) in holes}


@pytest.mark.parametrize("design", SHELF, ids=lambda s: f"{s.half_size}-{s.worked}-{s.number}")
def test_every_step_outside_the_blocks_is_drawn_exactly_once(design: Design) -> None:
    marks = Marks(design)
    # A cross-over and a leg through it take the steps of the two pinholes between which the pair would run.
    tips = [(tip.pin, tip.step) for tip in (marks.crossing, marks.legs.tips)]
    from_pins = np.concatenate(
        [np.stack([marks.piece.pinholes[p], marks.piece.pinholes[p] + STEPS[s]], axis=1) for p, s in tips]
    )
    through = Counter(sorted_ends(from_pins.astype(float)))
    drawn = Counter(sorted_ends(np.concatenate([marks.ends(marks.ground), marks.ends(marks.sides)])))
    block = {p: i for i, b in enumerate(design.blocks) for p in b.pinholes}
    spider = {tuple(p) for p in marks.piece.pinholes[marks.bare_places].tolist()}
    for step in grid_steps(design.half_size):
        a, b = step
        inside = (a in block and block.get(a) == block.get(b)) or (a in spider and b in spider)
        # A pair that leaves both its pinholes for a cross-over is two halves, a leg from the ring is one.
        halves = through.pop(step, 0)
        assert drawn.pop(step, 0) + min(halves, 1) == (0 if inside else 1), step
    assert not drawn
    assert not through


def test_a_lone_rose_has_four_sides_and_four_crossovers_of_two_pairs() -> None:
    """4 pins and 4 pairs: teaching pages of Jo Edkins."""
    marks = Marks(make(12, [], symmetry="none", rose=diamond(-8, 0, 1)))
    assert marks.centres[marks.crossing_figures].tolist() == [[-8, 0]]
    assert len(marks.sides) == 4
    middles = Counter(map(tuple, marks.crossing.towards.tolist()))
    assert middles == {(-7, -1): 4, (-7, 1): 4, (-9, -1): 4, (-9, 1): 4}
    # In a cross-over two straight lines meet at right angles, one level and one upright.
    lines = marks.crossing_lines
    assert (np.abs(lines[:, 1] - lines[:, 0]).sum(axis=1) == 1).all()


def test_neighbouring_roses_share_a_crossover() -> None:
    marks = Marks(make(12, [], symmetry="none", rose=lambda x, y: ((x == -8) & (y == 0)) | ((x == -6) & (y == 2))))
    assert len(marks.crossing_figures) == 2
    assert len(np.unique(marks.crossing.towards, axis=0)) == 7


@pytest.mark.parametrize(("legs", "centre"), [(8, (-8, 0)), (12, (-7, 0)), (16, (-7, 1))])
def test_a_spider_has_as_many_legs_as_it_is_called_for(legs: int, centre: tuple[int, int]) -> None:
    """8, 12 and 16 legs for 4, 6 and 8 pairs: teaching pages of Jo Edkins."""
    marks = Marks(make(12, [], symmetry="none", spiders=[(legs, diamond(*centre, 1))]))
    assert marks.bodies.tolist() == [list(centre)]
    lines = marks.legs.lines
    assert len(lines) == legs
    assert (lines[:, 1] == centre).all()
    assert len(np.unique(lines[:, 0], axis=0)) == legs
    # Half come from the left and half from the right.
    assert (lines[:, 0, 0] < centre[0]).sum() == (lines[:, 0, 0] > centre[0]).sum() == legs // 2


@pytest.mark.parametrize("inset", [-0.3, 0.0, 0.5])
def test_worked_round_the_edge_line_closes(inset: float) -> None:
    curves = edge_lines(make(9, []).piece(), inset)
    assert len(curves) == 4 * 9
    starts, ends = (Counter(map(tuple, np.round(curves[:, i], 6).tolist())) for i in (0, 2))
    assert starts == ends
    # It keeps its distance from the edge along the straight parts.
    assert np.abs(curves[:, [0, 2]]).max() == pytest.approx(9 - inset)


def test_worked_across_there_is_an_edge_line_at_both_sides_only() -> None:
    curves = edge_lines(make(9, [], worked="across", symmetry="none").piece(), 0.5)
    assert set(np.abs(curves[..., 0]).ravel().tolist()) == {8.5}
    assert len(curves) == 2 * (9 - 1)


def test_a_trail_one_place_wide_is_a_line_and_a_lone_place_a_dot() -> None:
    thin = make(12, [("cloth", lambda x, y: (x - y == 1) & (x > 2) & (x < 6))], symmetry="none")
    marks = Marks(thin)
    lines = marks.bridges(marks.layout.inside)
    assert sorted_ends(lines) == [((3.0, 2.0), (4.0, 3.0)), ((4.0, 3.0), (5.0, 4.0))]
    lone = Marks(make(12, [("cloth", diamond(3, 2, 1))], symmetry="none"))
    (dot,) = lone.bridges(lone.layout.inside)
    assert np.abs(dot - [3, 2]).max() < 0.001
    assert not len(Marks(make(12, [("cloth", diamond(3, 3, 4))])).bridges(np.ones(312, dtype=np.bool_)))
