"""Composing one repeat: trails that run along the strip, diamonds in the bays between, and what the stamp leaves."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from constraints.lattice import DOWN_LEFT, DOWN_RIGHT, BoolArray, lattice_squares
from constraints.layout import locate
from explore.search.compose.bays import diamond, fill_bays
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random

_Scheme = Callable[[Canvas, Random, tuple[int, int], int, int], str]


def compose(canvas: Canvas, rng: Random, span: tuple[int, int], solid: tuple[float, float]) -> str:
    """Lay parts on a canvas until it is as solid as it should be; the name of what leads.

    span: the first and the last column that a block may take. solid: least and greatest share of block places.
    """
    led = "stamp" if canvas.block[~canvas.piece.fan].any() else ""
    first = _first_of((_side_trails,) if led else _LEADING, canvas, rng, span)
    fill_bays(canvas, rng, solid)
    return led or first or "diamonds"


def ornament(canvas: Canvas, rng: Random, span: tuple[int, int]) -> None:
    """Lay the first of all schemes, in a random order, that finds room. span: as for `compose`."""
    _first_of((*_LEADING, _side_trails), canvas, rng, span)


def _first_of(schemes: Sequence[_Scheme], canvas: Canvas, rng: Random, span: tuple[int, int]) -> str:
    rows, wide = canvas.piece.setting.wrap.rows, span[1] - span[0] + 1
    named = (schemes[number](canvas, rng, span, rows, wide) for number in rng.permutation(len(schemes)).tolist())
    return next((name for name in named if name), "")


def _trail(canvas: Canvas, start: tuple[int, int], moves: Sequence[int], width: int) -> BoolArray | None:
    """A trail so many pinholes wide along a way of steps; None where it leaves the piece or does not close."""
    piece = canvas.piece
    place = int(locate(piece, np.array(start)))
    begin, tops = place, []
    for move in moves:
        if place < 0:
            return None
        tops.append(place)
        place = int(piece.neighbours[place, move])
    if place != begin:
        return None
    squares = lattice_squares(piece.neighbours, width)
    found = np.zeros(len(piece), dtype=np.bool_)
    own = squares[np.isin(squares[:, 0], tops)]
    if len(np.unique(own[:, 0])) < len(set(tops)):
        return None
    found[own] = True
    return found


def _zigzag(canvas: Canvas, rng: Random, span: tuple[int, int], rows: int, wide: int) -> str:
    """A trail from side to side and back, once or more in a repeat."""
    width = int(rng.integers(2, 5))
    for turns in rng.permutation([1, 2, 3]).tolist():
        if rows % (2 * turns):
            continue
        reach = rows // (2 * turns)
        if reach + 2 * (width - 1) + 1 > wide or reach < 3:
            continue
        moves = ([DOWN_RIGHT] * reach + [DOWN_LEFT] * reach) * turns
        spare = wide - reach - 2 * (width - 1) - 1
        left = span[0] + width - 1 + (spare // 2 if rng.random() < 0.6 else int(rng.integers(0, spare + 1)))
        if _laid(canvas, "zigzag", left, moves, width):
            return "zigzag"
    return ""


def _meander(canvas: Canvas, rng: Random, span: tuple[int, int], rows: int, wide: int) -> str:
    """A trail that goes over to the other side, runs on along it, and comes back."""
    width = int(rng.integers(2, 4))
    for _ in range(6):
        reach = int(rng.integers(3, max(4, wide - 2 * (width - 1)) + 1))
        straight = rows // 2 - reach
        if straight < 2 or straight % 2 or reach + 2 * (width - 1) + 2 > wide:
            continue
        on = [DOWN_RIGHT, DOWN_LEFT] * (straight // 2)
        moves = [DOWN_RIGHT] * reach + on + [DOWN_LEFT] * reach + on
        left = span[0] + width - 1 + (wide - reach - 2 * (width - 1) - 1) // 2
        if _laid(canvas, "meander", left, moves, width):
            return "meander"
    return ""


def _twin_trails(canvas: Canvas, rng: Random, span: tuple[int, int], rows: int, wide: int) -> str:
    """Two trails, one along each side, that bend towards each other or go in step."""
    width = 2 if wide < 17 else int(rng.integers(2, 4))
    turns = 2 if rows % 4 == 0 and rng.random() < 0.5 else 1
    if rows % (2 * turns):
        return ""
    reach = min(rows // (2 * turns), max(1, (wide - 4 * width) // 2 - 2))
    straight = rows // turns - 2 * reach
    if straight < 0 or straight % 2 or reach < 1:
        return ""
    moves = ([DOWN_RIGHT] * reach + [DOWN_LEFT] * reach + [DOWN_RIGHT, DOWN_LEFT] * (straight // 2)) * turns
    if not _laid(canvas, "trail", span[0] + width - 1, moves, width):
        return ""
    # Under a mirror or glide it has its own image already.
    if canvas.piece.symmetry in ("none", "level-mirror"):
        other = [DOWN_LEFT if move == DOWN_RIGHT else DOWN_RIGHT for move in moves]
        opposed = rng.random() < 0.6
        right = span[1] - width + 1 - (0 if opposed else reach)
        _laid(canvas, "trail", right, other if opposed else moves, width)
    return "twin trails"


def _side_trails(canvas: Canvas, rng: Random, span: tuple[int, int], rows: int, wide: int) -> str:
    """Narrow straight trails beside the stamp, where there is room."""
    moves = [DOWN_RIGHT, DOWN_LEFT] * (rows // 2)
    left = _laid(canvas, "side trail", span[0] + 1, moves, 2)
    right = _laid(canvas, "side trail", span[1] - 2, moves, 2)
    return "side trails" if left or right else ""


def _diamond_chain(canvas: Canvas, rng: Random, span: tuple[int, int], rows: int, wide: int) -> str:
    """Diamonds one after the other along the middle."""
    count = int(rng.choice([each for each in (1, 2, 3, 4) if rows % (2 * each) == 0]))
    apart = rows // count
    size = min(max(2, apart // 2 - 1), (wide + 1) // 2, canvas.model.rules.widest)
    size -= int(rng.integers(0, max(1, size - 2)))
    middle = (span[0] + span[1]) // 2
    first = int(rng.integers(0, apart))
    found = np.zeros(len(canvas.piece), dtype=np.bool_)
    for number in range(count):
        found |= diamond(canvas, (middle, first + number * apart), size)
    return "diamonds" if found.any() and canvas.add("diamonds", found) else ""


def _laid(canvas: Canvas, name: str, column: int, moves: Sequence[int], width: int) -> bool:
    """Lay a trail whose first pinhole stands in a column, in the first row there that takes it."""
    rows = canvas.piece.setting.wrap.rows
    for row in range((column + 1) % 2, rows, 2):
        places = _trail(canvas, (column, row), moves, width)
        if places is not None and canvas.add(name, places):
            return True
    return False


_LEADING: tuple[_Scheme, ...] = (_zigzag, _meander, _twin_trails, _diamond_chain)
