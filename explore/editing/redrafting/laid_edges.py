"""The pins of headsides in a draft: where a headside lies, its pins are known, and what the card lacks is doubtful."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from constraints.lattice import BoolArray, FloatArray, Point
from explore.editing.redrafting.draft import Doubt, Draft, Place
from explore.editing.redrafting.edge_shapes import TOUCH, at_ends, left_valley, shape_of
from explore.editing.redrafting.edges import OUTSIDE, Edges
from explore.editing.redrafting.grid import by_row


def with_edges(draft: Draft, points: FloatArray, edges: Edges) -> Draft:
    """The draft with the pins of its headsides in place of what stands there. points: (n, 2) marks like dots."""
    laid = _laid(draft, points, edges)
    taken = {doubt.place for doubt in laid.doubts} | laid.sure
    foreign: dict[Point, Doubt] = {}
    for at in _foreign(draft, points, edges):
        place = min(_pinholes_near(at), key=lambda each: (each[0] - at[0]) ** 2 + (each[1] - at[1]) ** 2)
        if place not in taken and 0 <= place[0] <= edges.right - edges.left:
            foreign.setdefault(place, Doubt(0, at, place, "where a headside has no pin", False))
    others = [doubt for doubt in draft.doubts if not _holds(edges, doubt.at) and not _holds(edges, doubt.place)]
    return replace(
        draft,
        pinholes=by_row({each for each in draft.pinholes if not _holds(edges, each)} | laid.sure),
        centres=by_row({each for each in draft.centres if not _holds(edges, each)} | laid.holes),
        headside=by_row(laid.outside),
        doubts=(*others, *laid.doubts, *foreign.values()),
        edging=edges.headside,
        rival=edges.rival,
        both=edges.both,
        lost=laid.lost,
    )


@dataclass
class _LaidPins:
    """What the pins of headsides are in a draft. sure, holes: pinholes and middles of holes. outside: off the grid.
    lost: how many of those have no mark."""

    sure: set[Point] = field(default_factory=set)
    holes: set[Point] = field(default_factory=set)
    outside: list[Place] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    lost: int = 0


def _laid(draft: Draft, points: FloatArray, edges: Edges) -> _LaidPins:
    laid, most = _LaidPins(), edges.right - edges.left
    for pin, place in _expected(edges, *draft.rows):
        there = bool((np.hypot(*(points - pin).T) < TOUCH).any())
        ended = not _well_within(draft, edges, place[1])
        grid = (round(place[0]), round(place[1]))
        if not (0 < place[0] < most or (sum(grid) % 2 and 0 <= place[0] <= most)):
            laid.outside.append((round(pin[0], 2), round(pin[1], 2)))
            laid.lost += not there and not ended
        elif there or ended:
            (laid.sure if sum(grid) % 2 else laid.holes).add(grid)
        else:
            at = (float(grid[0]), float(grid[1]))
            laid.doubts.append(Doubt(0, at, grid, "missing here, a headside has it", True))
    return laid


def _foreign(draft: Draft, points: FloatArray, edges: Edges) -> Iterator[Place]:
    """The marks in a headside that are none of its pins."""
    pins = np.array([pin for pin, _ in _expected(edges, *draft.rows)])
    for x, y in points[_within(edges, points)].tolist():
        if _well_within(draft, edges, y) and np.hypot(*(pins - (x, y)).T).min() >= TOUCH:
            yield round(x, 2), round(y, 2)


def _well_within(draft: Draft, edges: Edges, row: float) -> bool:
    """Whether a row is none of those at either end that say little of a headside."""
    (first, last), kept_off = draft.rows, at_ends(edges.headside)
    return first + kept_off <= row <= last - kept_off


def _expected(edges: Edges, first: int, last: int) -> Iterator[tuple[Place, Place]]:
    """Every pin of the headsides in these rows: where it is pricked, and where it stands before the curve."""
    shape, period = shape_of(edges.headside), edges.headside.period
    for side, column, valley in _sides(edges):
        for pin, place in zip(shape.pins.tolist(), shape.places.tolist(), strict=True):
            begin = valley + place[1]
            for row in range(int(begin - (begin - first) // period * period), last + 1, period):
                yield (column + side * pin[0], row + pin[1] - place[1]), (column + side * place[0], float(row))


def _sides(edges: Edges) -> Iterator[tuple[int, int, int]]:
    """Of each headside: 1 for the right edge and -1 for the left one, its column, the row of a valley."""
    columns = edges.right - edges.left + 1
    yield 1, columns - 1, edges.headside.first
    if edges.both:
        yield -1, 0, left_valley(edges.headside, columns)


def _within(edges: Edges, points: FloatArray) -> BoolArray:
    """(n,) whether points lie in a headside or outside it, not too far."""
    shape = shape_of(edges.headside)
    found: BoolArray = np.zeros(len(points), dtype=np.bool_)
    for side, column, valley in _sides(edges):
        out = (points[:, 0] - column) * side
        found |= (out > -shape.inner(points[:, 1] - valley) - 0.5) & (out < OUTSIDE)
    return found


def _holds(edges: Edges, place: Place) -> bool:
    return bool(_within(edges, np.array([place], dtype=np.float64))[0])


def _pinholes_near(at: Place) -> list[Point]:
    x, y = round(at[0]), round(at[1])
    return [(x + dx, y + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1) if (x + dx + y + dy) % 2]
