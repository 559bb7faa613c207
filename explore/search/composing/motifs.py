"""Figures that stand in places: each is drawn once and laid in all the places that a square gives it."""

from __future__ import annotations

from collections.abc import Iterable

from constraints.lattice import BoolArray
from explore.search.compose import parts
from explore.search.compose.parts import Random
from explore.search.composing.desk import Desk, between, one_of

# A bar by its centre and its two sides; see `parts.bar`.
Bar = tuple[tuple[int, int], int, int]


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


def _bars(desk: Desk, *several: Bar) -> BoolArray:
    figure = desk.nothing()
    for centre, falling, rising in several:
        figure |= parts.bar(desk.piece, centre, falling, rising)
    return figure


def bars(desk: Desk, several: Iterable[Bar]) -> BoolArray:
    """One figure of several bars."""
    return desk.drawn(_bars, *several)


def diamond(desk: Desk, rng: Random) -> BoolArray:
    """A diamond."""
    size = between(rng, max(3, desk.least), 9)
    return bars(desk, [(parts.centre_for(size, size, *_place(desk, rng)), size, size)])


def bar(desk: Desk, rng: Random) -> BoolArray:
    """A bar along or across the corner lines."""
    long, wide = between(rng, 6, 15), _width(desk, rng)
    sides = (long, wide) if rng.random() < 0.5 else (wide, long)
    return bars(desk, [(parts.centre_for(*sides, *_place(desk, rng)), *sides)])


def frame(desk: Desk, rng: Random) -> BoolArray:
    """Four bars that touch point to point, with a heart or without."""
    size, wide = between(rng, 9, 15), _width(desk, rng, 3)
    centre = parts.centre_for(size, size, *_place(desk, rng))
    heart, within = between(rng, 3, 7), size - 2 * wide
    own = within - 4 - (heart % 2) * 2 if heart < within - 3 and rng.random() < 0.7 else 0
    return desk.drawn(_frame, centre, size, within, own)


def _frame(desk: Desk, centre: tuple[int, int], beyond: int, within: int, heart: int) -> BoolArray:
    u, v = desk.piece.pinholes.sum(axis=1) - sum(centre), desk.piece.pinholes @ (-1, 1) - (centre[1] - centre[0])
    apart, aside = abs(u), abs(v)
    sides: BoolArray = ((apart < beyond) & (aside < within) & (apart >= within)) | (
        (aside < beyond) & (apart < within) & (aside >= within)
    )
    return sides | parts.diamond(desk.piece, centre, heart)


def vee(desk: Desk, rng: Random) -> BoolArray:
    """Angles on an axis, one behind the other."""
    wide, arm = one_of(rng, (6, 6, 8)), between(rng, 6, 13)
    tip, out = -between(rng, 4, desk.reach), one_of(rng, (-1, 1))
    return desk.drawn(_vee, wide, arm, tip, out, between(rng, 1, 3))


def _vee(desk: Desk, wide: int, arm: int, tip: int, out: int, count: int) -> BoolArray:
    figure = desk.nothing()
    for number in range(count):
        behind = tip + number * (wide + 4)
        if behind < -2:
            figure |= parts.chevron(desk.piece, (behind, 0), (out, 0), max(4, arm - 2 * number), wide)
    return figure


def corner(desk: Desk, rng: Random) -> BoolArray:
    """Angles in the corners, one within the other."""
    wide, radius = one_of(rng, (5, 6)), between(rng, desk.reach // 3, desk.reach)
    arm = between(rng, 6, 2 * radius // 3)
    return desk.drawn(_corner, wide, radius, arm, between(rng, 1, 3))


def _corner(desk: Desk, wide: int, radius: int, arm: int, count: int) -> BoolArray:
    figure = desk.nothing()
    for number in range(count):
        inner = radius - number * (wide + 5)
        if inner > arm // 2:
            figure |= parts.corner_angle(desk.piece, inner, wide, max(6, arm - 2 * number))
    return figure


def rungs(desk: Desk, rng: Random) -> BoolArray:
    """Bars across a corner line in rows that grow towards the corner."""
    wide, long = _width(desk, rng, 3), 2 * between(rng, 2, 4)
    at = between(rng, desk.reach // 4, desk.reach - 1)
    several = []
    for number in range(between(rng, 2, 4)):
        middle = at + number * (wide + 3)
        if middle < desk.reach:
            own = long + 2 * number
            x, _ = parts.centre_for(wide, own, -middle, -middle)
            several.append(((x, x), wide, own))
    return bars(desk, several)


def rosette(desk: Desk, rng: Random) -> BoolArray:
    """A diamond with four others at its tips."""
    size = between(rng, max(3, desk.least), 5)
    x, y = parts.centre_for(size, size, *_place(desk, rng))
    beside = ((0, 0), (2, 0), (-2, 0), (0, 2), (0, -2))
    return bars(desk, [((x + dx * size, y + dy * size), size, size) for dx, dy in beside])


def chequer(desk: Desk, rng: Random) -> BoolArray:
    """Diamonds in rows and columns, point to point or apart."""
    size, many = between(rng, max(3, desk.least), 4), between(rng, 2, 3)
    step = size + one_of(rng, (2, 3)) + (size % 2)
    x, y = parts.centre_for(size, size, *_place(desk, rng))
    along = [(2 * a - many + 1) * step for a in range(many)]
    return bars(desk, [((x + (u - v) // 2, y + (u + v) // 2), size, size) for u in along for v in along])


def pinwheel(desk: Desk, rng: Random) -> BoolArray:
    """A bar that leans, all of them the same way."""
    wide, long, away = _width(desk, rng), between(rng, 6, 15), between(rng, 4, desk.reach - 1)
    return bars(desk, [(parts.centre_for(wide, long, -away, -between(rng, 0, long - 1)), wide, long)])
