"""Strips, frames and headsides described a second time, as an answer set program for clingo.

Written from the model of the trade: pinholes in plain coordinates, steps between them, and everything else by walking
along steps. Nothing here uses the project's lattice, pieces, edges, headsides or rules. Laces are told as in
`answer_sets`. The rules are common practice, no source, where a line names none.
"""

from __future__ import annotations

from dataclasses import dataclass

import clingo
from answer_sets import GENERATORS, Limits, Told, kinds_of, told_of

Place = tuple[int, int]


@dataclass(frozen=True)
class Outline:
    """form: strip, frame, rectangle or square. size: of a strip its columns and the rows of a repeat, else half-sides.
    band: of a frame. headside: "", fan, scallop or ground; depth h, first as `forms` has it; both: also on the left."""

    form: str
    size: tuple[int, int]
    band: int = 0
    headside: str = ""
    depth: int = 0
    first: int = 0
    both: bool = False


@dataclass(frozen=True)
class AskedForms(Limits):
    """Which laces are to be told."""

    outline: Outline
    symmetry: str = "none"
    stitches: tuple[str, ...] = ("cloth",)

    def __str__(self) -> str:
        out = self.outline
        return (
            f"{out.form} {out.size[0]}x{out.size[1]} {out.headside}{out.depth or ''} {self.symmetry} "
            f"{'+'.join(self.stitches)} {self.narrowest}/{self.narrowest_ground} splits {self.splits} {self.corners}"
        )


PLACES = """
% Where pinholes are. Of a strip, x + y is odd, and after p rows it begins anew (p is 0 where nothing repeats);
% elsewhere no pinhole lies on a line from a corner inwards.
pin(X,Y) :- strip, X = 0..a-1, Y = 0..p-1, (X+Y) \\ 2 = 1.
pin(X,Y) :- not strip, X = -a..a, Y = -b..b, (X+Y+a+b) \\ 2 != 0, not opening(X,Y).
opening(X,Y) :- band > 0, X = -a..a, Y = -b..b, a-|X| > band, b-|Y| > band.
row(R,R) :- p = 0, R = -b-4..b+4.
row(R,(R+p) \\ p) :- p > 0, R = -p..2*p.
go(X,Y,D,E,V,W) :- pin(X,Y), D = (-1;1), E = (-1;1), V = X+D, row(Y+E,W), pin(V,W).

% How far in from each edge along which an edge pair runs, or pairs are hung.
in(X,Y,left,X) :- strip, pin(X,Y).               in(X,Y,right,a-1-X) :- strip, pin(X,Y).
in(X,Y,left,a+X) :- not strip, pin(X,Y).         in(X,Y,right,a-X) :- not strip, pin(X,Y).
in(X,Y,top,b+Y) :- not strip, pin(X,Y).          in(X,Y,bottom,b-Y) :- not strip, pin(X,Y).
in(X,Y,opening,band-(a-|X|)) :- band > 0, pin(X,Y), a-|X| <= b-|Y|.
in(X,Y,opening,band-(b-|Y|)) :- band > 0, pin(X,Y), b-|Y| < a-|X|.

% Worked down, or in quarters by the nearest outer side: left down, bottom to the right, right up, top to the left.
quarter(all,X,Y) :- not round, pin(X,Y).
quarter(left,X,Y) :- round, pin(X,Y), X < 0, a-|X| < b-|Y|.
quarter(right,X,Y) :- round, pin(X,Y), X > 0, a-|X| < b-|Y|.
quarter(top,X,Y) :- round, pin(X,Y), Y < 0, a-|X| > b-|Y|.
quarter(bottom,X,Y) :- round, pin(X,Y), Y > 0, a-|X| > b-|Y|.
upright(all;left;right). level(top;bottom).

% A headside. Valley pins stand 2h apart on an edge, round a corner 2t + 1 units before it, along a side that ends from
% its first pin to its last. Between two of them, h units
% in, is the tip of a half diamond: all that can be reached from it by steps outwards. Where the columns of a strip are
% even in number its left edge is staggered.
outwards(left,-1,(-1;1)).  outwards(right,1,(-1;1)).  outwards(top,(-1;1),-1).  outwards(bottom,(-1;1),1).
dressed(right) :- headside, strip.               dressed(left) :- strip, both.
dressed(left;right) :- headside, not strip.      dressed(top;bottom) :- headside, round.
shift(right,0).  shift(left,0) :- a \\ 2 = 1.
shift(left,h) :- a \\ 2 = 0, h \\ 2 = 1.          shift(left,1) :- a \\ 2 = 0, h \\ 2 = 0.
edge(left,0) :- strip. edge(right,a-1) :- strip.
valley(E,X,Y) :- strip, dressed(E), edge(E,X), shift(E,S), K = 0..p/(2*h)-1, row(first+S+2*h*K,Y).
tip(E,|X-h|,Z) :- strip, valley(E,X,Y), row(Y+h,Z).
last(b-1-2*first,(left;right)) :- headside, round.
last(a-1-2*first,(top;bottom)) :- headside, round.
last(b-1,(left;right)) :- headside, not strip, not round.
along(E,-L+2*h*K) :- last(L,E), K = 0..L/h.
valley(left,-a,Y) :- along(left,Y).              valley(right,a,Y) :- along(right,Y).
valley(top,X,-b) :- along(top,X).                valley(bottom,X,b) :- along(bottom,X).
tip(left,h-a,Y+h) :- along(left,Y), last(L,left), Y < L.
tip(right,a-h,Y+h) :- along(right,Y), last(L,right), Y < L.
tip(top,X+h,h-b) :- along(top,X), last(L,top), X < L.
tip(bottom,X+h,b-h) :- along(bottom,X), last(L,bottom), X < L.
half_diamond(E,X,Y) :- tip(E,X,Y).
half_diamond(E,V,W) :- half_diamond(E,X,Y), outwards(E,D,F), go(X,Y,D,F,V,W).
headed(X,Y) :- half_diamond(E,X,Y), not valley(E,X,Y).
% The corner fan lies behind the straight line from valley to valley.
headed(X,Y) :- headside, round, pin(X,Y), |X|+|Y| >= a+b-1-2*first, not valley(_,X,Y).
% A scallop runs on along its edge (Dillmont 1886, fig. 799).
headed(X,Y) :- scallop, dressed(E), in(X,Y,E,0).
fan(X,Y) :- headed(X,Y), not ground.

% Ground scallops hold a spider in the middle of their inner half, and the diamond round it where its legs end. From
% depth 5 on it has twelve legs and a pinhole for its middle, h - 2 units in; else eight, h - 1 units in.
spider_at(X-s,Y) :- ground, tip(left,X,Y).    spider_at(X+s,Y) :- ground, tip(right,X,Y).
spider_at(X,Y-s) :- ground, tip(top,X,Y).     spider_at(X,Y+s) :- ground, tip(bottom,X,Y).
"""

SPIDERS = """
about(D,E) :- D = -s-2..s+2, E = -s-2..s+2, |D|+|E| <= s+2.
held(X,Y) :- headed(X,Y).
held(X+D,Z) :- spider_at(X,Y), about(D,E), row(Y+E,Z), pin(X+D,Z).

near(0,X,Y) :- held(X,Y).
near(K+1,V,W) :- near(K,X,Y), go(X,Y,_,_,V,W), K < margin-1.
inner(X,Y) :- pin(X,Y), not in(X,Y,_,0), not held(X,Y).
"""

BLOCKS = """
far(X,Y) :- pin(X,Y), I >= margin : in(X,Y,_,I); not near(_,X,Y).
{ in_block(X,Y,S) : stitch(S) } 1 :- far(X,Y).
own(X,Y) :- in_block(X,Y,_).
block(X,Y) :- own(X,Y).   block(X,Y) :- fan(X,Y).
:- in_block(X,Y,S), go(X,Y,_,_,V,W), block(V,W), not in_block(V,W,S).
:- in_block(X,Y,S), image(X,Y,V,W), not in_block(V,W,S).

% A hole is told by its top pinhole. With three of its four in a block, it must not miss the first or the last of them
% in the working direction, if all are worked in one quarter: over a corner line either half has its own worker.
corner(X,Y,top,X,Y) :- hole(X,Y).                corner(X,Y,right,V,W) :- hole(X,Y), go(X,Y,1,1,V,W).
corner(X,Y,left,V,W) :- hole(X,Y), go(X,Y,-1,1,V,W).
corner(X,Y,bottom,V,W) :- hole(X,Y), go(X,Y,1,1,A,B), go(A,B,-1,1,V,W).
hole(X,Y) :- go(X,Y,1,1,A,B), go(X,Y,-1,1,C,D), go(A,B,-1,1,V,W), go(C,D,1,1,V,W).
bad(X,Y,(top;bottom)) :- hole(X,Y), upright(Q), quarter(Q,A,B) : corner(X,Y,_,A,B).
bad(X,Y,(left;right)) :- hole(X,Y), level(Q), quarter(Q,A,B) : corner(X,Y,_,A,B).
notch(X,Y) :- bad(X,Y,M), corner(X,Y,M,V,W), not block(V,W), block(A,B) : corner(X,Y,C,A,B), C != M.
:- splits < #count { X,Y : notch(X,Y) }.
:- clear, own(X,Y), go(X,Y,_,_,V,W), own(V,W), quarter(Q,X,Y), not quarter(Q,V,W).

% Lattice squares by their top pinhole: I steps down to the right, J to the left.
cell(X,Y,0,0,X,Y) :- pin(X,Y).
cell(X,Y,I+1,J,V,W) :- cell(X,Y,I,J,A,B), go(A,B,1,1,V,W), I < largest-1.
cell(X,Y,I,J+1,V,W) :- cell(X,Y,I,J,A,B), go(A,B,-1,1,V,W), J < largest-1.
square(K,X,Y) :- side(K), pin(X,Y), K*K = #count { I,J : cell(X,Y,I,J,_,_), I < K, J < K }.
member(K,X,Y,V,W) :- square(K,X,Y), cell(X,Y,I,J,V,W), I < K, J < K.
whole(K,X,Y) :- square(K,X,Y), quarter(Q,X,Y), quarter(Q,V,W) : member(K,X,Y,V,W).
wide(K,A,B) :- whole(K,X,Y), member(K,X,Y,A,B), own(V,W) : member(K,X,Y,V,W).
airy(A,B) :- square(ground_side,X,Y), member(ground_side,X,Y,A,B), not block(V,W) : member(ground_side,X,Y,V,W).
:- own(X,Y), not wide(narrowest,X,Y).
:- wide(widest+1,_,_).
:- inner(X,Y), not block(X,Y), not airy(X,Y).
ordinary(N) :- N = #count { X,Y : pin(X,Y), not fan(X,Y) }.
:- ordinary(N), not (least*N+999)/1000 <= #count { X,Y : own(X,Y) } <= most*N/1000.
#show in_block/3.
"""

FILLINGS = """
open(X,Y) :- hole(X,Y), inner(A,B) : corner(X,Y,_,A,B); not block(A,B) : corner(X,Y,_,A,B).
joined(X,Y,D,E,V,W) :- open(X,Y), go(X,Y,D,E,V,W), open(V,W).
field(X,Y,X,Y) :- open(X,Y).
field(X,Y,V,W) :- field(X,Y,A,B), joined(A,B,_,_,V,W).

% Figures by their top pinhole, in one quarter and off the edge.
{ unit(K,X,Y) } :- kind(K,S), whole(S,X,Y), inner(V,W) : member(S,X,Y,V,W).
takes(K,X,Y,V,W) :- unit(K,X,Y), kind(K,S), member(S,X,Y,V,W).
within(K,X,Y,V,W) :- unit(K,X,Y), kind(K,S), cell(X,Y,I,J,V,W), I < S-1, J < S-1.
middle(K,X,Z) :- unit(K,X,Y), kind(K,S), row(Y+S-1,Z).
:- within(K,X,Y,A,B), not open(A,B).
:- middle(K,X,Y), turn(A,B,C,D,E,F), row(C*X+D*Y+F,Z), not middle(K,A*X+B*Y+E,Z).
taken(A,B) :- takes(_,_,_,A,B).
:- pin(A,B), 2 <= #count { K,X,Y : takes(K,X,Y,A,B) }.
% Nor may a figure meet itself a repeat further on.
:- unit(K,X,Y), kind(K,S), S*S > #count { A,B : takes(K,X,Y,A,B) }.
:- takes(K,X,Y,A,B), takes(L,V,W,C,D), (K,X,Y) != (L,V,W), K != rose, L != rose, go(A,B,_,_,C,D).
:- within(K,X,Y,A,B), field(A,B,C,D), within(L,V,W,C,D), K != L.
% Roses stand on every second hole along both diagonals of their field.
aligned(X,Y,0,0) :- unit(rose,X,Y).
aligned(V,W,1-U,Z) :- aligned(X,Y,U,Z), joined(X,Y,D,D,V,W).
aligned(V,W,U,1-Z) :- aligned(X,Y,U,Z), joined(X,Y,D,E,V,W), D != E.
:- unit(rose,X,Y), aligned(X,Y,U,Z), U+Z > 0.

{ doubled(X,Y) } :- open(X,Y), double.
:- doubled(X,Y), joined(X,Y,_,_,V,W), not doubled(V,W).
:- within(_,_,_,A,B), doubled(A,B).
twice(A,B) :- doubled(X,Y), corner(X,Y,_,A,B), not taken(A,B).
:- twice(X,Y), image(X,Y,V,W), not twice(V,W).
#show middle/3. #show twice/2.
"""

IMAGES = """
image(X,Y,A*X+B*Y+E,Z) :- pin(X,Y), turn(A,B,C,D,E,F), row(C*X+D*Y+F,Z).
"""


def every(asked: AskedForms) -> set[Told]:
    """All laces of a asked, each once."""
    control = clingo.Control(["--models=0", "--project=show", "--warn=none"])
    control.add("base", [], _facts(asked) + PLACES + SPIDERS + IMAGES + BLOCKS + FILLINGS)
    control.ground([("base", [])])
    found: list[Told] = []
    with control.solve(yield_=True) as handle:
        found.extend(told_of(model.symbols(shown=True)) for model in handle)
    assert len(set(found)) == len(found)
    return set(found)


def places(outline: Outline) -> dict[str, set[Place]]:
    """What an outline alone says: its pinholes, those that a headside takes, in blocks and at all, the middles of its
    spiders, the pinholes inside its edges, and those of each quarter."""
    control = clingo.Control(["--warn=none"])
    control.add("base", [], _facts(AskedForms(outline)) + PLACES + SPIDERS)
    control.ground([("base", [])])
    names = {"pin": "pin", "fan": "fan", "held": "held", "spider_at": "spider_at", "inner": "inner"}
    told: dict[str, set[Place]] = {name: set() for name in (*names, "left", "right", "top", "bottom", "all")}
    with control.solve(yield_=True) as handle:
        for symbol in handle.model().symbols(atoms=True):
            if symbol.name in names:
                told[symbol.name].add((symbol.arguments[0].number, symbol.arguments[1].number))
            elif symbol.name == "quarter":
                told[symbol.arguments[0].name].add((symbol.arguments[1].number, symbol.arguments[2].number))
    return told


def _facts(asked: AskedForms) -> str:
    out, (a, b) = asked.outline, asked.outline.size
    strip = out.form == "strip"
    sides = {asked.narrowest, asked.widest + 1, asked.narrowest_ground}
    kinds = kinds_of(asked.stitches)
    twelve = out.headside == "ground" and out.depth >= 5
    constants = {
        "a": a, "b": 0 if strip else b, "p": b if strip else 0, "band": out.band, "h": max(out.depth, 1),
        "first": out.first, "s": 2 if twelve else 1, "margin": asked.margin, "narrowest": asked.narrowest,
        "widest": asked.widest, "ground_side": asked.narrowest_ground, "splits": asked.splits,
        "least": round(1000 * asked.solid[0]), "most": round(1000 * asked.solid[1]),
        "largest": max(*(side for side in sides if side <= a + b), *kinds.values(), 1),
    }  # fmt: skip
    facts = [f"#const {name} = {value}." for name, value in constants.items()]
    said = {
        "strip": strip, "round": out.form in ("frame", "square"), "both": out.both, "headside": out.headside,
        "scallop": out.headside == "scallop", "ground": out.headside == "ground", "clear": asked.corners == "clear",
        "double": "double-ground" in asked.stitches,
    }  # fmt: skip
    facts += [f"{name}." for name, so in said.items() if so]
    facts += [f"side({side})." for side in sorted(sides | set(kinds.values()))]
    facts += [f"stitch({name})." for name in asked.stitches if name in ("cloth", "half", "whole")]
    facts += [f"kind({kind.replace('-', '_')},{side})." for kind, side in kinds.items()]
    facts += [f"turn({','.join(map(str, turn))})." for turn in _turns(out, asked.symmetry)]
    return "\n".join(facts) + "\n"


def _turns(out: Outline, symmetry: str) -> list[tuple[int, ...]]:
    """What generates the symmetry: (x, y) goes to (A x + B y + E, C x + D y + F)."""
    if out.form != "strip":
        return [(*matrix, 0, 0) for matrix in GENERATORS[symmetry]]
    columns, rows = out.size
    # A level mirror lies in a valley of the headside, else in row 0; a half-turn of an even number of columns turns
    # about a point between two rows.
    over, upright = columns - 1, (-1, 0, 0, 1, columns - 1, 0)
    level, glide = (1, 0, 0, -1, 0, 2 * out.first), (-1, 0, 0, 1, over, rows // 2)
    half = (-1, 0, 0, -1, over, 2 * out.first + (columns + 1) % 2)
    return {
        "none": [], "upright-mirror": [upright], "level-mirror": [level], "half-turn": [half], "glide": [glide],
        "upright-mirrors": [upright, level], "glide-mirrors": [glide, level],
    }[symmetry]  # fmt: skip
