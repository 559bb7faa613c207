"""From the values of a formula to a Square."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from constraints import forms
from constraints.design import Design, Print
from constraints.encoding import decode
from constraints.forms import Form
from constraints.formula import truth
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.rules.one_worker import notches
from constraints.variables import Model


def finish(
    model: Model,
    values: BoolArray,
    *,
    pitch_mm: float,
    pairs: int,
    stamp: Print | None,
    brief: Mapping[str, Any],
    composition: str,
    form: Form | None = None,
) -> Design:
    """The square that these values describe, not yet numbered. form: None for a plain square; of a strip the values
    describe one repeat."""
    piece = model.piece
    blocks, fillings = decode(model, values)
    return Design(
        number=0,
        form=form or forms.Square(int(piece.pinholes.max())),
        pitch_mm=pitch_mm,
        worked=piece.worked,
        symmetry=piece.symmetry,
        passives=model.brief.passives,
        pairs=pairs,
        splits=splits(piece, truth(values, model.block), model.brief.corners),
        blocks=blocks,
        fillings=fillings,
        stamp=stamp,
        seed=model.brief.seed,
        brief=brief,
        composition=composition,
    )


def splits(piece: Piece, block: BoolArray, corners: str) -> int:
    """How often a block splits or merges over the whole piece. corners: as in the brief."""
    inside, missing = notches(piece, corners)
    return int((block[inside].all(axis=1) & ~block[missing]).sum())
