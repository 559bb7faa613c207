"""Every square that the search can find is worked soundly, and all papers of it agree.

Squares come from the jobs of the search itself: most are compositions that keep every rule, the others come from the
solver. Beside the project's own checks stand networkx (digraphs), bobbins exchanged one by one and sums by hand.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import networkx
import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.fillings import ALLOWED, UNITS
from constraints.flow import START_LINES, flow_of
from constraints.forms import Square
from constraints.layout import lay
from constraints.materials import materials
from constraints.nodes import nodes_of
from constraints.pins import pin_places, pins
from constraints.symmetry import SYMMETRIES
from constraints.working import ends
from constraints.working.check import faults
from constraints.working.habits import CLOSED, CORNER, HORIZONTAL, OPEN, Habits
from constraints.working.ledger import NOWHERE
from constraints.working.steps import steps_of
from constraints.working.threads import Threads, play, thread_lengths
from constraints.working.work import Work, work
from explore.search.squares.workshop import SquareWorkshop
from gallery.diagram.drawn import Diagram, DiagramOptions
from gallery.paper.layers import Dots, Layer
from gallery.pricking.drawn import Pricking, PrickingOptions
from gallery.pricking.parts import parts_of

Places = list[tuple[float, float]]


@st.composite
def found_squares(draw: st.DrawFn, symmetry: str, worked: str) -> Design:
    """A square as one job of the search makes it, with one of its start lines."""
    half_size = draw(st.integers(6, 13))
    passives = draw(st.integers(0, 3))
    brief = Brief.of(
        half_size=(half_size, half_size),
        pairs=Square(half_size).pairs(worked, passives),
        symmetry=symmetry,
        worked=worked,
        passives=passives,
        stitches=draw(st.sampled_from([ALLOWED, ("cloth", "rose"), ("half", "spider"), ("whole", "double-ground")])),
        splits=draw(st.sampled_from([0, 8])),
        narrowest=draw(st.sampled_from([2, 1, 3])),
        narrowest_ground=draw(st.sampled_from([2, 1])),
        solid=draw(st.sampled_from([(0.1, 0.5), (0.0, 0.3), (0.35, 0.7)])),
        seed=draw(st.integers(1, 10**6)),
        effort=0.2,
    )
    design, _ = SquareWorkshop(brief, ()).run(draw(st.integers(0, 99)), None)
    assume(design is not None)
    assert design is not None
    return started(design, draw(st.sampled_from(sorted(START_LINES))))


def started(design: Design, start: str) -> Design:
    """The square begun at that corner if the second check allows it."""
    other = replace(design, number=1, start=start if design.worked == "round" else design.start)
    return other if check(other) == [] else replace(design, number=1)


@st.composite
def habits(draw: st.DrawFn) -> Habits:
    return Habits(
        ground=draw(st.sampled_from([CLOSED, OPEN])),
        at_pins=draw(st.integers(0, 3)),
        leaving=draw(st.integers(0, 2)),
        legs=draw(st.integers(1, 4)),
        edge=draw(st.integers(0, 3)),
        at_passives=draw(st.integers(0, 2)),
        turning_from=draw(st.sampled_from([4, 1, 2, 99])),
        start_line=draw(st.sampled_from([CORNER, HORIZONTAL])),
        corner_pins=draw(st.booleans()),
    )


@pytest.mark.parametrize("worked", ["round", "across"])
@pytest.mark.parametrize("symmetry", SYMMETRIES)
@settings(max_examples=10, suppress_health_check=list(HealthCheck))
@given(data=st.data(), kept=habits(), footside=st.sampled_from(["left", "right"]))
def test_every_square_is_worked_and_its_papers_agree(
    symmetry: str, worked: str, data: Any, kept: Habits, footside: str
) -> None:
    design = data.draw(found_squares(symmetry, worked))
    assert check(design) == []
    if worked == "across":  # neither a start line nor corners to turn
        kept = replace(kept, start_line=CORNER, corner_pins=False)
    done = begun(design, kept)
    assert faults(done) == []
    assert ends.faults(done, ends.ends_of(done)) == []
    a_digraph_of_crossings(done)
    pairs_agree(done)
    pins_agree(done, footside)
    threads_agree(done)


def begun(design: Design, kept: Habits) -> Work:
    """The square worked; from the corner line where roses and spiders leave no row for a horizontal start."""
    try:
        return work(design, kept)
    except ValueError as refusal:
        figures = {each.kind for each in design.fillings} & UNITS.keys()
        if kept.start_line != HORIZONTAL or not figures or "start along the corner line" not in str(refusal):
            raise
        return work(design, replace(kept, start_line=CORNER))


def a_digraph_of_crossings(done: Work) -> None:
    """Two pairs in, two out, no cycle (Irvine and Ruskey 2014, Journal of Mathematics and the Arts), by networkx."""
    graph = networkx.MultiDiGraph()
    tails, heads = done.segments.tail.tolist(), done.segments.head.tolist()
    for length, (tail, head) in enumerate(zip(tails, heads, strict=True)):
        begin = ("hung", length) if tail == NOWHERE else tail
        graph.add_edge(begin, ("finished", length) if head == NOWHERE else head)
    crossings = range(len(done.crossings))
    assert {graph.in_degree(each) for each in crossings} == {2} == {graph.out_degree(each) for each in crossings}
    assert networkx.is_directed_acyclic_graph(graph)
    # As many edges as there are pairs leave the sources: by counting degrees, 2 crossings + pairs.
    assert graph.number_of_edges() == 2 * len(done.crossings) + done.design.pairs
    # The order written down is one in which each follows what it waits for.
    assert all(tail < head for tail, head in graph.edges() if isinstance(tail, int) and isinstance(head, int))


def pairs_agree(done: Work) -> None:
    """Pairs by the trade's count, hung, in the flow, in every cut, finished, as bobbins."""
    design = done.design
    edges = 1 if design.worked == "round" else 2
    by_the_trade = (design.half_size if design.worked == "round" else 2 * design.half_size) + edges * (
        1 + design.passives
    )
    run = flow_of(done.layout.piece, nodes_of(done.layout), design.start)
    told = ends.ends_of(done)
    hung = [length for held in told.hung for length in held.segments]
    finished = [each.finished for each in told.sewings] + [each for held in told.last for each in held.segments]
    assert done.pairs == design.pairs == by_the_trade == len(set(hung)) == len(set(finished))
    assert set(run.across_cuts.tolist()) == {design.pairs - edges * design.passives}
    taken = materials(done)
    assert (taken.pairs, taken.bobbins) == (design.pairs, 2 * design.pairs)
    # Of each cut, by hand: the pairs that hang before any crossing.
    hanging = set(hung)
    for here, there in zip(done.crossings.taken.tolist(), done.crossings.given.tolist(), strict=True):
        assert hanging >= set(here)
        hanging = (hanging - set(here)) | set(there)
        assert len(hanging) == design.pairs
    assert hanging == set(finished)
    places = ends.places_from_footside(done)
    assert sorted(places[list(hanging)].tolist()) == list(range(1, design.pairs + 1))


def pins_agree(done: Work, footside: str) -> None:
    """Pins of the square, the order of work, its steps, the pricking and the diagram are the same places."""
    design = done.design
    corner = float(design.half_size)
    squared = [(x, y) for x in (-corner, corner) for y in (-corner, corner)] if done.habits.corner_pins else []
    wanted = sorted([*((x, y) for x, y in pin_places(lay(design)).tolist()), *squared])
    assert sorted(pin.place for pin in done.pins) == wanted
    assert len(wanted) == len(set(wanted)) == pins(design) + len(squared) == materials(done).pins
    assert [pin for step in steps_of(done) for pin in step.pins] == list(range(1, len(wanted) + 1))
    hand = -1 if footside == "right" else 1
    mirrored = sorted((hand * x, y) for x, y in wanted)
    pricked = Pricking(done, PrickingOptions(footside=footside)).drawn(parts_of(design, "whole")[0])
    assert lattice(dots_of(pricked.layers, "pinholes"), design.pitch_mm / 2, mirrored) == mirrored
    diagram = Diagram(done, DiagramOptions(3.0, footside))
    assert lattice(dots_of(diagram.layers, "pins"), diagram.unit, mirrored) == mirrored


def dots_of(layers: tuple[Layer, ...], name: str) -> np.ndarray:
    """(n, 2) mm."""
    return np.concatenate([
        mark.centres for layer in layers if layer.name == name for mark in layer.marks if isinstance(mark, Dots)
    ])  # fmt: skip


def lattice(dots: np.ndarray, unit: float, wanted: Places) -> Places:
    """Dots (mm) as lattice places, their top left corner where that of the wanted ones lies."""
    moved = (dots - dots.min(axis=0)) / unit + np.array(wanted).min(axis=0)
    assert np.abs(2 * moved - np.round(2 * moved)).max() < 1e-6
    return sorted((float(x), float(y)) for x, y in (np.round(2 * moved) / 2).tolist())


def threads_agree(done: Work) -> None:
    """Threads run from end to end; sums over threads are sums over crossings and lengths."""
    threads = play(done)
    assert threads.count == 2 * done.design.pairs
    words = Counter(done.crossings.words_of(each).replace(".", "") for each in range(len(done.crossings)))
    # A cross is one passing, a twist of two pairs is two.
    moves = sum(count * (word.count("C") + 2 * word.count("T")) for word, count in words.items())
    assert (threads.crossing != NOWHERE).sum() == moves
    assert (threads.segment != NOWHERE).sum() == done.segments.twists.sum()
    assert len(threads.over) == moves + done.segments.twists.sum()
    routes = [np.flatnonzero((threads.begin == thread).any(axis=1)) for thread in range(threads.count)]
    assert sorted(np.concatenate(routes).tolist()) == sorted(2 * list(range(len(done.segments))))
    for route in routes:
        assert done.segments.tail[route[0]] == done.segments.head[route[-1]] == NOWHERE
        assert (done.segments.head[route[:-1]] == done.segments.tail[route[1:]]).all()
    inner = (done.segments.tail != NOWHERE) & (done.segments.head != NOWHERE)
    place = done.crossings.place
    straight = np.linalg.norm(place[done.segments.head[inner]] - place[done.segments.tail[inner]], axis=1)
    measured = thread_lengths(done, threads)
    assert measured.units.sum() == pytest.approx(2 * straight.sum())
    assert measured.passive.sum() == 2 * len(done.passives_hung)
    as_permutations(done, threads)


def as_permutations(done: Work, threads: Threads) -> None:
    """The same moves as exchanges of bobbins on the pillow, counted from the footside, with no pair in mind."""
    places = ends.places_from_footside(done)
    bobbins = [NOWHERE] * threads.count

    def exchange(*firsts: int) -> None:
        for first in firsts:
            bobbins[first], bobbins[first + 1] = bobbins[first + 1], bobbins[first]

    def twisted(length: int) -> None:
        exchange(*[2 * int(places[length]) - 2] * int(done.segments.twists[length]))

    for length in np.flatnonzero(done.segments.tail == NOWHERE).tolist():
        first = 2 * int(places[length]) - 2
        bobbins[first : first + 2] = threads.begin[length].tolist()
        twisted(length)
    for number, gone in enumerate(done.crossings.given.tolist()):
        at = 2 * int(places[done.crossings.taken[number, 0]]) - 2
        for move in done.crossings.words_of(number).replace(".", ""):
            exchange(*[at + 1] if move == "C" else [at, at + 2])
        for length in gone:
            twisted(length)
    last = np.flatnonzero(done.segments.head == NOWHERE)
    last = last[np.argsort(places[last])]
    assert bobbins == threads.end[last].ravel().tolist()


def test_a_wrong_thread_would_be_seen() -> None:
    brief = Brief.of(half_size=(8, 8), pairs=10, solid=(0.1, 0.5), stitches=ALLOWED)
    design = next(found for found, _ in (SquareWorkshop(brief, ()).run(job, None) for job in range(40)) if found)
    done = work(design)
    threads = play(done)
    as_permutations(done, threads)
    wrong = threads.end.copy()
    last = np.flatnonzero(done.segments.head == NOWHERE)
    wrong[last[0]] = wrong[last[0]][::-1]
    broken = Threads(threads.begin, wrong, threads.crossing, threads.segment, threads.over, threads.under)
    with pytest.raises(AssertionError):
        as_permutations(done, broken)
