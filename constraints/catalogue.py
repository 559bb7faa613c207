"""The catalogue of edgings, as data, and a piece given another one.

A piece keeps its blocks, eyes and figures where they are; where fans need room, it grows: a square, frame or
rectangle all round, a strip on its right, where the new columns are ground and fans. Repeats of a strip are taken
together until whole fans fit.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from constraints.agreeing import agreed
from constraints.design import Block, Design
from constraints.edgings import EDGINGS, FOOTSIDE, Headside
from constraints.edgings.own_figures import Fillings, with_own, without_own
from constraints.eyes import with_kept
from constraints.forms import Form, Strip
from constraints.layout import blocks_of, lay, lay_on
from constraints.piece import Piece
from constraints.repeats import repeat_of, unrolled
from constraints.stitches import NUMBERS

# How many units more a square, or columns a strip, may become.
MOST_GROWTH = 14
_LONGEST_REPEAT = 400


@dataclass(frozen=True)
class Edging:
    """One edging: a headside, or without one a footside with so many passives."""

    headside: Headside | None
    passives: int = 0

    @property
    def called(self) -> str:
        """What she calls it: a footside by its passives."""
        if self.headside is not None:
            return self.headside.name
        return f"{FOOTSIDE} with {self.passives} passive{'' if self.passives == 1 else 's'}"

    @property
    def corner(self) -> str:
        """How it goes round one."""
        return "edge pair and passives turn with the pillow" if self.headside is None else self.headside.at_corner


CATALOGUE: tuple[Edging, ...] = (
    *(Edging(None, passives) for passives in (1, 2, 3)),
    *(Edging(headside) for kind in EDGINGS.values() for headside in kind.offered()),
)


def edging_of(piece: Design) -> Edging:
    """The edging that a piece has, of a strip along its right edge."""
    headside = piece.form.headside
    return Edging(None, piece.passives) if headside is None else Edging(replace(headside, first=0))


@dataclass(frozen=True)
class Edged:
    """A piece with an edging. grown: units of half-size, or columns, more. left_out: figures that do not agree with
    others of their field. rows: of a repeat, 0 unless a strip."""

    edging: Edging
    piece: Design
    grown: int
    left_out: int
    rows: int = 0

    @property
    def growth(self) -> str:
        """Such as "2 columns"; "" for none."""
        unit = "column" if self.rows else "unit"
        return f"{self.grown} {unit}{'' if self.grown == 1 else 's'}" if self.grown else ""

    @property
    def lost(self) -> str:
        """The figures left out, such as "1 figure a repeat"; "" for none."""
        a_repeat = " a repeat" if self.rows else ""
        return f"{self.left_out} figure{'' if self.left_out == 1 else 's'}{a_repeat}" if self.left_out else ""


def offers(piece: Design, wanted: Edging) -> Iterator[Edged]:
    """The piece with an edging at every size from its own on; not yet checked. ValueError for other forms."""
    strip = piece.form.repeating
    if strip is not None and strip.both:
        raise ValueError(
            "it has its edging on both sides and keeps it; edgings are tried on strips with one dressed side"
        )
    if not piece.form.takes_edging(piece.worked):
        what = "edgings go round squares worked round and frames, and along strips and rectangles"
        raise ValueError(f"a {piece.form.name} worked {piece.worked} keeps its edge; {what}")
    yield from _round(piece, wanted) if strip is None else _along(piece, strip, wanted)


def _round(piece: Design, wanted: Edging) -> Iterator[Edged]:
    layout = lay(piece)
    fans = set(np.unique(layout.block[layout.piece.fan]).tolist())
    own = tuple(block for number, block in enumerate(piece.blocks) if number not in fans)
    bare = without_own(piece.fillings, layout.piece)
    passives = wanted.passives if wanted.headside is None else piece.passives
    for grown in range(MOST_GROWTH + 1):
        made = piece.form.grown(grown, wanted.headside)
        if made is not None:
            dressed = _dressed(piece, made, passives, (*own, *_fans(made, piece.worked)))
            # It grows about its middle: the print lies where it lay.
            there = replace(dressed, fillings=(), prints=piece.prints)
            offer = _offer(wanted, there, made.piece(piece.worked, piece.symmetry), bare, grown)
            yield replace(offer, piece=with_kept(offer.piece, piece.eyes))


def _offer(wanted: Edging, bare: Design, piece: Piece, fillings: Fillings, grown: int) -> Edged:
    """bare: without fillings. What comes together in one field with the new edge is made to agree."""
    inside = lay_on(bare, piece).inside
    kept = agreed(piece, inside, fillings)
    left_out = sum(len(each.places) for each in fillings) - sum(len(each.places) for each in kept)
    return Edged(wanted, replace(bare, fillings=with_own(kept, piece)), grown, left_out)


def _fans(form: Form, worked: str) -> tuple[Block, ...]:
    """The blocks of a headside alone."""
    if form.headside is None or not form.headside.solid:
        return ()
    piece = form.piece(worked)
    number = NUMBERS[form.headside.stitch]
    return blocks_of(piece, piece.fan * (number + 1) - 1)


def _along(piece: Design, form: Strip, wanted: Edging) -> Iterator[Edged]:
    repeat = repeat_of(piece)
    old = repeat.piece.fan
    stitch = {
        point: NUMBERS[block.stitch]
        for block in repeat.design.blocks
        for point in block.pinholes
        if not old[repeat.piece.index[point]]
    }
    for grown in range(MOST_GROWTH + 1):
        made = form.grown(grown, wanted.headside)
        rows, headside = made.rows, made.headside
        if rows > _LONGEST_REPEAT:
            return
        symmetry = "none"
        own = made.repeat(symmetry)
        worked = own.fan * 0 - 1
        for (x, y), number in stitch.items():
            for row in range(y, rows, form.rows):
                worked[own.index[x, row]] = number
        if headside is not None and headside.solid:
            worked[own.fan] = NUMBERS[headside.stitch]
        fillings = tuple(
            replace(each, places=tuple((x, row) for x, y in each.places for row in range(y, rows, form.rows)))
            for each in without_own(repeat.design.fillings, repeat.piece)
        )
        passives = wanted.passives if wanted.headside is None else piece.passives
        once = replace(_dressed(piece, made, passives, blocks_of(own, worked)), symmetry=symmetry, fillings=())
        offer = _offer(wanted, once, own, fillings, grown)
        eyes = ((x, row) for x, y in repeat.design.eyes for row in range(y, rows, form.rows))
        yield replace(offer, piece=with_kept(unrolled(offer.piece, made), eyes), rows=rows)


def _dressed(piece: Design, form: Form, passives: int, blocks: tuple[Block, ...]) -> Design:
    """The piece on another form; its brief has the pairs that this one takes. Without its print."""
    pairs = form.pairs(piece.worked, passives)
    brief = dict(piece.brief)
    if "pairs" in brief:
        brief["pairs"] = max(brief["pairs"], pairs)
    if "passives" in brief:
        brief["passives"] = passives
    brief.pop("solid", None)
    return replace(
        piece, form=form, passives=passives, pairs=pairs, brief=brief, prints=(),
        blocks=tuple(sorted(blocks, key=lambda block: (block.pinholes[0][1], block.pinholes[0][0]))),
    )  # fmt: skip
