"""What is kept of a chosen design: the pinholes whose blocks stay, and those whose fillings stay."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.design import Design
from constraints.lattice import BoolArray
from constraints.piece import Piece
from constraints.places import lie_in_fillings
from explore.asking.names import nearest
from explore.bad_input import BadInput
from explore.editing.varying.families import with_images
from explore.editing.varying.worked import exact

NAMES = ("centre", "corner", "blocks", "fillings", "edge")
ALLOWED = f"{', '.join(NAMES)}, or a box x0,y0:x1,y1 in units (half pitches) from the centre, such as -8,-8:8,8"

_BOX = re.compile(r"\s*(-?[0-9]{1,4})\s*,\s*(-?[0-9]{1,4})\s*:\s*(-?[0-9]{1,4})\s*,\s*(-?[0-9]{1,4})\s*", re.ASCII)
# The edge is this part of the way from the outermost pins to the centre.
_EDGE = 0.25


@dataclass(frozen=True, eq=False)
class Kept:
    """block: (n,) pinholes that stay in a block of their stitch, or outside all blocks. filling: (n,) pinholes
    that stay in the same figure at the same place, in the same ground, or in neither."""

    block: BoolArray
    filling: BoolArray

    @classmethod
    def whole(cls, places: BoolArray) -> Kept:
        """Everything of these places, (n,)."""
        return cls(places, places)


def kept(design: Design, texts: Sequence[str]) -> Kept:
    """What the words or boxes of --keep keep of a square, with all images; nothing without any. Raises BadInput."""
    piece = design.piece()
    found = [_one(design, piece, text) for text in texts]
    nothing = np.zeros(len(piece), dtype=np.bool_)
    block, filling = nothing.copy(), nothing.copy()
    for each in found:
        block |= each.block
        filling |= each.filling
    return Kept(with_images(piece, block), with_images(piece, filling))


def _one(design: Design, piece: Piece, text: str) -> Kept:
    near, far = np.sort(np.abs(piece.pinholes), axis=1).T
    half = design.half_size
    wholes = {
        "centre": far <= half / 2,
        "corner": near >= half / 2,
        "edge": far >= half - _EDGE * half,
    }
    if text in wholes:
        return Kept.whole(wholes[text])
    if text == "blocks":
        return Kept(np.ones(len(piece), dtype=np.bool_), np.zeros(len(piece), dtype=np.bool_))
    if text == "fillings":
        worked = lie_in_fillings(exact(design))
        if not worked.any():
            raise BadInput(f"--keep fillings: square {design.number:02d} has no fillings to keep; {_others(text)}")
        return Kept(worked, worked)
    box = _BOX.fullmatch(text)
    if box is None:
        hint = nearest(text, NAMES)
        raise BadInput(f'--keep is "{_short(text)}"{f" ({hint})" if hint else ""}; allowed: {ALLOWED}')
    inside = _in_box(piece, half, *(int(end) for end in box.groups()))
    return Kept(inside, inside)


def _in_box(piece: Piece, half: int, x0: int, y0: int, x1: int, y1: int) -> BoolArray:
    told = f'--keep is "{x0},{y0}:{x1},{y1}"'
    hint = f"try {_nearest_box(half, x0, y0, x1, y1)}"
    if x0 > x1 or y0 > y1:
        raise BadInput(f"{told} (the box is upside down: its first corner is the top left one); {hint}")
    if max(-x0, -y0, x1, y1) > half:
        raise BadInput(f"{told}, which reaches beyond the square; allowed: x and y from -{half} to {half}; {hint}")
    x, y = piece.pinholes.T
    inside: BoolArray = (x >= x0) & (x <= x1) & (y >= y0) & (y <= y1)
    if not inside.any():
        raise BadInput(f"{told}, where no pinhole lies; pinholes have x + y odd, {hint}")
    return inside


def _nearest_box(half: int, x0: int, y0: int, x1: int, y1: int) -> str:
    """The box within the square, the right way up and with a pinhole in it."""
    (x0, x1), (y0, y1) = (sorted(max(-half, min(half, end)) for end in ends) for ends in ((x0, x1), (y0, y1)))
    if (x0, y0) == (x1, y1) and (x0 + y0) % 2 == 0:
        x0, x1 = (x0, x1 + 1) if x1 < half else (x0 - 1, x1)
    return f"{x0},{y0}:{x1},{y1}"


def _others(text: str) -> str:
    return f"allowed: {', '.join(name for name in NAMES if name != text)}, or a box"


def _short(text: str) -> str:
    clean = "".join(c if c.isprintable() else "?" for c in text)
    return clean if len(clean) <= 40 else clean[:37] + "..."
