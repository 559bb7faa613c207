"""Figures that stand in places: each is drawn once and laid in all the places that a square gives it."""

from __future__ import annotations

from constraints.lattice import BoolArray
from explore.search.compose import parts
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk, between


def _width(desk: Desk, rng: Random, most: int = 4) -> int:
    """Pinholes across a bar: cloth collapses where it is narrower than three (from memory)."""
    return between(rng, max(3, desk.least), most)


def _place(desk: Desk, rng: Random) -> tuple[int, int]:
    """Somewhere to stand: the centre, an axis, a corner line, or between them."""
    away = between(rng, 0, desk.reach - 1)
    kind = between(rng, 0, 7)
    if kind == 0:
        return 0, 0
    if kind < 4:
        return -away, 0
    if kind < 7:
        return -away, -away
    return -away, -between(rng, 0, away - 1)


def diamond(desk: Desk, rng: Random) -> BoolArray:
    """A diamond."""
    size = between(rng, max(3, desk.least), 9)
    return parts.diamond(desk.piece, parts.centre_for(size, size, *_place(desk, rng)), size)


def bar(desk: Desk, rng: Random) -> BoolArray:
    """A bar along or across the corner lines."""
    long, wide = between(rng, 6, 15), _width(desk, rng)
    sides = (long, wide) if rng.random() < 0.5 else (wide, long)
    return parts.bar(desk.piece, parts.centre_for(*sides, *_place(desk, rng)), *sides)


def frame(desk: Desk, rng: Random) -> BoolArray:
    """Four bars that touch point to point, with a heart or without."""
    size, wide = between(rng, 9, 15), _width(desk, rng, 3)
    centre = parts.centre_for(size, size, *_place(desk, rng))
    u, v = desk.piece.pinholes.sum(axis=1) - sum(centre), desk.piece.pinholes @ (-1, 1) - (centre[1] - centre[0])
    apart, aside = abs(u), abs(v)
    within, beyond = size - 2 * wide, size
    sides: BoolArray = ((apart < beyond) & (aside < within) & (apart >= within)) | (
        (aside < beyond) & (apart < within) & (aside >= within)
    )
    heart = between(rng, 3, 7)
    if heart < within - 3 and rng.random() < 0.7:
        sides = sides | parts.diamond(desk.piece, centre, within - 4 - (heart % 2) * 2)
    return sides


def vee(desk: Desk, rng: Random) -> BoolArray:
    """Angles on an axis, one behind the other."""
    wide, arm = int(rng.choice((6, 6, 8))), between(rng, 6, 13)
    tip, out = -between(rng, 4, desk.reach), int(rng.choice((-1, 1)))
    figure = desk.nothing()
    for number in range(between(rng, 1, 3)):
        behind = tip + number * (wide + 4)
        if behind < -2:
            figure |= parts.chevron(desk.piece, (behind, 0), (out, 0), max(4, arm - 2 * number), wide)
    return figure


def corner(desk: Desk, rng: Random) -> BoolArray:
    """Angles in the corners, one within the other."""
    wide, radius = int(rng.choice((5, 6))), between(rng, desk.reach // 3, desk.reach)
    arm = between(rng, 6, 2 * radius // 3)
    figure = desk.nothing()
    for number in range(between(rng, 1, 3)):
        inner = radius - number * (wide + 5)
        if inner > arm // 2:
            figure |= parts.corner_angle(desk.piece, inner, wide, max(6, arm - 2 * number))
    return figure


def rungs(desk: Desk, rng: Random) -> BoolArray:
    """Bars across a corner line in rows that grow towards the corner."""
    wide, long = _width(desk, rng, 3), 2 * between(rng, 2, 4)
    at = between(rng, desk.reach // 4, desk.reach - 1)
    figure = desk.nothing()
    for number in range(between(rng, 2, 4)):
        middle = at + number * (wide + 3)
        if middle < desk.reach:
            own = long + 2 * number
            centre = parts.centre_for(wide, own, -middle, -middle)
            figure |= parts.bar(desk.piece, (centre[0], centre[0]), wide, own)
    return figure


def rosette(desk: Desk, rng: Random) -> BoolArray:
    """A diamond with four others at its tips."""
    size = between(rng, max(3, desk.least), 5)
    x, y = parts.centre_for(size, size, *_place(desk, rng))
    figure = parts.diamond(desk.piece, (x, y), size)
    for dx, dy in ((2, 0), (-2, 0), (0, 2), (0, -2)):
        figure |= parts.diamond(desk.piece, (x + dx * size, y + dy * size), size)
    return figure


def chequer(desk: Desk, rng: Random) -> BoolArray:
    """Diamonds in rows and columns, point to point or apart."""
    size, many = between(rng, max(3, desk.least), 4), between(rng, 2, 3)
    step = size + int(rng.choice((2, 3))) + (size % 2)
    x, y = parts.centre_for(size, size, *_place(desk, rng))
    figure = desk.nothing()
    for a in range(many):
        for b in range(many):
            u, v = (2 * a - many + 1) * step, (2 * b - many + 1) * step
            figure |= parts.diamond(desk.piece, (x + (u - v) // 2, y + (u + v) // 2), size)
    return figure


def pinwheel(desk: Desk, rng: Random) -> BoolArray:
    """A bar that leans, all of them the same way."""
    wide, long, away = _width(desk, rng), between(rng, 6, 15), between(rng, 4, desk.reach - 1)
    return parts.bar(desk.piece, parts.centre_for(wide, long, -away, -between(rng, 0, long - 1)), wide, long)
