"""The stitches of blocks as data: a block is worked in one stitch. What fills the open fields is told in `fillings`.

The moves are common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass

from constraints.colours import Colour

CLOTH, HALF, WHOLE = "cloth", "half", "whole"

GROUND = "torchon ground"


@dataclass(frozen=True)
class Stitch:
    """A stitch that fills a block.

    moves: as crosses (C, left over right) and twists (T, right over left). colour: by which drawings tell it.
    """

    name: str
    words: str
    moves: str
    colour: Colour


STITCHES = {
    CLOTH: Stitch(CLOTH, "cloth stitch", "CTC", Colour.PURPLE),
    HALF: Stitch(HALF, "half stitch", "CT", Colour.GREEN),
    WHOLE: Stitch(WHOLE, "whole stitch", "CTCT", Colour.RED),
}

# By their numbers arrays tell them apart.
NAMES = tuple(STITCHES)
NUMBERS = {name: number for number, name in enumerate(NAMES)}
