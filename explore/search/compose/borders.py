"""Borders: what runs along the edge of a square, decided before the stamp is laid inside."""

from __future__ import annotations

from dataclasses import dataclass

from explore.search.compose import parts
from explore.search.compose.canvas import Canvas
from explore.search.compose.ornaments import Proportions, row_of_diamonds
from explore.search.compose.parts import Random


@dataclass(frozen=True)
class Border:
    """kind: what it is, "open" for none. depth: units it reaches inwards from the margin. values: its proportions."""

    kind: str
    depth: int
    values: tuple[int, ...] = ()


def draw_border(rng: Random, half_size: int, narrowest: int, kinds: tuple[str, ...], most: int) -> Border:
    """A border at most so many units deep, with proportions that suit the half-size."""
    for _ in range(6):
        border = _any_border(rng, half_size, narrowest, str(rng.choice(kinds)))
        if border.depth <= most:
            return border
    return Border("open", 0)


def _any_border(rng: Random, half_size: int, narrowest: int, kind: str) -> Border:
    thin = max(3, 2 * narrowest - 1)
    if kind == "trail":
        width = int(rng.integers(thin, thin + 3))
        return Border(kind, width, (width,))
    if kind == "double trail":
        return Border(kind, 2 * thin + 4, (thin,))
    if kind == "zigzag":
        height = int(rng.integers(3, max(4, min(9, half_size // 4)) + 1))
        width = int(rng.integers(thin + 1, thin + 4))
        flat = int(rng.choice((0, 0, 2, 4)))
        return Border(kind, height + width, (height, width, flat))
    if kind == "diamonds":
        size = max(narrowest, int(rng.integers(2, 5)))
        return Border(kind, 2 * size, (size,))
    if kind == "angles":
        width = int(rng.integers(thin + 1, thin + 4))
        return Border(kind, width + 1, (width, int(rng.integers(half_size // 3, half_size))))
    return Border("open", 0)


def lay_border(canvas: Canvas, border: Border, rng: Random, manner: Proportions) -> None:
    """Lay the border; one that cannot be worked here is replaced by a row of diamonds."""
    piece = canvas.piece
    outer = canvas.outer
    laid = border.kind == "open"
    if border.kind == "trail":
        laid = _lay_trail(canvas, outer, border.values[0])
    elif border.kind == "double trail":
        width = border.values[0]
        laid = _lay_trail(canvas, outer, width) and _lay_trail(canvas, outer - width - 3, width)
    elif border.kind == "zigzag":
        laid = _lay_zigzag(canvas, outer, border.values, rng)
    elif border.kind == "angles":
        width, arm = border.values
        laid = any(canvas.add("corner", parts.corner_angle(piece, outer, width, arm + more)) for more in (0, 1, 2, 3))
    if not laid or border.kind == "diamonds":
        size = border.values[0] if border.kind == "diamonds" else manner.size
        row_of_diamonds(canvas, rng, outer - size + 1, size, manner)


def _lay_trail(canvas: Canvas, outer: int, width: int) -> bool:
    return any(canvas.add("border", parts.square_ring(canvas.piece, outer - inwards, width)) for inwards in (0, 1, 2))


def _lay_zigzag(canvas: Canvas, outer: int, values: tuple[int, ...], rng: Random) -> bool:
    height, width, flat = values
    period = 2 * (height + flat)
    # A turn at the middle of the side, and as nearly as possible one at the corner.
    starts = [0, period // 2]
    rng.shuffle(starts)
    for radius in (outer, outer - 1, outer - 2):
        for phase in (*starts, *(p for p in range(period) if p not in starts)):
            if canvas.add("border", parts.zigzag_ring(canvas.piece, radius, height, width, flat, phase)):
                return True
    return False
