"""Strips, frames and squares with a headside, put together by hand for tests."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
from designs import BRIEF, Points

from constraints.design import Design, FieldFilling
from constraints.edgings import Scallop
from constraints.forms import Form, Frame, Strip
from constraints.layout import blocks_of, locate
from constraints.repeats import unrolled
from constraints.stitches import NUMBERS

SCALLOP_OF_1886 = Scallop("half", 3, 6, 3)


def strip(
    form: Strip,
    *parts: tuple[str, Points] | FieldFilling,
    symmetry: str = "none",
    passives: int = 0,
    brief: dict[str, Any] | None = None,
) -> Design:
    """A strip from blocks and fillings of one repeat; its headside is worked as it says."""
    return unrolled(_listed(form, form.repeat(symmetry), "across", parts, symmetry, passives, brief), form)


def worked_round(
    form: Form,
    *parts: tuple[str, Points] | FieldFilling,
    symmetry: str = "none",
    passives: int = 0,
    brief: dict[str, Any] | None = None,
) -> Design:
    """A frame or a square from blocks and fillings; its headside is worked as it says."""
    return _listed(form, form.piece("round", symmetry), "round", parts, symmetry, passives, brief)


def worked_across(
    form: Form,
    *parts: tuple[str, Points] | FieldFilling,
    symmetry: str = "none",
    passives: int = 0,
    brief: dict[str, Any] | None = None,
) -> Design:
    """A square or a rectangle from blocks and fillings, worked from its top to its bottom."""
    return _listed(form, form.piece("across", symmetry), "across", parts, symmetry, passives, brief)


def _listed(
    form: Form,
    piece: Any,
    worked: str,
    parts: Iterable[tuple[str, Points] | FieldFilling],
    symmetry: str,
    passives: int,
    brief: dict[str, Any] | None,
) -> Design:
    stitch = np.full(len(piece), -1)
    for part in parts:
        if not isinstance(part, FieldFilling):
            where = locate(piece, np.array(sorted(part[1])))
            assert (where >= 0).all()
            stitch[where] = NUMBERS[part[0]]
    if form.headside is not None and form.headside.solid:
        stitch[piece.fan] = NUMBERS[form.headside.stitch]
    return Design(
        number=1,
        form=form,
        pitch_mm=5.0,
        worked=worked,
        symmetry=symmetry,
        passives=passives,
        pairs=form.pairs(worked, passives),
        splits=0,
        blocks=blocks_of(piece, stitch),
        fillings=tuple(part for part in parts if isinstance(part, FieldFilling)),
        prints=(),
        seed=1,
        brief=BRIEF if brief is None else {**BRIEF, **brief},
    )


FRAME = Frame(20, 26, 12)
