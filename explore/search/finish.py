"""From the values of a formula to a Design."""

from __future__ import annotations

from collections.abc import Sequence

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
    form: Form,
    pitch_mm: float,
    passives: int,
    seed: int,
    prints: Sequence[Print],
    composition: str,
) -> Design:
    """The design that these values describe, not yet numbered; of a strip they describe one repeat."""
    piece = model.piece
    blocks, fillings = decode(model, values)
    return Design(
        number=0,
        form=form,
        pitch_mm=pitch_mm,
        worked=piece.worked,
        symmetry=piece.symmetry,
        passives=passives,
        pairs=form.pairs(piece.worked, passives),
        splits=splits(piece, truth(values, model.block), model.rules.corners),
        blocks=blocks,
        fillings=fillings,
        # A file has room for one.
        stamp=next(iter(prints), None),
        seed=seed,
        brief=model.rules.told(),
        composition=composition,
    )


def splits(piece: Piece, block: BoolArray, corners: str) -> int:
    """How often a block splits or merges over the whole piece. corners: as in the brief."""
    inside, missing = notches(piece, corners)
    return int((block[inside].all(axis=1) & ~block[missing]).sum())
