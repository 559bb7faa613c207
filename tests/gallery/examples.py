"""Squares made by hand from lattice shapes, for drawings to be tried on. No search is involved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache

import numpy as np

from constraints import forms
from constraints import piece as pieces
from constraints.design import Block, Design, FieldFilling, Print
from constraints.forms import Square
from constraints.lattice import BoolArray, IntArray
from constraints.layout import components, locate
from constraints.symmetry import matrices

Shape = Callable[[IntArray, IntArray], BoolArray]


def diamond(cx: int, cy: int, side: int) -> Shape:
    """A lattice square with `side` pinholes a side round (cx, cy)."""
    return lambda x, y: np.abs(x - cx) + np.abs(y - cy) <= side - 1


def band(outer: int, inner: int) -> Shape:
    """A square trail between two distances from the centre."""
    return lambda x, y: (np.maximum(np.abs(x), np.abs(y)) <= outer) & (np.maximum(np.abs(x), np.abs(y)) >= inner)


def ring(outer: int, inner: int) -> Shape:
    """A trail standing on its point round the centre."""
    return lambda x, y: (np.abs(x) + np.abs(y) <= outer) & (np.abs(x) + np.abs(y) >= inner)


def bar(x0: int, y0: int, along: int, width: int) -> Shape:
    """A slanting bar falling to the right from its top pinhole (x0, y0)."""

    def shape(x: IntArray, y: IntArray) -> BoolArray:
        u, v = (x - x0 + y - y0) // 2, (y - y0 - x + x0) // 2
        return (u >= 0) & (u < along) & (v >= 0) & (v < width)

    return shape


def make(
    half_size: int,
    blocks: Sequence[tuple[str, Shape]],
    *,
    number: int = 1,
    worked: str = "round",
    symmetry: str = "full",
    rose: Shape | None = None,
    alignment: tuple[int, int] = (0, 0),
    spiders: Sequence[tuple[int, Shape]] = (),
    double: Shape | None = None,
    passives: int = 1,
    splits: int = 0,
    stamp: Print | None = None,
) -> Design:
    """A square from shapes; each shape is repeated by the symmetry, later blocks lie on top of earlier ones.

    Fillings take the places that fit inside their shape; spiders stand as close as they may.
    """
    piece = Square(half_size).piece(worked, symmetry)
    x, y = piece.pinholes.T
    stitch = np.full(len(piece), -1)
    names = [name for name, _ in blocks]
    for number_of, (_, shape) in enumerate(blocks):
        stitch[_repeated(shape, x, y, symmetry) & (piece.depth >= 2)] = number_of
    label = components(piece.neighbours, stitch)
    made = [
        Block(names[stitch[first]], _points(piece.pinholes[label == first])) for first in np.unique(label) if first >= 0
    ]
    free = (stitch < 0) & (piece.depth >= 1)
    fillings = []
    for legs, shape in spiders:
        centres = _spiders(piece, free, legs, shape, symmetry)
        if centres:
            fillings.append(FieldFilling(f"spider-{legs}", centres))
    if rose is not None:
        centres = _roses(piece, free, rose, alignment, symmetry)
        if centres:
            fillings.append(FieldFilling("rose", centres))
    if double is not None:
        chosen = free & _repeated(double, x, y, symmetry)
        fillings.append(FieldFilling("double-ground", _points(piece.pinholes[chosen])))
    pairs = half_size + 1 + passives if worked == "round" else 2 * half_size + 2 * (1 + passives)
    return Design(
        number=number, form=forms.Square(half_size), pitch_mm=5.0, worked=worked, symmetry=symmetry, passives=passives,
        pairs=pairs, splits=splits, blocks=tuple(sorted(made, key=lambda b: b.pinholes)),
        fillings=tuple(fillings), prints=() if stamp is None else (stamp,), seed=1, brief={},
    )  # fmt: skip


def _repeated(shape: Shape, x: IntArray, y: IntArray, symmetry: str) -> BoolArray:
    held = np.zeros(x.shape, dtype=np.bool_)
    for (a, b), (c, d) in matrices(symmetry).tolist():
        held |= shape(a * x + b * y, c * x + d * y)
    return held


def _points(places: IntArray) -> tuple[tuple[int, int], ...]:
    return tuple(sorted(((a, b) for a, b in places.tolist()), key=lambda p: (p[1], p[0])))


def _figure(piece: pieces.Piece, centre: IntArray, size: int) -> IntArray:
    span = np.arange(-(size - 1), size)
    dx, dy = (each.ravel() for each in np.meshgrid(span, span))
    inside = (np.abs(dx) + np.abs(dy) <= size - 1) & ((dx + dy + size - 1) % 2 == 0)
    return locate(piece, centre + np.stack([dx[inside], dy[inside]], axis=1))


def _fits(piece: pieces.Piece, free: BoolArray, places: IntArray) -> bool:
    return bool((places >= 0).all() and free[places].all() and len(np.unique(piece.zone[places])) == 1)


def _roses(
    piece: pieces.Piece, free: BoolArray, shape: Shape, alignment: tuple[int, int], symmetry: str
) -> tuple[tuple[int, int], ...]:
    span = np.arange(-piece.depth.max(), piece.depth.max() + 1)
    x, y = (each.ravel() for each in np.meshgrid(span, span))
    aligned = ((x + y) % 2 == 0) & ((x + y) // 2 % 2 == alignment[0]) & ((y - x) // 2 % 2 == alignment[1])
    found = []
    for centre in np.stack([x, y], axis=1)[aligned & _repeated(shape, x, y, symmetry)]:
        places = _figure(piece, centre, 2)
        if _fits(piece, free, places):
            free[places] = False
            found.append(centre)
    return _points(np.array(found, dtype=np.int64).reshape(-1, 2))


def _spiders(
    piece: pieces.Piece, free: BoolArray, legs: int, shape: Shape, symmetry: str
) -> tuple[tuple[int, int], ...]:
    """Spiders greedily from the middle outwards, all images of a place or none; rings may be shared."""
    size = legs // 4
    span = np.arange(-piece.depth.max(), piece.depth.max() + 1)
    x, y = (each.ravel() for each in np.meshgrid(span, span))
    right = (x + y + size) % 2 == 0
    points = np.stack([x, y], axis=1)[right & _repeated(shape, x, y, symmetry)]
    points = points[np.lexsort((points[:, 0], points[:, 1], np.abs(points).sum(axis=1)))]
    ring = np.zeros(len(piece), dtype=np.bool_)
    bodies = ring.copy()
    found: list[tuple[int, int]] = []
    for centre in points:
        images = np.unique(matrices(symmetry) @ centre, axis=0)
        places = np.array([_figure(piece, each, size) for each in images])
        if not all(_fits(piece, free, each) for each in places) or len(np.unique(places)) < places.size:
            continue
        around = np.concatenate([np.setdiff1d(piece.neighbours[each], each) for each in places])
        if (around < 0).any() or ring[places].any() or bodies[around].any() or np.isin(around, places).any():
            continue
        free[places] = False
        bodies[places] = ring[around] = True
        found += [(int(a), int(b)) for a, b in images]
    return _points(np.array(found, dtype=np.int64).reshape(-1, 2))


# --- a shelf of squares ---------------------------------------------------------------------------------


def gallery_of(count: int, half_size: int, worked: str = "round") -> list[Design]:
    """`count` different squares of one half-size, in all stitches and fillings."""
    return [_example(i, half_size, worked) for i in range(count)]


@cache
def _example(i: int, half_size: int, worked: str) -> Design:
    return _STYLES[i % len(_STYLES)](half_size, i, worked)


def _medallion(n: int, i: int, worked: str) -> Design:
    r = n // 2 + i % 3
    blocks = [("cloth", band(n - 3, n - 6)), ("half" if i % 2 else "cloth", diamond(0, 0, r // 2 * 2))]
    return make(
        n, blocks, number=i + 1, worked=worked, alignment=(1, 1),
        rose=lambda x, y: np.maximum(abs(x), abs(y)) < n - 7,
    )  # fmt: skip


def _diamonds(n: int, i: int, worked: str) -> Design:
    k = 4 + i % 2
    blocks = [
        ("cloth", diamond(0, 0, k + 2 + k % 2)), ("cloth", diamond(2 * k + 2, 0, k - k % 2 + 1 + 0)),
        ("half", diamond(k + 3, k + 3, k - k % 2)), ("whole", diamond(n - k - 2, n - k - 2, k - k % 2)),
    ]  # fmt: skip
    return make(n, blocks, number=i + 1, worked=worked, spiders=[(8, lambda x, y: abs(x) + abs(y) > n // 2)])


def _corner(n: int, i: int, worked: str) -> Design:
    k = n // 3 // 2 * 2
    blocks = [
        ("cloth", ring(n - 3, n - 7)),
        ("whole", diamond(n - k - 3, n - k - 3, k)),
        ("cloth", diamond(0, 0, 4)),
    ]
    legs = (8, 12, 16)[i % 3]
    return make(n, blocks, number=i + 1, worked=worked, spiders=[(legs, lambda x, y: abs(x) + abs(y) < n - 7)])


def _bars(n: int, i: int, worked: str) -> Design:
    long = n // 2
    blocks = [("cloth", bar(4, 5, long - 2, 3)), ("cloth", bar(-long - 1, -long, 3, long - 2)),
              ("half", diamond(0, 0, 4))]  # fmt: skip
    return make(
        n, blocks, number=i + 1, worked=worked, symmetry="quarter-turn",
        double=lambda x, y: abs(x) + abs(y) < n // 2, passives=2,
        rose=lambda x, y: (abs(x) > n // 3) & (abs(x) > abs(y)), alignment=(i % 2, 1),
    )  # fmt: skip


_STYLES = (_medallion, _diamonds, _corner, _bars)
