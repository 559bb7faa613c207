"""The rule on eyes, small holes for which a worker is twisted between two passives, written from the lace itself."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from constraints.check.limits import Limits
from constraints.check.listing import Fault
from constraints.lattice import Point
from constraints.layout import Layout, as_points, locate
from constraints.stitches import CLOTH

# Cloth all round: the nearest pinholes and those a pitch away, upright and level.
_ROUND = ((1, 1), (1, -1), (-1, 1), (-1, -1), (2, 0), (-2, 0), (0, 2), (0, -2))


def eyes(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """An eye lies in cloth stitch with cloth of its block on every side; its worker goes straight past it from one side
    of the block to the other; no two touch (from a lacemaker's memory, no source)."""
    found: dict[str, list[Point]] = {}
    own = set(layout.design.eyes)
    for eye in layout.design.eyes:
        if (words := _amiss(layout, eye)) is not None:
            found.setdefault(words, []).append(eye)
        elif any((eye[0] + x, eye[1] + y) in own for x, y in _ROUND):
            found.setdefault("eyes touch each other", []).append(eye)
    for words, places in found.items():
        yield words, tuple(places)


def even(layout: Layout, limits: Limits) -> Iterator[Fault]:
    """Every image of an eye under the symmetry is an eye, if there is a place for it."""
    at = locate(layout.piece, as_points(layout.design.eyes))
    held = set(at[at >= 0].tolist())
    lone = [eye for eye in sorted(held) if not set(layout.piece.images[:, eye].tolist()) <= held]
    if lone:
        yield "eyes without their images under the symmetry", layout.points(np.array(lone))


def _amiss(layout: Layout, eye: Point) -> str | None:
    """What is wrong with an eye by itself."""
    at, block = _at(layout, eye)
    if block < 0:
        return "eyes outside blocks"
    if layout.design.blocks[block].stitch != CLOTH or layout.piece.fan[at]:
        return "eyes in other than cloth stitch"
    around = [_at(layout, (eye[0] + x, eye[1] + y)) for x, y in _ROUND]
    if any(other != block for _, other in around):
        return "eyes at the border of their block"
    if any(layout.piece.zone[place] != layout.piece.zone[at] for place, _ in around):
        return "eyes on a corner line"
    along, down = layout.piece.directions[layout.piece.zone[at]].tolist()
    for hand in (1, -1):
        here = eye
        while _at(layout, here)[1] == block and layout.piece.zone[_at(layout, here)[0]] == layout.piece.zone[at]:
            for x, y in _ROUND[:4]:
                place, other = _at(layout, (here[0] + x, here[1] + y))
                if other == block and layout.piece.zone[place] != layout.piece.zone[at]:
                    return "eyes in a row that goes on over a corner line"
            here = (here[0] + 2 * hand * down, here[1] - 2 * hand * along)
    return None


def _at(layout: Layout, point: Point) -> tuple[int, int]:
    """The pinhole at a point and the number of its block, -1 for none."""
    at = int(locate(layout.piece, as_points((point,)))[0])
    return at, int(layout.block[at]) if at >= 0 else -1
