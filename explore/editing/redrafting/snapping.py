"""From the dots of a picture to a draft: which pinhole each of them is, and which are doubtful."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

import numpy as np

from constraints.lattice import BoolArray, FloatArray, IntArray, Point
from explore.bad_input import BadInput
from explore.editing.redrafting.body import SIDES, WORN, among_pinholes, footside_of, straight_edge, together
from explore.editing.redrafting.dots import CONTRAST, LIKENESS, FoundDots
from explore.editing.redrafting.draft import FAINT, Doubt, Draft, Place
from explore.editing.redrafting.edges import Edges, fitted
from explore.editing.redrafting.grid import beyond, by_row, hole, row_ends, steps
from explore.editing.redrafting.laid_edges import with_edges
from explore.editing.redrafting.net import NEAR, Net, fitted_to, nearest_even
from explore.editing.redrafting.steps import FEWEST

# A faint dot has less contrast than a sure one, or is less like the usual dot, but more than this.
FAINT_CONTRAST, FAINT_LIKENESS = 0.25, 0.5
# Marks between places and outside count only if they are quite as dark as the dots and quite like them.
CLEAR_CONTRAST, CLEAR_LIKENESS = 0.75, 0.8
# Pins of a headside stand no further beyond the grid than this, in lattice units.
BEYOND = 8.0
# A headside takes at least so many pins off the grid.
LEAST_OFF = 3

_ODD = np.array([0, 1])


@dataclass(frozen=True, eq=False)
class Seat:
    """How a draft lies on its picture. turn: (2, 2) from places of the net to the draft's, before the shift."""

    net: Net
    scale: float
    turn: IntArray
    shift: IntArray
    side: str

    def pixels(self, places: FloatArray) -> FloatArray:
        """Where places of the draft lie in the picture, (n, 2) pixels."""
        return self.net.pixels((places - self.shift) @ np.linalg.inv(self.turn).T) / self.scale

    @property
    def pitch(self) -> float:
        """Pixels of the picture."""
        return self.net.pitch / self.scale


def snap(dots: FoundDots, scale: float, footside: str | None = None, headside: str | None = None) -> tuple[Draft, Seat]:
    """The draft of a picture and how it lies there. footside: the side it is on, else the straightest one. headside:
    the kind opposite, or a footside; None for any.

    Refused if fewer dots stand on the grid than a pricking has.
    """
    whole = nearest_even(dots.places)
    off = np.linalg.norm(dots.places - whole, axis=1)
    sure = (dots.contrast > CONTRAST) & (dots.likeness > LIKENESS) & (off < NEAR)
    if sure.sum() < FEWEST:
        raise BadInput(f"shows {int(sure.sum())} dots on a grid; a pricking has at least {FEWEST}")
    dark = (dots.contrast > CONTRAST) & (dots.likeness > LIKENESS)
    among = sure & among_pinholes(dots.places, sure, dark)
    body = together(whole, among if among.sum() >= FEWEST else sure)
    # Pins outside the grid that stand near places of it have helped to lay it; now they no longer do.
    net = fitted_to(dots.marks.at[body], whole[body]) or dots.net
    places = net.places(dots.marks.at)
    asked = (footside,) if footside else tuple(SIDES)
    side, edge, edges = _edges_of(places[dark], whole[body], asked, headside)
    turn = np.array(SIDES[side])
    turned = whole @ turn.T
    body &= turned[:, 0] >= edge
    shift = np.array([-edge, -turned[body, 1].min()])
    shift[1] += (shift.sum() + 1) % 2
    seat = Seat(net, scale, turn, shift, side)
    moved = places @ turn.T + shift
    draft = _sorted_out(dots, moved, body)
    if edges is not None:
        own = replace(edges.headside, first=int(edges.headside.first + shift[1]) % edges.headside.period)
        draft = with_edges(draft, moved[dark], replace(edges, headside=own, left=0, right=edges.right - edges.left))
    return draft, seat


def _edges_of(
    points: FloatArray, body: IntArray, sides: tuple[str, ...], kind: str | None
) -> tuple[str, int, Edges | None]:
    """The side that comes to the left, the column of that edge, and the headside if there is one.

    The footside, if a headside lies opposite; else whichever side has one opposite; else the footside.
    """
    likely, edge = footside_of({(x, y) for x, y in body.tolist()}, sides)
    found: list[tuple[float, str, Edges]] = []
    if (np.linalg.norm(points - nearest_even(points), axis=1) > NEAR).sum() < LEAST_OFF:
        return likely, edge, None
    for side in (likely, *(each for each in sides if each != likely)):
        turn = np.array(SIDES[side])
        places = body @ turn.T
        # Rows are counted so that column + row is odd at pinholes.
        up = np.array([0, 1])
        pinholes = {(x, y) for x, y in places.tolist()}
        straight = straight_edge(pinholes) or straight_edge(pinholes, WORN)
        edges = fitted(points @ turn.T + up, places + up, None if straight is None else straight[1], kind)
        mirrored = side == "right" and len(sides) > 1
        if edges is not None and not (edges.both and mirrored):
            own = replace(edges.headside, first=edges.headside.first - 1)
            if side == likely:
                return side, edges.left, replace(edges, headside=own)
            found.append((edges.unexplained, side, replace(edges, headside=own)))
    if not found:
        return likely, edge, None
    _, side, best = min(found, key=lambda each: each[0])
    return side, best.left, best


def _sorted_out(dots: FoundDots, places: FloatArray, body: BoolArray) -> Draft:
    """What every mark is, in places of the draft (column + row odd at pinholes)."""
    whole = nearest_even(places - _ODD) + _ODD
    middle = nearest_even(places)
    off, off_middle = (np.linalg.norm(places - each, axis=1) for each in (whole, middle))
    pinned = {(x, y) for x, y in whole[body].tolist()}
    edges = row_ends(pinned)
    clear = (dots.contrast > CLEAR_CONTRAST) & (dots.likeness > CLEAR_LIKENESS)
    faint = (dots.contrast > FAINT_CONTRAST) & (dots.likeness > FAINT_LIKENESS) & (off < NEAR)
    seen, doubts, headside, centres, alone = set(pinned), [], [], set(), set()
    for i in np.argsort(-dots.contrast, kind="stable").tolist():
        at, place, centre = _point(places[i]), _whole(whole[i]), _whole(middle[i])
        if body[i] or (off[i] < NEAR and place in seen):
            continue
        if not (clear[i] or faint[i]) or at[0] < -0.5:
            continue
        if clear[i] and _beyond(at, edges):
            headside.append(at)
        elif clear[i] and off[i] < NEAR and _within(place, edges) and pinned.isdisjoint(steps(place)):
            seen.add(place)
            alone.add(place)  # in the middle of a figure that has its pin on a pinhole
        elif off[i] < NEAR and _beside(place, pinned, edges, wide=bool(clear[i])):
            seen.add(place)
            taken = bool(clear[i]) and not pinned.isdisjoint(steps(place))
            doubts.append(Doubt(0, at, place, _why(bool(clear[i]), taken), taken))
        elif clear[i] and off_middle[i] < NEAR and _within(centre, edges) and pinned.isdisjoint(hole(centre)):
            centres.add(centre)
        elif clear[i] and _beside(place, pinned, edges):
            # Beside a pinhole that has its own dot, it can only be a pin in the hole.
            meant = centre if place in seen else place
            seen.add(meant)
            doubts.append(Doubt(0, at, meant, f"stands {off[i] / 2:.2f} of a pitch off the grid", False))
    doubled = _doubled(dots, whole, off, pinned)
    return Draft(by_row(pinned | alone), by_row(centres), by_row(headside), tuple(doubts), doubled)


def _why(clear: bool, taken: bool) -> str:
    if not clear:
        return FAINT
    return "next to the pinholes" if taken else "stands alone beside the pinholes"


def _point(place: FloatArray) -> Place:
    return round(float(place[0]), 2), round(float(place[1]), 2)


def _whole(place: IntArray) -> Point:
    return int(place[0]), int(place[1])


def _beyond(at: Place, edges: dict[int, tuple[int, int]]) -> bool:
    """Whether a mark stands outside the grid, not too far beyond the last pinholes of the rows beside it."""
    near = [edges[row][1] for row in range(round(at[1]) - 1, round(at[1]) + 2) if row in edges]
    return bool(near) and max(near) + 0.5 < at[0] < max(near) + BEYOND


def _beside(place: Point, pinned: set[Point], edges: dict[int, tuple[int, int]], *, wide: bool = False) -> bool:
    """Whether a place lies within the body of pinholes or next to it; wide: or one pitch away."""
    near = [*steps(place), *(beyond(place) if wide else ())]
    return not pinned.isdisjoint(near) or _within(place, edges)


def _within(place: Point, edges: dict[int, tuple[int, int]]) -> bool:
    """Whether there are pinholes before and after a place in its row, or in the rows above and below: so for the middle
    of a hole, and for the pin of a large figure beside an edge."""
    x, y = place
    levels = ((y - 1, y + 1), (y,))[: 1 + (x + y) % 2]
    return any(all(row in edges and edges[row][0] < x < edges[row][1] for row in rows) for rows in levels)


def _doubled(dots: FoundDots, whole: IntArray, off: FloatArray, pinned: set[Point]) -> int:
    """How many pinholes have more than one mark that looks like a dot."""
    good = (dots.contrast > CONTRAST) & (dots.likeness > LIKENESS) & (off < 2 * NEAR)
    counts = Counter((x, y) for x, y in whole[good].tolist())
    return sum(count > 1 for place, count in counts.items() if place in pinned)
