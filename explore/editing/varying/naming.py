"""Parts of a piece in her words: what a block is called, how wide it is, and where it lies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from constraints.forms import Form
from constraints.lattice import BoolArray, IntArray
from constraints.layout import components
from constraints.piece import Piece

# Shares of the half-size: how far the centre, the middle part and the corners and sides reach.
_CENTRE, _MIDDLE, _RIM = 0.12, 0.45, 0.8
# A place is in a corner if its lesser coordinate is at least this share of the greater, at a side below that.
_CORNER, _SIDE = 0.6, 0.3
# Across a strip the middle reaches so far to either side.
_BESIDE = 0.2
_CORNERS = (("top left", -1, -1), ("top right", 1, -1), ("bottom left", -1, 1), ("bottom right", 1, 1))
_SIDES = (("left", -1, 0), ("right", 1, 0), ("top", 0, -1), ("bottom", 0, 1))


@dataclass(frozen=True)
class Whereabouts:
    """Where a part lies. phrase: after a noun ("at the sides"). field: the words for a field there."""

    phrase: str
    field: str


def whereabouts(points: list[tuple[float, float]], form: Form, closed: bool) -> Whereabouts:
    """Where parts with these middles lie; closed: it goes round the centre, at this distance in x of the first, or all
    along a strip."""
    if form.repeating:
        return _along(points, form, closed)
    half_size = float(form.half_side)
    wide, high = (half_size / (side / 2) for side in (form.width, form.height))
    points = [(x * wide, y * high) for x, y in points]
    if closed:
        if points[0][0] >= _RIM * half_size:
            return Whereabouts("along the edge", "edge")
        return Whereabouts(f"round the {'opening' if form.has_opening else 'centre'}", "ring-shaped")
    far = max(max(abs(x), abs(y)) for x, y in points)
    near = max(min(abs(x), abs(y)) for x, y in points)
    if far <= _CENTRE * half_size:
        return Whereabouts("in the centre", "centre")
    quarters = _named(points, _CORNERS)
    around = quarters == ""
    if near >= _CORNER * far:
        if far < _MIDDLE * half_size:
            words = "on the corner lines near the centre" if around else f"{quarters} of the centre"
            return Whereabouts(words, "inner corner")
        words = f"in the {quarters} corner{'s' if len(points) > 1 else ''}"
        return Whereabouts("in the corners" if around else words, f"{quarters} corner".strip())
    if near <= _SIDE * far:
        sides = _named(points, _SIDES)
        if far < _MIDDLE * half_size:
            return Whereabouts(f"{sides} of the centre" if sides else "round the centre", "inner side")
        return Whereabouts(f"at the {sides}" if sides else "at the sides", f"{sides} side".strip())
    where = f"towards the {quarters}" if quarters else "between corners and sides"
    if far < _MIDDLE * half_size:
        return Whereabouts(f"near the centre, {where}" if quarters else "about the centre", "inner")
    return Whereabouts(where, "outer")


def _along(points: list[tuple[float, float]], form: Form, closed: bool) -> Whereabouts:
    """Where parts lie across a strip; closed: they run along it."""
    shares = [(x - form.to_middle) / form.to_middle for x, _ in points]
    aside = [share for share in shares if abs(share) > _BESIDE]
    if not aside:
        return Whereabouts("along the middle" if closed else "in the middle", "middle")
    if len(aside) < len(shares):
        return Whereabouts("in the middle and at the sides", "outer")
    sides = {"left" if share < 0 else "right" for share in aside}
    if len(sides) > 1:
        return Whereabouts("along both sides" if closed else "at both sides", "side")
    side = sides.pop()
    return Whereabouts(f"along the {side}" if closed else f"at the {side}", side)


def _named(points: list[tuple[float, float]], names: tuple[tuple[str, int, int], ...]) -> str:
    """The directions in which the points lie, each once; "" if they lie in all four."""
    found: dict[str, None] = {}
    for x, y in points:
        found[max(names, key=lambda name: name[1] * x + name[2] * y)[0]] = None
    if len(found) == len(names):
        return ""
    for half in ("top", "bottom", "left", "right"):
        if len(found) > 1 and all(half in name for name in found):
            return half
    return " and ".join(found)


def blocks_within(piece: Piece, places: BoolArray) -> list[IntArray]:
    """The connected blocks of a part, each as indices of its pinholes."""
    numbers = components(piece.neighbours, np.where(places, 0, -1))
    return [np.flatnonzero(numbers == number) for number in np.unique(numbers[places]).tolist()]


def closed(piece: Piece, block: IntArray) -> bool:
    """Whether a block goes round the centre, or an opening, without holding it, or all along a strip."""
    held = np.zeros(len(piece), dtype=np.bool_)
    held[block] = True
    x, y = piece.pinholes[block].T
    if rows := piece.setting.wrap.rows:
        return len(np.unique(y)) == rows
    if (np.abs(x) + np.abs(y)).min() <= 1:
        return False
    apart = components(piece.neighbours, np.where(held, -1, 0))
    centre = int((np.abs(piece.pinholes).sum(axis=1)).argmin())
    return bool(apart[centre] != apart[int(piece.depth.argmin())])


def width(piece: Piece, places: BoolArray) -> int:
    """The side of the largest lattice square of pinholes within a part, 0 without any."""
    size = 0
    while places[piece.lattice_squares(size + 1)].all(axis=1).any():
        size += 1
    return size


def noun(piece: Piece, block: IntArray, several: bool) -> str:
    """What a block is called: a diamond, a bar, a trail (also one that closes round the centre), or a block."""
    x, y = piece.unfolded(block).T
    falling, rising = np.ptp(x + y) // 2 + 1, np.ptp(y - x) // 2 + 1
    name = "trail"
    if falling * rising == len(block):
        name = "diamond" if falling == rising else "bar"
    held = np.zeros(len(piece), dtype=np.bool_)
    held[block] = True
    if name == "trail" and not closed(piece, block) and len(block) < 3 * width(piece, held) ** 2:
        name = "block"
    return name + ("s" if several else "")


def middle(points: IntArray) -> tuple[float, float]:
    """The middle of points (k, 2), in lattice units."""
    x, y = points.mean(axis=0).tolist()
    return float(x), float(y)


def part_at(form: Form, piece: Piece, places: BoolArray) -> tuple[str, str]:
    """The noun of a part and the phrase for where it lies. piece: what is composed of the form."""
    blocks = blocks_within(piece, places)
    rings = [closed(piece, block) for block in blocks]
    points = [middle(piece.pinholes[block]) for block in blocks]
    if rings[0] and not form.repeating:
        points = [(float(np.abs(piece.pinholes[blocks[0]])[:, 0].max()), 0.0)]
    return noun(piece, blocks[0], len(blocks) > 1), whereabouts(points, form, rings[0]).phrase
