"""Composing a frame or rectangle: trails that go round, diamonds along the sides, and what the stamp leaves."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from constraints.forms import Oblong
from constraints.lattice import BoolArray
from constraints.piece import ROUND
from explore.search.compose.bays import add_in_order, diamond, fill_bays
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random
from explore.search.frames.sides import Sides

_Scheme = Callable[[Canvas, Random, Sides], str]


def compose(canvas: Canvas, rng: Random, sides: Sides, solid: tuple[float, float]) -> str:
    """Lay parts on a canvas until it is as solid as it should be; the name of what leads."""
    led = "stamp" if canvas.block[~canvas.piece.fan].any() else ""
    round_print, every = _ROUND if sides.form.has_opening else _WITHIN
    first = _first_of(round_print if led else every, canvas, rng, sides)
    fill_bays(canvas, rng, solid, _orders(canvas, sides.form))
    return led or first or "diamonds"


def ornament(canvas: Canvas, rng: Random, sides: Sides) -> None:
    """Lay the first of all schemes, in a random order, that finds room."""
    _first_of((_ROUND if sides.form.has_opening else _WITHIN)[1], canvas, rng, sides)


def _first_of(schemes: Sequence[_Scheme], canvas: Canvas, rng: Random, sides: Sides) -> str:
    named = (schemes[number](canvas, rng, sides) for number in rng.permutation(len(schemes)).tolist())
    return next((name for name in named if name), "")


def _zigzag_round(canvas: Canvas, rng: Random, sides: Sides) -> str:
    """A trail that runs to and fro across the band as it goes round, alike about the middle of every side."""
    width = int(rng.integers(4, 7))
    most = sides.width - width
    for height in rng.permutation(np.arange(3, max(4, most) + 1)).tolist():
        if height > most:
            continue
        for phase in rng.permutation(2 * height).tolist():
            for first in rng.permutation(most - height + 1).tolist():
                if canvas.add("zigzag", _wave(canvas, sides, sides.span[0] + first, height, width, phase)):
                    return "zigzag"
    return ""


def _wave(canvas: Canvas, sides: Sides, first: int, height: int, width: int, phase: int) -> BoolArray:
    points = canvas.piece.pinholes
    away, along = sides.inwards(points), sides.from_corner(points)
    wave = np.abs(np.mod(along + phase, 2 * height) - height)
    inside: BoolArray = (away >= first + wave) & (away < first + wave + width)
    return inside


def _trails_round(canvas: Canvas, rng: Random, sides: Sides) -> str:
    """Straight trails round, at the outer edge, at the inner one, or both."""
    away = sides.inwards(canvas.piece.pinholes)
    width = int(rng.integers(3, 5))
    near, far = sides.span
    found = False
    for inner in rng.permutation(2).tolist():
        starts = [far - width + 1 - off if inner else near + off for off in range(4)]
        found |= any(canvas.add("trail", (away >= each) & (away < each + width)) for each in starts)
        if found and (sides.width < 3 * width + 4 or rng.random() < 0.4):
            break
    return "trails" if found else ""


def _diamonds_round(canvas: Canvas, rng: Random, sides: Sides) -> str:
    """Diamonds in the middle of the band, one in every corner and evenly along the sides."""
    form = sides.form
    largest = min((sides.width + 2) // 2, canvas.model.rules.widest)
    wide, high = round(form.half_width - sides.middle), round(form.half_height - sides.middle)
    found = False
    for size in range(largest - int(rng.integers(0, max(1, largest - 3))), 1, -1):
        found = any(_add(canvas, sides, "corner diamonds", (-wide, -high), each) for each in (size, size - 1))
        for length, out, upright in ((wide, high, False), (high, wide, True)):
            count = max(1, round(length / (2 * size + 2 * int(rng.integers(0, 3)))))
            for number in range(count):
                place = round(number * length / count)
                spot = (-out, -place) if upright else (-place, -out)
                found |= _add(canvas, sides, "diamonds", spot, size, upright)
        if found:
            return "diamonds"
    return ""


def _side_zigzags(canvas: Canvas, rng: Random, sides: Sides) -> str:
    """A zigzag trail from the top to the bottom near either side edge, alike about the middle."""
    points = canvas.piece.pinholes
    form = sides.form
    from_side, up = form.half_width - np.abs(points[:, 0]), np.abs(points[:, 1])
    most = max(2, sides.width // 2 - 4)
    for height in rng.permutation(np.arange(1, min(most, 7) + 1)).tolist():
        for phase in (0, height):
            for width in (4, 3, 5):
                wave = np.abs(np.mod(up + phase, 2 * height) - height)
                first = sides.span[0] + wave
                inside = (from_side >= first) & (from_side < first + width)
                inside &= up <= form.half_height - sides.end - np.abs(from_side - first - (width - 1) / 2)
                if canvas.add("side zigzags", inside):
                    return "side zigzags"
    return ""


def _diamond_net(canvas: Canvas, rng: Random, sides: Sides) -> str:
    """Diamonds of one size in slanting rows all over."""
    size = int(rng.integers(2, 5))
    step = 2 * size + 2 * int(rng.integers(0, 2))
    form, found = sides.form, False
    for row, y in enumerate(range(0, form.half_height, step)):
        for x in range((row % 2) * step, form.half_width, 2 * step):
            found |= _add(canvas, sides, "net", (-x, -y), size)
    return "diamonds" if found else ""


def _nested_diamonds(canvas: Canvas, rng: Random, sides: Sides) -> str:
    """A large diamond in the middle, in cloth or hollow with a heart."""
    points = canvas.piece.pinholes
    far = np.abs(points).sum(axis=1)
    reach = min(sides.width, 2 * canvas.model.rules.widest) - int(rng.integers(0, 4))
    for radius in range(reach, 5, -1):
        if canvas.add("large diamond", far <= radius):
            return "large diamond"
    return ""


def _add(canvas: Canvas, sides: Sides, name: str, middle: tuple[int, int], size: int, upright: bool = False) -> bool:
    """Lay a diamond in order. upright: where the grid wants it moved, it goes sideways."""
    x, y = middle
    if size < 2:
        return False
    if upright and (x + y - size + 1) % 2 != canvas.piece.parity:
        x += 1
    places = diamond(canvas, (x, y), size)
    return bool(places.any()) and add_in_order(canvas, name, places, _orders(canvas, sides.form))


def _orders(canvas: Canvas, form: Oblong) -> tuple[str, ...]:
    """The symmetries to lay ornament in, the fullest first, the piece's own last."""
    turning = form.half_width == form.half_height and canvas.piece.worked == ROUND
    return (*(("full", "quarter-turn") if turning else ("upright-mirrors", "half-turn")), canvas.piece.symmetry)


# Those beside a print, and all of them: round an opening, and where there is none.
_Schemes = tuple[tuple[_Scheme, ...], tuple[_Scheme, ...]]
_ROUND: _Schemes = ((_diamonds_round,), (_zigzag_round, _trails_round, _diamonds_round))
_WITHIN: _Schemes = ((_side_zigzags,), (_side_zigzags, _diamond_net, _nested_diamonds))
