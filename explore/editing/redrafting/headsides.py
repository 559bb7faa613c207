"""Which headside the pinholes of a strip allow: none, a fan, a scallop or a ground scallop, where and how deep."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from constraints.edgings import EDGINGS, Headside
from constraints.forms import Strip
from constraints.lattice import BoolArray
from constraints.piece import Piece
from explore.editing.redrafting.edge_shapes import shape_of
from explore.editing.redrafting.repeat import Repeat


def possible(repeat: Repeat, at_valley: int | None = None) -> list[Headside | None]:
    """All headsides with which the pins of a repeat agree, likeliest first; None stands for a straight edge.

    Judged by the pins of the grid; then by how many stand outside it: a block has one for every row, but for those of
    valleys with a pin. at_valley: pairs, as she says. Those without blocks come last. Empty if none agrees.
    """
    if repeat.edging is not None:
        own = repeat.edging
        return [own if at_valley is None else replace(own, pairs=_nearest(at_valley, own.at_valley))]
    found: list[tuple[int, Headside | None]] = []
    if _straight(repeat):
        found.append((len(repeat.headside), None))
    every = list(_every(repeat, at_valley))
    found += [(_away(repeat, each), each) for each in every if each.solid and _agrees(repeat, each)]
    ordered = [headside for _, headside in sorted(found, key=lambda each: each[0])]
    return [*ordered, *(each for each in every if not each.solid and _shown(repeat, each))]


def _every(repeat: Repeat, at_valley: int | None) -> Iterator[Headside]:
    """Each in every row where a valley may stand, the shallowest first.

    Of those that may have several pairs at the valley blocks have as many as their depth has rows twice, like the six
    of the edging of 1886 (Dillmont, fig. 799).
    """
    kinds = [(depth, kind) for kind in reversed(EDGINGS.values()) for depth in kind.depths]
    for depth, kind in sorted(kinds, key=lambda each: each[0]):
        usual = kind(kind.usual_stitch, depth, kind.at_valley[0])
        pairs = at_valley or (2 * depth if usual.solid else usual.pairs)
        if repeat.rows % usual.period == 0:
            for first in range(repeat.columns % 2, usual.period, 2):
                yield replace(usual, pairs=_nearest(pairs, kind.at_valley), first=first)


def _nearest(pairs: int, allowed: range) -> int:
    return min(max(pairs, allowed[0]), allowed[-1])


def _away(repeat: Repeat, headside: Headside) -> int:
    """By how many its pins outside the grid are more or fewer than they should be."""
    if not repeat.headside:
        # An unbroken one may have lost them in the writing down; it has none on the grid.
        return int(headside.valley_pins)
    valleys = repeat.rows // headside.period if headside.valley_pins else 0
    return abs(len(repeat.headside) - (repeat.rows - valleys))


def _shown(repeat: Repeat, headside: Headside) -> bool:
    """Whether its figures stand along the edge: a straight edge of ground with one between every two valleys looks the
    same."""
    pins, edge, first = {*repeat.pinholes, *repeat.centres}, repeat.columns - 1, headside.first
    shape = shape_of(replace(headside, pairs=headside.at_valley[0]))
    valleys = range(first, first + repeat.rows, headside.period)
    own = {(edge + round(x), (valley + round(y)) % repeat.rows) for x, y in shape.places.tolist() for valley in valleys}
    rows = np.arange(repeat.rows, dtype=np.float64)
    inner = dict(zip(rows.tolist(), (edge - shape.inner(rows - first)).tolist(), strict=True))
    return own == {(x, y) for x, y in pins if x >= inner[y]}


def strip_piece(repeat: Repeat, headside: Headside | None) -> Piece:
    """One repeat as a piece that meets itself."""
    return Strip(repeat.columns, repeat.rows, 2, headside, repeat.both).repeat()


def _straight(repeat: Repeat) -> bool:
    """Whether most of the outermost column is pinned."""
    edge = repeat.columns - 1
    pins = sum(column == edge for column, _ in repeat.pinholes)
    return 2 * pins > repeat.rows / 2


def _agrees(repeat: Repeat, headside: Headside) -> bool:
    """Whether its inner border is pinned, its inside is not, and a pin stands in every valley."""
    piece, pinned = strip_piece(repeat, headside), set(repeat.pinholes)
    fan = np.append(piece.fan, False)
    border: BoolArray = np.logical_not(fan[piece.neighbours].all(axis=1))
    at_edge = piece.pinholes[:, 0] == repeat.columns - 1
    valley = at_edge & (piece.pinholes[:, 1] % headside.period == headside.first % headside.period)
    there = np.array([(x, y) in pinned for x, y in piece.pinholes.tolist()], dtype=np.bool_)
    # Pins of the outer side may stand on the grid or be curved off it.
    told = ~at_edge & piece.fan
    return bool((there[told] == border[told]).all() and there[valley].all())
