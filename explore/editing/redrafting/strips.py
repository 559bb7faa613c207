"""From a reading to a strip that can be worked, judged by the check."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from constraints.design import Design, FieldFilling
from constraints.edgings import Headside
from constraints.edgings.dressing import figures
from constraints.fillings import UNITS
from constraints.forms import Strip
from constraints.lattice import Point
from constraints.piece import NO_EDGE, Piece
from explore.editing.redrafting.bed import Bed
from explore.editing.redrafting.blank import StripWorking, blank
from explore.editing.redrafting.headsides import strip_piece
from explore.editing.redrafting.readings import BlockReading
from explore.editing.redrafting.repeat import Repeat


def strip_bed(repeat: Repeat, headside: Headside | None) -> Bed:
    """The bed of one repeat of a strip: blocks keep off its edges and off its headside."""
    piece = strip_piece(repeat, headside)
    beside = np.append(piece.fan, False)[piece.neighbours].any(axis=1)
    ground = ~piece.held
    return Bed(
        places=_points(piece, ground),
        pinned=frozenset(repeat.pinholes),
        centres=frozenset(repeat.centres) - {(x, y) for x, y in figures(piece).tolist()},
        barred=_points(piece, ground & (beside | (piece.edge != NO_EDGE))),
        rows=repeat.rows,
    )


def _points(piece: Piece, which: Any) -> frozenset[Point]:
    return frozenset((x, y) for x, y in piece.pinholes[which].tolist())


def strip_of(reading: BlockReading, repeat: Repeat, headside: Headside | None, working: StripWorking) -> Design:
    """The strip of a reading: all its blocks in one stitch, the headside in its own."""
    form = Strip(repeat.columns, repeat.rows, working.repeats, headside, repeat.both)
    return blank(form, working, reading.blocks, _fillings(reading.figures), reading.splits)


def _fillings(held: Sequence[tuple[Point, str]]) -> tuple[FieldFilling, ...]:
    return tuple(
        FieldFilling(name, tuple(centre for centre, own in held if own == name))
        for name in UNITS
        if any(own == name for _, own in held)
    )
