"""Roses at corner lines, stitch by stitch: which can be worked round a square, and in which order.

A square is told here from coordinates alone: four quarters, each worked its own way, the pillow turned between them (Jo
Edkins, teaching pages on Torchon lace). A stitch is a point: a pin where x + y is odd; where it is even, the hole at
which two pairs cross over without a pin. It waits for those from which its two pairs come. So a rose is eight stitches
and no single one, and whatever has no ring of stitches that wait for one another can be worked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

import networkx
import numpy as np
import pytest
from designs import made, roses

from constraints.brief import Brief
from constraints.check import check
from constraints.design import FieldFilling
from constraints.forms import Square
from constraints.variables import Model
from constraints.working.ledger import CROSS_OVER
from constraints.working.work import work

Stitch = tuple[int, int]
Arc = tuple[Stitch, Stitch]

DIAGONALS = tuple(product((-1, 1), repeat=2))
# The way each quarter is worked, and the one after it; the start line lies between the top one and the left one.
WAYS = {"left": (0, 1), "bottom": (1, 0), "right": (0, -1), "top": (-1, 0)}
NEXT = dict(zip(WAYS, (*list(WAYS)[1:], "left"), strict=True))


def quarter_of(pin: Stitch) -> str:
    x, y = pin
    return ("left" if x < 0 else "right") if abs(x) > abs(y) else ("top" if y < 0 else "bottom")


def onwards(half_size: int) -> Iterator[Arc]:
    """Where the two pairs of every pin go on to: both ways forward, or on along the edge."""
    places = range(-half_size, half_size + 1)
    pins = {(x, y) for x in places for y in places if (x + y) % 2}
    for x, y in pins:
        (across, down), (after, later) = WAYS[quarter_of((x, y))], WAYS[NEXT[quarter_of((x, y))]]
        forward = [(x + across + side * down, y + down + side * across) for side in (-1, 1)]
        along = (x + 2 * across, y + 2 * down)
        turned = (x + across + after, y + down + later)
        edge = along if along in pins else turned
        yield from (((x, y), there) for there in forward if there in pins)
        if max(abs(x), abs(y)) == half_size:
            yield (x, y), edge


def corners(hole: Stitch) -> set[Stitch]:
    x, y = hole
    return {(x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)}


def waiting(half_size: int, units: Iterable[Stitch], without: Iterable[Stitch] = ()) -> networkx.DiGraph:
    """The stitches of a square of plain ground and roses, from each to those that wait for it.

    units: the middles of the roses. without: the holes at which pairs run on uncrossed.
    """
    arcs = list(onwards(half_size))
    through: dict[Arc, Stitch] = {}
    for x, y in units:
        own = corners((x, y))
        for hole in {(x + right, y + down) for right, down in DIAGONALS} - set(without):
            beside = corners(hole) - own
            passing = [arc for arc in arcs if len({*arc} & own) == len({*arc} & beside) == 1]
            assert len(passing) == 2
            through.update(dict.fromkeys(passing, hole))
    graph = networkx.DiGraph()
    graph.add_nodes_from(pin for arc in arcs for pin in arc)
    for arc in arcs:
        tail, head = arc
        stitches = (tail, through[arc], head) if arc in through else (tail, head)
        # Over the start line a pair is hung on anew: it waits for nothing.
        if (quarter_of(tail), quarter_of(head)) == ("top", "left"):
            stitches = stitches[1:]
        networkx.add_path(graph, stitches)
    return graph


def can_be_worked(half_size: int, units: Iterable[Stitch], without: Iterable[Stitch] = ()) -> bool:
    return bool(networkx.is_directed_acyclic_graph(waiting(half_size, units, without)))


def holes(half_size: int) -> list[Stitch]:
    """Those clear of the edge, so that a rose has room."""
    places = range(2 - half_size, half_size - 1)
    return [(x, y) for x in places for y in places if (x + y) % 2 == 0]


def in_line(half_size: int, even_u: bool, even_v: bool) -> set[Stitch]:
    """All roses of one alignment."""
    return {(x, y) for x, y in holes(half_size) if ((x + y) % 4 == 0) == even_u and ((y - x) % 4 == 0) == even_v}


@pytest.mark.parametrize("filling", ["rose", "half-stitch-rose"])
@pytest.mark.parametrize("half_size", [6, 7, 10])
def test_a_rose_may_lie_just_where_its_stitches_can_be_worked(half_size: int, filling: str) -> None:
    """Every hole on a corner line is out, the middle and the start line too, and no other one is."""
    there = {hole for hole in holes(half_size) if can_be_worked(half_size, [hole])}
    assert there == {(x, y) for x, y in holes(half_size) if abs(x) != abs(y)}
    model = Model(Square(half_size).piece("round", "none"), Brief.of(stitches=("cloth", filling)).rules)
    assert set(map(tuple, model.sites[filling].centres.tolist())) == there
    for hole in holes(half_size):
        lone = made(half_size, FieldFilling(filling, (hole,)), brief={"stitches": ["cloth", filling]})
        assert (check(lone) == []) == (hole in there), hole


@pytest.mark.parametrize("half_size", [6, 9])
def test_what_waits_for_itself_is_a_cross_over_on_the_line(half_size: int) -> None:
    """With both of them left out the rose can be worked, with one of them it cannot: nothing else is in the way. At the
    middle all four lie on corner lines."""
    for hole in holes(half_size):
        x, y = hole
        if abs(x) != abs(y):
            continue
        on_line = {(x + right, y + down) for right, down in DIAGONALS if abs(x + right) == abs(y + down)}
        assert len(on_line) == (4 if hole == (0, 0) else 2)
        assert can_be_worked(half_size, [hole], on_line)
        for made_anyway in on_line:
            graph = waiting(half_size, [hole], on_line - {made_anyway})
            ring = {stitch for arc in networkx.find_cycle(graph) for stitch in arc}
            assert made_anyway in ring
            # Off the start line it is as short as can be: two pins face each other over the line.
            if not all(across == down <= 0 for across, down in (hole, made_anyway)):
                shortest = min(networkx.simple_cycles(graph, length_bound=3), key=len)
                assert len({quarter_of(pin) for pin in shortest if sum(pin) % 2}) == 2


@pytest.mark.parametrize("half_size", range(6, 17, 5))
def test_round_the_middle_roses_stand_in_rows_on_both_sides_of_the_lines(half_size: int) -> None:
    """Of the four alignments one can be worked, and in it every pinhole beside a corner line is a rose's, but for those
    beside the edge."""
    workable = []
    for even_u, even_v in product((True, False), repeat=2):
        field = in_line(half_size, even_u, even_v)
        fine = can_be_worked(half_size, field)
        assert (check(made(half_size, roses(field))) == []) == fine
        if fine:
            workable.append((even_u, even_v))
    assert workable == [(False, False)]
    taken = {pin for hole in in_line(half_size, False, False) for pin in corners(hole)}
    beside = {pin for arc in onwards(half_size) for pin in arc if abs(abs(pin[0]) - abs(pin[1])) == 1}
    assert {pin for pin in beside if max(map(abs, pin)) <= half_size - 3} <= taken


@pytest.mark.parametrize("half_size", [6, 11])
def test_no_stitch_of_a_square_of_roses_is_worked_before_one_that_it_waits_for(half_size: int) -> None:
    """The working, roses as one piece each, is an order of the stitches as they are told here."""
    field = in_line(half_size, False, False)
    done = work(made(half_size, roses(field)))
    number = {pin.place: pin.crossing for pin in done.pins}
    over = np.flatnonzero(done.crossings.kind == CROSS_OVER)
    number |= dict(zip(map(tuple, done.crossings.place[over].tolist()), over.tolist(), strict=True))
    graph = waiting(half_size, field)
    assert number.keys() == set(graph)
    assert all(number[first] < number[then] for first, then in graph.edges)
    # In a square in which they stand otherwise some stitch would have to wait.
    other = waiting(half_size, in_line(half_size, True, True))
    assert any(number[first] >= number[then] for first, then in other.edges if {first, then} <= number.keys())


@pytest.mark.parametrize("half_size", [7, 12])
def test_one_row_of_roses_is_worked_towards_the_corner_before_the_other_row_back(half_size: int) -> None:
    """So it is at a corner: Jo Edkins, teaching pages on Torchon lace, the mat of spiders and roses."""
    field = in_line(half_size, False, False)
    done = work(made(half_size, roses(field)))
    when = {pin.place: pin.step for pin in done.pins}
    for x_side, y_side in ((-1, 1), (1, 1), (1, -1)):
        # The two rows that face each other over the line that runs to this corner, the one at the corner last.
        rows: dict[str, list[int]] = {}
        for out in range(1, half_size):
            for hole in ((x_side * out, y_side * (out + 2)), (x_side * (out + 2), y_side * out)):
                if hole in field:
                    rows.setdefault(quarter_of((hole[0], hole[1])), []).append(when[min(corners(hole))])
        one, other = sorted(rows.values())
        assert one == sorted(one)
        assert other == sorted(other, reverse=True)
        assert max(one) < min(other)
