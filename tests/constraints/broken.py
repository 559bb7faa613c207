"""Squares with one thing wrong, each with the rules that must say so, and no others."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from designs import (
    Points,
    bar,
    blocks,
    border_trail,
    diamond,
    diamond_print,
    double,
    doubled,
    in_order,
    made,
    ring_of_diamonds,
    rose_field,
    roses,
    spiders,
    worked_across,
)
from strips import strip, worked_round

from constraints import forms
from constraints.design import Block, Design, FieldFilling
from constraints.edgings import Fan
from constraints.forms import Strip

GOOD_RING = ring_of_diamonds()
FIRST = GOOD_RING.blocks[0]


def _ring(*changed: Block) -> Design:
    """The ring of diamonds with its first block put otherwise, no longer symmetric."""
    return replace(GOOD_RING, symmetry="none", prints=(), blocks=(*changed, *GOOD_RING.blocks[1:]))


def _cloth(shape: Points, half_size: int = 16, **more: Any) -> Design:
    return made(half_size, *blocks("cloth", shape), **more)


def _halves(block: Block) -> tuple[Block, Block]:
    cut = len(block.pinholes) // 2
    return Block("cloth", block.pinholes[:cut]), Block("half", block.pinholes[cut:])


FANS = Fan("cloth", 3, 2, 3)
FANNED = worked_round(forms.Square(15, replace(FANS, first=1)))
ON_CORNER = diamond((-8, 5), 4)
SIDE = diamond((-9, -4), 5)
INNER = {(x, y) for x in range(-6, 7) for y in range(-6, 7) if (x + y) % 2}

BROKEN: dict[str, tuple[Design, set[str]]] = {
    "no such way of working": (replace(GOOD_RING, worked="sideways"), {"values"}),
    "no such start": (replace(GOOD_RING, start="in the middle"), {"values"}),
    "no size": (replace(GOOD_RING, form=forms.Square(0)), {"values"}),
    "no pitch": (replace(GOOD_RING, pitch_mm=0.0), {"values"}),
    "endless pitch": (replace(GOOD_RING, pitch_mm=float("inf")), {"values"}),
    "a strip of one repeat": (replace(GOOD_RING, form=forms.Strip(9, 8, 1), worked="across"), {"values"}),
    "a headside that fills the strip": (strip(Strip(4, 6, 2, replace(FANS, first=2))), {"values"}),
    "a headside that fills the band": (worked_round(forms.Frame(15, 15, 3, replace(FANS, first=1))), {"values"}),
    "half a fan in a repeat": (strip(Strip(9, 10, 2, FANS)), {"values"}),
    "a valley on no edge pin": (strip(Strip(9, 12, 2, replace(FANS, first=2))), {"values"}),
    "fans that do not meet the corners": (worked_round(forms.Square(16, replace(FANS, first=1))), {"values"}),
    "a fan in another stitch": (
        replace(FANNED, blocks=(replace(FANNED.blocks[0], stitch="half"), *FANNED.blocks[1:])),
        {"headside"},
    ),
    "no such stitch": (_ring(replace(FIRST, stitch="purl")), {"values"}),
    "a spider with ten legs": (made(12, spiders({(-6, 0)}, 10)), {"values"}),
    "a limit that is no number": (made(12, brief={"narrowest": "two"}), {"values"}),
    "a limit on no stitch": (made(12, brief={"least": {"purl": 3}}), {"values"}),
    "a brief for another way of working": (made(12, brief={"worked": "across"}), {"values"}),
    "an outline of two points": (
        replace(GOOD_RING, prints=(replace(diamond_print((-6, 0), 4), outlines=(((0.0, 0.0), (1.0, 1.0)),)),)),
        {"values"},
    ),
    "off the piece": (_ring(replace(FIRST, pinholes=(*FIRST.pinholes, (0, 99)))), {"places"}),
    "a hole for a pinhole": (_ring(replace(FIRST, pinholes=(*FIRST.pinholes, (2, 2)))), {"places"}),
    "a rose on a pinhole": (made(12, roses({(-5, 0)})), {"places"}),
    "a pinhole twice": (_ring(replace(FIRST, pinholes=FIRST.pinholes + FIRST.pinholes[:1])), {"places"}),
    "a pinhole in two blocks": (_ring(FIRST, Block("cloth", FIRST.pinholes[-1:])), {"places", "one stitch"}),
    "two blocks listed as one": (
        replace(
            GOOD_RING,
            blocks=(Block("cloth", FIRST.pinholes + GOOD_RING.blocks[1].pinholes), *GOOD_RING.blocks[2:]),
        ),
        {"one block"},
    ),
    "a block of nothing": (_ring(FIRST, Block("cloth", ())), {"one block"}),
    "two stitches in one block": (_ring(*_halves(FIRST)), {"one stitch"}),
    "one diamond in another stitch": (
        replace(_ring(replace(FIRST, stitch="half")), symmetry="full"),
        {"symmetry"},
    ),
    "one diamond fewer": (replace(_ring(), symmetry="quarter-turn"), {"symmetry"}),
    "a spider on one side only": (made(12, spiders({(-6, 0)}), symmetry="upright-mirror"), {"symmetry"}),
    "beside the edge": (_cloth(diamond((-11, -4), 5)), {"margin"}),
    "a rose with an edge pin": (made(12, roses({(-11, 1)})), {"margin", "rose"}),
    "a merge": (_cloth(SIDE - {(-9, -4)}), {"one worker"}),
    "a split": (_cloth(SIDE - {(-9, 4)}), {"one worker"}),
    "a split at a corner line": (_cloth(ON_CORNER - diamond((-8, 9), 2)), {"one worker"}),
    "a merge at a corner line": (_cloth(ON_CORNER - diamond((-10, 7), 2)), {"one worker"}),
    "a split that the brief does not allow": (_cloth(SIDE - {(-9, 4)}, splits=1), {"one worker"}),
    "a split fewer than it says": (_cloth(SIDE, splits=1, brief={"splits": 1}), {"one worker"}),
    "thin": (_cloth(bar((-9, -4), 1, 5)), {"narrowest"}),
    "thin beyond a corner line": (
        _cloth({(s - t, s + t + 1) for s in range(-2, 1) for t in range(4, 8)}, brief={"corners": "halves"}),
        {"narrowest"},
    ),
    "too wide to swing": (_cloth(ON_CORNER, brief={"corners": "swung"}), {"corners"}),
    "turning about the middle": (
        _cloth({(0, -1), (1, 0), (0, 1)}, brief={"narrowest": 1, "corners": "swung"}),
        {"corners"},
    ),
    "over a line that is to be clear": (_cloth(ON_CORNER, brief={"corners": "clear"}), {"corners"}),
    "no such way over corner lines": (made(12, brief={"corners": "mitred"}), {"values"}),
    "wide": (_cloth(SIDE, brief={"widest": 4}), {"widest"}),
    "a single row of holes between blocks": (
        _cloth(bar((-9, -4), 2, 4) | bar((-6, -1), 2, 4)),
        {"narrowest ground"},
    ),
    "too open": (_cloth(SIDE, brief={"solid": [0.2, 0.5]}), {"solid"}),
    "too solid": (_cloth(SIDE, brief={"solid": [0.0, 0.01]}), {"solid"}),
    "roses and a spider in one field": (made(12, roses({(-6, -2)}), spiders({(-6, 4)})), {"one filling"}),
    "small and large spiders in one field": (
        made(14, spiders({(-8, -4)}, 8), spiders({(-8, 4)}, 16)),
        {"one filling"},
    ),
    "roses out of line": (made(12, roses({(-6, -2), (-6, 4)})), {"rose"}),
    "half-stitch roses out of line": (
        made(
            12,
            FieldFilling("half-stitch-rose", ((-6, -2), (-6, 4))),
            brief={"stitches": ["half-stitch-rose"]},
        ),
        {"half-stitch rose"},
    ),
    "a rose on a block": (made(16, *blocks("cloth", SIDE), roses({(-9, -5)})), {"rose"}),
    "a spider on a block": (made(16, *blocks("cloth", SIDE), spiders({(-9, -5)})), {"spider"}),
    "spiders that touch": (made(12, spiders({(-6, 0), (-7, 3)})), {"spider"}),
    "a rose listed twice": (made(12, roses({(-6, 0)}), roses({(-6, 0)})), {"places", "one unit"}),
    "a rose and a spider that share a pinhole": (
        _cloth(
            diamond((-11, -8), 9) - diamond((-12, -1), 2) - diamond((-10, -1), 2),
            22,
            splits=4,
            brief={"splits": 4, "widest": 9},
            fillings=(roses({(-12, 0)}), spiders({(-10, 0)})),
        ),
        {"one unit", "flow"},
    ),
    "a rose on the corner line": (made(12, roses({(-6, 6)})), {"quarter", "flow"}),
    "a spider in the middle": (made(12, spiders({(0, 0)}, 16)), {"quarter", "flow"}),
    "half a field doubled": (
        replace(doubled(), fillings=(double({p for p in INNER if p[0] < 3}),), symmetry="none"),
        {"double ground"},
    ),
    "double ground in a block": (
        replace(doubled(), fillings=(double(INNER | {p for p in border_trail(12, 3, 3) if p[0] == 8}),)),
        {"double ground", "symmetry"},
    ),
    "double ground in a field of roses": (
        replace(rose_field(), fillings=(*rose_field().fillings, double({(-2, -1)})), symmetry="none"),
        {"double ground"},
    ),
    "half a field twisted": (
        made(
            12,
            *doubled().blocks,
            FieldFilling("twisted-ground", in_order(p for p in INNER if p[0] < 3)),
            brief={"stitches": ["cloth", "twisted-ground"]},
        ),
        {"twisted ground"},
    ),
    "two grounds in one field": (
        replace(doubled(), brief={}, fillings=(*doubled().fillings, FieldFilling("twisted-ground", ((0, 1),)))),
        {"double ground", "twisted ground"},
    ),
    "an eye in the ground": (_cloth(SIDE, eyes=((-1, -6),)), {"eyes"}),
    "an eye at the border": (_cloth(SIDE, eyes=((-9, -4),)), {"eyes"}),
    "an eye without its image": (
        made(16, *blocks("cloth", SIDE), *blocks("cloth", {(-x, -y) for x, y in SIDE}), symmetry="half-turn").opened(
            [(-9, 0)]
        ),
        {"even eyes"},
    ),
    "a stitch not allowed": (_cloth(SIDE, brief={"stitches": ["half"]}), {"stitches"}),
    "a filling not allowed": (made(12, roses({(-6, 0)}), brief={"stitches": ["half"]}), {"stitches"}),
    "too little cloth": (_cloth(SIDE, brief={"least": {"cloth": 26}}), {"least"}),
    "too few spiders": (made(12, spiders({(-6, 0)}), brief={"least": {"spider": 2}}), {"least"}),
    "too little double ground": (
        replace(doubled(), brief={"least": {"double-ground": len(INNER) + 1}}),
        {"least"},
    ),
    "a pair too many": (replace(GOOD_RING, pairs=GOOD_RING.pairs + 1), {"pairs", "flow"}),
    "a pair too many, across": (replace(worked_across(), pairs=worked_across().pairs + 1), {"pairs", "flow"}),
    "more pairs than she has": (_cloth(SIDE, brief={"pairs": 17}), {"pairs"}),
    "a match that is not": (
        _cloth(SIDE, stamp=diamond_print((-9, 0), 5, match=0.9)),
        {"match"},
    ),
    "a poor match": (
        # 9 of the 25 places, and none beside them.
        _cloth(diamond((-9, -2), 3), stamp=diamond_print((-9, 0), 5, match=0.36), brief={"match": 0.65}),
        {"match"},
    ),
    "a stamp too small for one pinhole": (
        _cloth(SIDE, stamp=diamond_print((-9, 0), 0.5, match=0.0)),
        {"match"},
    ),
    "a stamp beside the piece": (_cloth(SIDE, stamp=diamond_print((-60, 0), 5, match=0.0)), {"match"}),
    "a reverse stamp that is solid": (
        _cloth(SIDE, stamp=diamond_print((-9, 0), 5, match=1.0, reverse=True)),
        {"match"},
    ),
}
