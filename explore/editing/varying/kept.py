"""What is kept of a chosen design: the pinholes whose blocks stay, and those whose fillings stay."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from constraints.design import Design
from constraints.forms import CENTRE, CORNER, EDGE, Form
from constraints.lattice import BoolArray
from constraints.layout import locate
from constraints.piece import Piece
from constraints.places import lie_in_fillings
from explore.asking.names import nearest
from explore.bad_input import BadInput
from explore.editing.varying.families import with_images
from explore.editing.varying.worked import exact

NAMES = (CENTRE, CORNER, "blocks", "fillings", EDGE)

_BOX = re.compile(r"\s*(-?[0-9]{1,4})\s*,\s*(-?[0-9]{1,4})\s*:\s*(-?[0-9]{1,4})\s*,\s*(-?[0-9]{1,4})\s*", re.ASCII)


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
    """What the words or boxes of --keep keep of a design, with all images; nothing without any. Raises BadInput.

    Of a strip all is of one repeat, and is kept in every one.
    """
    piece = design.form.once(design.worked, design.symmetry)
    found = [_one(design, piece, text) for text in texts]
    nothing = np.zeros(len(piece), dtype=np.bool_)
    block, filling = nothing.copy(), nothing.copy()
    for each in found:
        block |= each.block
        filling |= each.filling
    return Kept(with_images(piece, block), with_images(piece, filling))


def _one(design: Design, piece: Piece, text: str) -> Kept:
    form = design.form
    parts = form.parts(piece)
    if text in parts:
        return Kept.whole(parts[text])
    names = tuple(name for name in NAMES if name in parts or name not in (CENTRE, CORNER, EDGE))
    if text in NAMES and text not in names:
        raise BadInput(f"keep {text}: a {form.name} has no {text}; allowed: {_allowed(form, names)}", of="keep")
    if text == "blocks":
        return Kept(np.ones(len(piece), dtype=np.bool_), np.zeros(len(piece), dtype=np.bool_))
    if text == "fillings":
        worked = lie_in_fillings(exact(design))
        if not worked.any():
            others = _allowed(form, [name for name in names if name != text])
            raise BadInput(
                f"keep fillings: {form.name} {design.number:02d} has no fillings to keep; allowed: {others}", of="keep"
            )
        return Kept(worked, worked)
    box = _BOX.fullmatch(text)
    if box is None:
        hint = nearest(text, names)
        told = f'keep is "{_short(text)}"{f" ({hint})" if hint else ""}'
        raise BadInput(f"{told}; allowed: {_allowed(form, names)}", of="keep")
    inside = _in_box(design, piece, *(int(end) for end in box.groups()))
    return Kept(inside, inside)


def _allowed(form: Form, names: Sequence[str]) -> str:
    origin = "its first column and row, such as 0,0:4,9" if form.repeating else "the centre, such as -8,-8:8,8"
    return f"{', '.join(names)}, or a box x0,y0:x1,y1 in units (half pitches) from {origin}"


def _in_box(design: Design, piece: Piece, x0: int, y0: int, x1: int, y1: int) -> BoolArray:
    """The places of a box of the whole design, on what is composed of it."""
    form = design.form
    left, top, right, bottom = form.box
    told = f'keep is "{x0},{y0}:{x1},{y1}"'
    hint = f"try {_nearest_box(form, x0, y0, x1, y1)}"
    if x0 > x1 or y0 > y1:
        raise BadInput(f"{told} (the box is upside down: its first corner is the top left one); {hint}", of="keep")
    if x0 < left or y0 < top or x1 > right or y1 > bottom:
        ends = f"x from {left} to {right} and y from {top} to {bottom}"
        ends = f"x and y from {left} to {right}" if (left, right) == (top, bottom) else ends
        raise BadInput(f"{told}, which reaches beyond the {form.name}; allowed: {ends}; {hint}", of="keep")
    points = design.piece("none").pinholes
    x, y = points.T
    there = points[(x >= x0) & (x <= x1) & (y >= y0) & (y <= y1)]
    if not len(there):
        nowhere = f"pinholes have x + y {'odd' if form.parity else 'even'}" if not form.has_opening else "it is open"
        raise BadInput(f"{told}, where no pinhole lies; {nowhere}, {hint}", of="keep")
    inside = np.zeros(len(piece), dtype=np.bool_)
    inside[locate(piece, there)] = True
    return inside


def _nearest_box(form: Form, x0: int, y0: int, x1: int, y1: int) -> str:
    """The box within the outline, the right way up and with a pinhole in it."""
    left, top, right, bottom = form.box
    x0, x1 = sorted(max(left, min(right, end)) for end in (x0, x1))
    y0, y1 = sorted(max(top, min(bottom, end)) for end in (y0, y1))
    if (x0, y0) == (x1, y1) and (x0 + y0) % 2 != form.parity:
        x0, x1 = (x0, x1 + 1) if x1 < right else (x0 - 1, x1)
    wide, high = form.opening
    if max(-x0, x1) < wide and max(-y0, y1) < high:
        y0 = top  # from within the opening to the edge
    return f"{x0},{y0}:{x1},{y1}"


def _short(text: str) -> str:
    clean = "".join(c if c.isprintable() else "?" for c in text)
    return clean if len(clean) <= 40 else clean[:37] + "..."
