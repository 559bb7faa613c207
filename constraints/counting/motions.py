"""Motions of a piece: the turns, reflections and shifts that take it to itself, and the groups they form."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from constraints.lattice import Grid, IntArray, Matrix, Point, Wrap
from constraints.piece import Piece
from constraints.symmetry import SYMMETRIES, Setting

# A matrix, and the shift after it.
Motion = tuple[Matrix, Point]
Group = frozenset[Motion]

STAYING: Matrix = ((1, 0), (0, 1))
_EIGHT: tuple[Matrix, ...] = SYMMETRIES["full"]


def of_piece(piece: Piece) -> tuple[Motion, ...]:
    """Every motion that moves the pinholes of a piece, and what its headside takes, onto themselves; the identity
    first. Of a repeat that meets itself shifts along it too."""
    points, rows = piece.pinholes, piece.setting.wrap.rows
    if rows:
        upright = [matrix for matrix in _EIGHT if matrix[0][1] == 0]
        over = int(points[:, 0].min() + points[:, 0].max())
        every = [(matrix, (0 if matrix[0][0] > 0 else over, down)) for matrix in upright for down in range(rows)]
    else:
        every = [(matrix, (0, 0)) for matrix in _EIGHT]
    grid = Grid.of(points)
    kept = []
    for matrix, shift in every:
        found = grid.at(piece.setting.wrap.fold(points @ np.array(matrix).T + np.array(shift)))
        if (found >= 0).all() and (piece.held[found] == piece.held).all() and (piece.fan[found] == piece.fan).all():
            kept.append((matrix, shift))
    return tuple(kept)


def of_setting(setting: Setting, symmetry: str) -> Group:
    """The motions of a named symmetry as it lies on a piece."""
    turns, shifts = setting.affine(symmetry)
    return frozenset(
        (_matrix(turn), _folded(shift, setting.wrap)) for turn, shift in zip(turns, shifts.tolist(), strict=True)
    )


def then(second: Motion, first: Motion, wrap: Wrap) -> Motion:
    """First the one, then the other."""
    (((a, b), (c, d)), (x, y)), (((e, f), (g, h)), (v, w)) = second, first
    turned = ((a * e + b * g, a * f + b * h), (c * e + d * g, c * f + d * h))
    return turned, _folded((a * v + b * w + x, c * v + d * w + y), wrap)


def back(motion: Motion, wrap: Wrap) -> Motion:
    """What undoes a motion."""
    ((a, b), (c, d)), (x, y) = motion
    return ((a, c), (b, d)), _folded((-a * x - c * y, -b * x - d * y), wrap)


def conjugate(group: Group, motion: Motion, wrap: Wrap) -> Group:
    """g h g^-1 for every h of the group."""
    undone = back(motion, wrap)
    return frozenset(then(motion, then(each, undone, wrap), wrap) for each in group)


def groups_above(motions: Sequence[Motion], least: Group, wrap: Wrap) -> list[Group]:
    """Every group of motions that holds the least one, the largest first. motions: a group, the identity first."""
    number = {motion: place for place, motion in enumerate(motions)}
    table = [[number[then(first, second, wrap)] for second in motions] for first in motions]
    begun = frozenset(number[motion] for motion in least)
    generators = {begun: tuple(begun)}
    waiting = [begun]
    while waiting:
        group = waiting.pop()
        for more in range(len(motions)):
            if more not in group:
                larger = _closed((*generators[group], more), table)
                if larger not in generators:
                    generators[larger] = (*generators[group], more)
                    waiting.append(larger)
    found = [frozenset(motions[place] for place in group) for group in generators]
    return sorted(found, key=lambda group: (-len(group), sorted(group)))


def _closed(generators: Iterable[int], table: Sequence[Sequence[int]]) -> frozenset[int]:
    """All products of some motions; in a finite group these are a group."""
    reached, waiting, by = {0}, [0], tuple(generators)
    while waiting:
        one = table[waiting.pop()]
        for more in by:
            if one[more] not in reached:
                reached.add(one[more])
                waiting.append(one[more])
    return frozenset(reached)


def _matrix(turn: IntArray) -> Matrix:
    (a, b), (c, d) = turn.tolist()
    return (a, b), (c, d)


def _folded(shift: Sequence[int], wrap: Wrap) -> Point:
    x, y = shift
    return int(x), int(y % wrap.rows if wrap.rows else y)
