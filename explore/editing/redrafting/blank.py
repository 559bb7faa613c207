"""A strip of plain ground with its edges, as it is to be worked: what readings are laid on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from constraints.design import Design
from constraints.edgings.own_figures import Fillings, with_own
from constraints.forms import Strip
from constraints.lattice import Point
from constraints.layout import blocks_of, locate
from constraints.piece import ACROSS
from constraints.repeats import unrolled
from constraints.stitches import CLOTH, NUMBERS

_NARROWEST, _MARGIN = 2, 1


@dataclass(frozen=True)
class StripWorking:
    """How a strip is to be worked: what pinholes do not say. kind: of the headside, or a footside; None for any."""

    repeats: int = 4
    pitch_mm: float = 5.0
    stitch: str = CLOTH
    passives: int = 0
    kind: str | None = None
    at_valley: int | None = None


USUAL = StripWorking()


def blank(
    form: Strip,
    working: StripWorking = USUAL,
    blocks: tuple[frozenset[Point], ...] = (),
    fillings: Fillings = (),
    splits: int = 0,
) -> Design:
    """A strip with blocks in one stitch and figures of one repeat, its headside in its own."""
    piece = form.repeat()
    stitches = np.full(len(piece), -1)
    for block in blocks:
        stitches[locate(piece, np.array(sorted(block)))] = NUMBERS[working.stitch]
    if form.headside is not None and form.headside.solid:
        stitches[piece.fan] = NUMBERS[form.headside.stitch]
    pairs = form.pairs(ACROSS, working.passives)
    brief: Mapping[str, Any] = {"pairs": pairs, "narrowest": _NARROWEST, "margin": _MARGIN, "splits": splits}
    once = Design(
        number=1,
        form=form,
        pitch_mm=working.pitch_mm,
        worked=ACROSS,
        symmetry="none",
        passives=working.passives,
        pairs=pairs,
        splits=splits,
        blocks=blocks_of(piece, stitches),
        fillings=with_own(fillings, piece),
        prints=(),
        seed=0,
        brief=brief,
    )
    return unrolled(once, form)
