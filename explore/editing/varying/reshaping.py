"""Parts made wider or narrower, or moved, with their images."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.lattice import STEPS, BoolArray, IntArray
from constraints.layout import components
from constraints.piece import Piece
from constraints.variables import Model
from explore.editing.varying.families import with_images
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random, bar

# A part may be moved so many steps, and so many parts are changed at the most.
_FARTHEST, _MOST = 4, 3


def reshaped(
    blocks: Model, stitch: IntArray, fixed: BoolArray, there: list[IntArray], goal: float, rng: Random
) -> IntArray:
    """(n,) the stitches after some parts became wider or narrower or moved, until a share `goal` differs."""
    found = stitch
    for number in rng.permutation(len(there))[:_MOST].tolist():
        places = np.zeros(len(stitch), dtype=np.bool_)
        places[there[number]] = True
        options = [*wider(blocks.piece, places), *narrower(blocks.piece, places), *_moved(blocks.piece, places)]
        for choice in rng.permutation(len(options))[:6].tolist():
            changed = replaced(blocks, found, fixed, places, options[choice])
            if changed is not None:
                found = changed
                break
        if float(((found >= 0) != (stitch >= 0)).mean()) >= 0.8 * goal:
            break
    return found


def replaced(blocks: Model, stitch: IntArray, fixed: BoolArray, old: BoolArray, new: BoolArray) -> IntArray | None:
    """(n,) the stitches with the places `old` of a part replaced by `new` and all images; None if rules forbid it."""
    piece = blocks.piece
    new = with_images(piece, new)
    if (new == old).all() or (fixed & (new != old)).any() or (piece.depth[new] < blocks.rules.margin).any():
        return None
    rest = (stitch >= 0) & ~old
    if (rest & piece.widened(new)).any():
        return None
    if not Canvas(blocks, rest | new, np.zeros_like(rest)).holds(rest | new):
        return None
    found = np.where(rest, stitch, -1)
    own = stitch[old]
    found[new] = np.bincount(own).argmax() if len(own) else 0
    return found


def wider(piece: Piece, places: BoolArray) -> Iterator[BoolArray]:
    """Ways to make a part wider on one side or both: every block is grown alike, so images stay images."""
    for step in _steps(piece):
        yield places | _shifted(piece, places, step)
    first = _first(piece, places)
    if first is not None:
        for side in range(len(STEPS)):
            yield first | _along(piece, first, side)
        yield from _resized(piece, first, 2)


def narrower(piece: Piece, places: BoolArray) -> Iterator[BoolArray]:
    """Ways to make a part narrower: what is not of it is made wider."""
    for step in _steps(piece):
        yield places & ~_shifted(piece, ~places, step)
    first = _first(piece, places)
    if first is not None:
        for side in range(len(STEPS)):
            yield first & _along(piece, first, side)
        yield from _resized(piece, first, -2)


def _moved(piece: Piece, places: BoolArray) -> Iterator[BoolArray]:
    for step in _steps(piece)[:4]:
        moved = places
        for _ in range(_FARTHEST):
            moved = _shifted(piece, moved, step)
            yield moved
    first = _first(piece, places)
    if first is not None:
        for side in range(len(STEPS)):
            moved = first
            for _ in range(_FARTHEST):
                moved = _along(piece, moved, side)
                yield moved


def _first(piece: Piece, places: BoolArray) -> BoolArray | None:
    """The first block of a part if the others are its images; such a block may change on one side alone."""
    if not places.any():
        return None
    numbers = components(piece.neighbours, np.where(places, 0, -1))
    first: BoolArray = np.equal(numbers, numbers[places].min())
    return first if (with_images(piece, first) == places).all() else None


def _resized(piece: Piece, block: BoolArray, by: int) -> Iterator[BoolArray]:
    """A diamond or bar with a row more, or less, on both sides of one or both of its directions."""
    x, y = piece.unfolded(np.flatnonzero(block)).T
    (u0, u1), (v0, v1) = ((int(axis.min()), int(axis.max())) for axis in (x + y, y - x))
    falling, rising = (u1 - u0) // 2 + 1, (v1 - v0) // 2 + 1
    if falling * rising != int(block.sum()):
        return
    u, v = (u0 + u1) / 2, (v0 + v1) / 2
    for more, further in ((by, by), (by, 0), (0, by)):
        if falling + more > 0 and rising + further > 0:
            yield _bar(piece, ((u - v) / 2, (u + v) / 2), falling + more, rising + further)


def _bar(piece: Piece, centre: tuple[float, float], falling: int, rising: int) -> BoolArray:
    """A bar as far as it lies on the piece; of a repeat what goes on beyond its ends comes in at the other one."""
    rows = piece.setting.wrap.rows
    found = bar(piece, centre, falling, rising)
    for along in (-rows, rows) if rows else ():
        found = found | bar(piece, (centre[0], centre[1] + along), falling, rising)
    return found


def _along(piece: Piece, places: BoolArray, step: int) -> BoolArray:
    """The places moved one neighbour step, as far as they stay on the piece."""
    there = piece.neighbours[places, step]
    moved = np.zeros(len(places), dtype=np.bool_)
    moved[there[there >= 0]] = True
    return moved


def _steps(piece: Piece) -> list[BoolArray]:
    """(n, 4) each: from which neighbour steps a pinhole takes over what lies there.

    Outwards and inwards by the nearer side, by the corner lines of a piece that has them, and from all sides at once.
    All of them are the same under every turn and reflection.
    """
    x, y = piece.pinholes.T
    beside = piece.neighbours
    known = beside >= 0
    measures = [-piece.depth] if piece.setting.wrap.rows else [-piece.depth, np.abs(x) + np.abs(y)]
    made = []
    for measure in measures:
        there = np.where(known, measure[beside], measure.min() - 1)
        made += [known & (there < measure[:, None]), known & (there > measure[:, None])]
    return [*made, known]


def _shifted(piece: Piece, places: BoolArray, step: BoolArray) -> BoolArray:
    """The pinholes that have one of the places at one of their steps."""
    result: BoolArray = np.any(places[piece.neighbours] & step, axis=1)
    return result
