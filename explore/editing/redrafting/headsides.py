"""Which headside the pinholes of a strip allow: none, a fan, a scallop or a ground scallop, where and how deep."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from constraints.edging import DEPTHS, FAN, GROUND_SCALLOP, MOST_AT_VALLEY, POINTED, SCALLOP, Headside, depths, pairs_of
from constraints.forms import Strip
from constraints.lattice import BoolArray, Point
from constraints.piece import Piece
from constraints.stitches import CLOTH, HALF
from explore.editing.redrafting.edges import shape_of
from explore.editing.redrafting.repeat import Repeat


def possible(repeat: Repeat, stitch: str | None = None, at_valley: int | None = None) -> list[Headside | None]:
    """All headsides with which the pins of a repeat agree, likeliest first; None stands for a straight edge.

    Judged by the pins of the grid; then by how many stand outside it: a scallop has one for every row, a fan
    one for every row but that of its valley. stitch, at_valley: as she says, else cloth for fans, half stitch
    for scallops; as many pairs at the valley of a scallop as its depth has rows twice, like the six of the edging
    of 1886 (Dillmont, fig. 799). Empty if none agrees.
    """
    if repeat.edging is not None:
        own = repeat.edging
        pairs = at_valley if at_valley and own.kind != FAN else own.pairs
        return [replace(own, stitch=stitch or own.stitch if own.solid else "", pairs=pairs)]
    found: list[tuple[int, int, Headside | None]] = []
    pinned = set(repeat.pinholes)
    if _straight(repeat):
        found.append((len(repeat.headside), 0, None))
    for depth in DEPTHS:
        if repeat.rows % (2 * depth):
            continue
        for kind in (SCALLOP, FAN):
            for first in range(2 * depth):
                if (repeat.columns - 1 + first) % 2 != 1:
                    continue
                pairs = POINTED if kind == FAN else at_valley or min(MOST_AT_VALLEY, max(POINTED + 1, 2 * depth))
                headside = Headside(kind, stitch or (CLOTH if kind == FAN else HALF), depth, pairs, first)
                if _agrees(repeat, headside, pinned):
                    expected = repeat.rows - (repeat.rows // (2 * depth) if kind == FAN else 0)
                    # Without pins outside, a scallop may have lost them in the writing down; it has none on the grid.
                    away = abs(len(repeat.headside) - expected) if repeat.headside else int(kind == FAN)
                    found.append((away, len(found), headside))
    ordered = [headside for _, _, headside in sorted(found, key=lambda each: each[:2])]
    return [*ordered, *_ground_scallops(repeat, at_valley)]


def _ground_scallops(repeat: Repeat, at_valley: int | None) -> list[Headside]:
    """Those that the pins allow: a straight edge of ground with a figure in every scallop looks the same."""
    pins = {*repeat.pinholes, *repeat.centres}
    edge, found = repeat.columns - 1, []
    for depth in depths(GROUND_SCALLOP):
        for first in range((edge + 1) % 2, 2 * depth, 2) if repeat.rows % (2 * depth) == 0 else ():
            headside = Headside(GROUND_SCALLOP, "", depth, at_valley or pairs_of(GROUND_SCALLOP)[0], first)
            shape = shape_of(replace(headside, pairs=pairs_of(GROUND_SCALLOP)[0]))
            valleys = range(first, first + repeat.rows, headside.period)
            own = {
                (edge + round(x), (valley + round(y)) % repeat.rows)
                for x, y in shape.places.tolist()
                for valley in valleys
            }
            rows = np.arange(repeat.rows, dtype=np.float64)
            inner = dict(zip(rows.tolist(), (edge - shape.inner(rows - first)).tolist(), strict=True))
            if own == {(x, y) for x, y in pins if x >= inner[y]}:
                found.append(headside)
    return found


def strip_piece(repeat: Repeat, headside: Headside | None) -> Piece:
    """One repeat as a piece that meets itself."""
    return Strip(repeat.columns, repeat.rows, 2, headside, repeat.both).repeat()


def _straight(repeat: Repeat) -> bool:
    """Whether most of the outermost column is pinned."""
    edge = repeat.columns - 1
    pins = sum(column == edge for column, _ in repeat.pinholes)
    return 2 * pins > repeat.rows / 2


def _agrees(repeat: Repeat, headside: Headside, pinned: set[Point]) -> bool:
    """Whether its inner border is pinned, its inside is not, and a pin stands in every valley."""
    piece = strip_piece(repeat, headside)
    fan = np.append(piece.fan, False)
    border: BoolArray = np.logical_not(fan[piece.neighbours].all(axis=1))
    at_edge = piece.pinholes[:, 0] == repeat.columns - 1
    valley = at_edge & (piece.pinholes[:, 1] % headside.period == headside.first % headside.period)
    there = np.array([(x, y) in pinned for x, y in piece.pinholes.tolist()], dtype=np.bool_)
    # Pins of the outer side may stand on the grid or be curved off it.
    told = ~at_edge & piece.fan
    return bool((there[told] == border[told]).all() and there[valley].all())
