"""From a reading to a strip that can be worked, judged by the check."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from constraints.check import Finding, check
from constraints.edging import Headside
from constraints.forms import Strip, pairs_needed
from constraints.lattice import Point
from constraints.layout import locate
from constraints.piece import ACROSS, NO_EDGE, Piece
from constraints.repeats import blocks_of, unrolled
from constraints.square import FieldFilling, Square
from constraints.stitches import FILLINGS, SPIDER, STITCHES
from explore.redrafting.bed import Bed
from explore.redrafting.headsides import strip_piece
from explore.redrafting.readings import Reading
from explore.redrafting.repeat import Repeat

_NARROWEST, _MARGIN = 2, 1


def strip_bed(repeat: Repeat, headside: Headside | None) -> Bed:
    """The bed of one repeat of a strip: blocks keep off its edges and off its headside."""
    piece = strip_piece(repeat, headside)
    beside = np.append(piece.fan, False)[piece.neighbours].any(axis=1)
    ground = ~piece.fan
    return Bed(
        places=_points(piece, ground),
        pinned=frozenset(repeat.pinholes) & _points(piece, ground),
        centres=frozenset(repeat.centres),
        barred=_points(piece, ground & (beside | (piece.edge != NO_EDGE))),
        rows=repeat.rows,
    )


def _points(piece: Piece, which: Any) -> frozenset[Point]:
    return frozenset((x, y) for x, y in piece.pinholes[which].tolist())


def strip_of(
    reading: Reading,
    repeat: Repeat,
    headside: Headside | None,
    *,
    repeats: int,
    pitch_mm: float,
    stitch: str,
    passives: int,
) -> Square:
    """The strip of a reading: all its blocks in one stitch, the headside in its own."""
    form = Strip(repeat.columns, repeat.rows, repeats, headside)
    piece = form.repeat()
    stitches = np.full(len(piece), -1)
    names = list(STITCHES)
    for block in reading.blocks:
        stitches[locate(piece, np.array(sorted(block)))] = names.index(stitch)
    if headside is not None:
        stitches[piece.fan] = names.index(headside.stitch)
    pairs = pairs_needed(form, ACROSS, passives)
    brief: Mapping[str, Any] = {"pairs": pairs, "narrowest": _NARROWEST, "margin": _MARGIN, "splits": reading.splits}
    once = Square(
        number=1,
        form=form,
        pitch_mm=pitch_mm,
        worked=ACROSS,
        symmetry="none",
        passives=passives,
        pairs=pairs,
        splits=reading.splits,
        blocks=blocks_of(piece, stitches),
        fillings=_fillings(reading.spiders),
        stamp=None,
        seed=0,
        brief=brief,
    )
    return unrolled(once, form)


def _fillings(spiders: Sequence[tuple[Point, int]]) -> tuple[FieldFilling, ...]:
    words = FILLINGS[SPIDER].words
    return tuple(
        FieldFilling(words, tuple(centre for centre, own in spiders if own == legs), legs)
        for legs in sorted({legs for _, legs in spiders})
    )


def faults(square: Square) -> list[Finding]:
    """What the check holds against a strip; empty if it can be worked."""
    return check(square)
