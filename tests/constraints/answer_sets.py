"""Small squares described a second time, as an answer set program for clingo.

Written from the model of the trade in plain coordinates: nothing here uses the project's lattice, pieces,
orbits or rules. A square is told as (blocks, units, doubled): block places with their stitch, centres of
units with their kind, pinholes worked in double ground.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import clingo

Told = tuple[frozenset[tuple[int, int, str]], frozenset[tuple[str, int, int]], frozenset[tuple[int, int]]]

# What generates each symmetry: images of (x, y) as (a x + b y, c x + d y), y down.
QUARTER, HALF = (0, -1, 1, 0), (-1, 0, 0, -1)
LEFT_RIGHT, TOP_BOTTOM = (-1, 0, 0, 1), (1, 0, 0, -1)
FALLING, RISING = (0, 1, 1, 0), (0, -1, -1, 0)
GENERATORS = {
    "full": (QUARTER, LEFT_RIGHT),
    "quarter-turn": (QUARTER,),
    "half-turn": (HALF,),
    "upright-mirrors": (LEFT_RIGHT, TOP_BOTTOM),
    "diagonal-mirrors": (FALLING, RISING),
    "upright-mirror": (LEFT_RIGHT,),
    "diagonal-mirror": (FALLING,),
    "none": (),
}

# Figures: pinholes a side.
SIDES = {
    "rose": {"rose": 2},
    "half-stitch-rose": {"half-stitch-rose": 2},
    "spider": {"spider-8": 2, "spider-12": 3, "spider-16": 4},
}


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What a brief limits, as it is usual."""

    narrowest: int = 2
    widest: int = 16
    narrowest_ground: int = 2
    margin: int = 2
    splits: int = 0
    solid: tuple[float, float] = (0.0, 1.0)
    corners: str = "halves"


@dataclass(frozen=True)
class AskedSquares(Limits):
    """Which squares are to be told."""

    half_size: int
    symmetry: str = "none"
    worked: str = "round"
    stitches: tuple[str, ...] = ("cloth",)

    def __str__(self) -> str:
        return (
            f"{self.half_size} {self.symmetry} {self.worked} {'+'.join(self.stitches)} "
            f"{self.narrowest}/{self.narrowest_ground} margin {self.margin} splits {self.splits}"
            + (f" corners {self.corners or 'as before'}" if self.corners != "halves" else "")
        )


BLOCKS = """
pin(X,Y) :- X = -n..n, Y = -n..n, (X+Y) \\ 2 != 0.
corner(X,Y,top,X,Y-1) :- hole(X,Y).    corner(X,Y,bottom,X,Y+1) :- hole(X,Y).
corner(X,Y,left,X-1,Y) :- hole(X,Y).   corner(X,Y,right,X+1,Y) :- hole(X,Y).
hole(X,Y) :- X = 1-n..n-1, Y = 1-n..n-1, (X+Y) \\ 2 = 0.

{ in(X,Y,S) : stitch(S) } 1 :- pin(X,Y), |X| <= n-margin, |Y| <= n-margin.
block(X,Y) :- in(X,Y,_).
:- in(X,Y,S), block(X+D,Y+E), D = (-1;1), E = (-1;1), not in(X+D,Y+E,S).
:- in(X,Y,S), turn(A,B,C,D), not in(A*X+B*Y,C*X+D*Y,S).

% A hole with three of its four pinholes in a block must not miss these.
bad(X,Y,(top;bottom)) :- hole(X,Y), worked(across).
bad(X,Y,(top;bottom)) :- hole(X,Y), worked(round), |X| > |Y|.
bad(X,Y,(left;right)) :- hole(X,Y), worked(round), |X| < |Y|.
% Over a corner line only where a block is worked in one piece there: in halves, either half has its own worker.
bad(X,Y,bottom) :- hole(X,Y), whole_over_lines, |X| = |Y|, Y > 0.
bad(X,Y,top)    :- hole(X,Y), whole_over_lines, |X| = |Y|, Y < 0.
bad(X,Y,left)   :- hole(X,Y), whole_over_lines, |X| = |Y|, X < 0.
bad(X,Y,right)  :- hole(X,Y), whole_over_lines, |X| = |Y|, X > 0.
whole_over_lines :- worked(round), corners(swung).
whole_over_lines :- worked(round), corners(before).
notch(X,Y) :- bad(X,Y,M), corner(X,Y,M,V,W), not block(V,W), block(A,B) : corner(X,Y,C,A,B), C != M.
:- splits < #count { X,Y : notch(X,Y) }.

side(narrowest; widest+1; ground).
member(K,X,Y,X+I-J,Y+I+J) :- side(K), pin(X,Y), I = 0..K-1, J = 0..K-1.
square(K,X,Y) :- side(K), pin(X,Y), pin(A,B) : member(K,X,Y,A,B).
wide(K,A,B) :- square(K,X,Y), not parted(K,X,Y), member(K,X,Y,A,B), block(V,W) : member(K,X,Y,V,W).
% Each half counts by itself.
parted(K,X,Y) :- worked(round), not corners(before), square(K,X,Y),
                 2 <= #count { Q : member(K,X,Y,A,B), quarter(Q,A,B) }.
airy(K,A,B) :- square(K,X,Y), member(K,X,Y,A,B), not block(V,W) : member(K,X,Y,V,W).
:- block(X,Y), not wide(narrowest,X,Y).
:- wide(widest+1,_,_).
:- pin(X,Y), |X| < n, |Y| < n, not block(X,Y), not airy(ground,X,Y).
:- not least <= #count { X,Y : block(X,Y) } <= most.

quarter(left,X,Y) :- pin(X,Y), -X > |Y|.   quarter(right,X,Y) :- pin(X,Y), X > |Y|.
quarter(top,X,Y) :- pin(X,Y), -Y > |X|.    quarter(bottom,X,Y) :- pin(X,Y), Y > |X|.
% A pair within a block runs over the line that goes from the centre to the corner at (S,Z).
link(T,S,Z) :- worked(round), T = 0..n, S = (-1;1), Z = (-1;1), block(S*(T+1),Z*T), block(S*T,Z*(T+1)).
:- corners(clear), link(_,_,_).
three(T,S,Z) :- corners(swung), link(T,S,Z), link(T+1,S,Z), link(T+2,S,Z).
:- three(_,_,_), splits > 0.
:- three(T,S,Z), three(T+3,S,Z).
% Wider ones go round in slanting rows. Places of either side, so many steps back from the line and out along it.
step(T,S,Z,level,B,O,S*(T+1+B+O),Z*(T-B+O)) :- three(T,S,Z), B = 0..8, O = -8..5.
step(T,S,Z,plumb,B,O,S*(T-B+O),Z*(T+1+B+O)) :- three(T,S,Z), B = 0..8, O = -8..5.
has(T,S,Z,Q,B,O) :- step(T,S,Z,Q,B,O,X,Y), block(X,Y).
:- three(T,S,Z), O = (-1;3), has(T,S,Z,level,0,O), not has(T,S,Z,plumb,0,O).
:- three(T,S,Z), O = (-1;3), has(T,S,Z,plumb,0,O), not has(T,S,Z,level,0,O).
trail(3,T,S,Z) :- three(T,S,Z), not link(T+3,S,Z).
trail(C+1,T,S,Z) :- trail(C,T+1,S,Z), link(T,S,Z), three(T,S,Z).
begun(C,T,S,Z,(level;plumb)) :- trail(C,T,S,Z), not has(T,S,Z,level,0,-1).
across(C,T,S,Z,Q) :- begun(C,T,S,Z,Q), has(T,S,Z,Q,1,C-1).
along(C,T,S,Z,Q,4*(C/2)-1-C) :- begun(C,T,S,Z,Q), not has(T,S,Z,Q,1,C-1).
:- across(C,T,S,Z,Q), O = 0..C-1, B = 0..C-2+O, not has(T,S,Z,Q,B,O).
:- across(C,T,S,Z,Q), B = 0..C-2, has(T,S,Z,Q,B,-1).
:- across(C,T,S,Z,Q), B = 0..2*C-3, has(T,S,Z,Q,B,C).
:- along(C,T,S,Z,Q,M), N = 0..C-1, B = 0..(M+N)/2, not has(T,S,Z,Q,B,N-B).
:- along(C,T,S,Z,Q,M), N = (-1;C), B = 0..(M+1+N)/2, has(T,S,Z,Q,B,N-B).
:- corners(swung), worked(round), 3 <= #count { X,Y : block(X,Y), |X|+|Y| = 1 }.
#show in/3.
"""

FILLINGS = """
open(X,Y) :- hole(X,Y), |X| <= n-2, |Y| <= n-2, not block(A,B) : corner(X,Y,_,A,B).
field(X,Y,X,Y) :- open(X,Y).
field(X,Y,V+D,W+E) :- field(X,Y,V,W), open(V+D,W+E), D = (-1;1), E = (-1;1).

centre(K,X,Y) :- kind(K,S), X = -n..n, Y = -n..n, (X+Y+S) \\ 2 = 0.
takes(K,X,Y,A,B) :- centre(K,X,Y), kind(K,S), pin(A,B), |A-X| + |B-Y| < S.
within(K,X,Y,A,B) :- centre(K,X,Y), kind(K,S), hole(A,B), |A-X| + |B-Y| < S-1.
whole(K,X,Y) :- centre(K,X,Y), kind(K,S), S*S = #count { A,B : takes(K,X,Y,A,B) }.
{ unit(K,X,Y) } :- whole(K,X,Y).
:- unit(K,X,Y), within(K,X,Y,A,B), not open(A,B).
:- unit(K,X,Y), turn(A,B,C,D), not unit(K,A*X+B*Y,C*X+D*Y).

:- worked(round), unit(K,X,Y), 2 <= #count { Q : takes(K,X,Y,A,B), quarter(Q,A,B) }.

taken(A,B) :- unit(K,X,Y), takes(K,X,Y,A,B).
:- pin(A,B), 2 <= #count { K,X,Y : unit(K,X,Y), takes(K,X,Y,A,B) }.
:- unit(K,X,Y), unit(L,V,W), (K,X,Y) != (L,V,W), not in_line(K), not in_line(L),
   takes(K,X,Y,A,B), takes(L,V,W,A+D,B+E), D = (-1;1), E = (-1;1).
:- unit(K,X,Y), unit(L,V,W), K < L, within(K,X,Y,A,B), within(L,V,W,C,D), field(A,B,C,D).
% u = (x + y) / 2 and v = (y - x) / 2 modulo 2
in_line(rose; half_stitch_rose).
:- in_line(K), unit(K,X,Y), unit(K,V,W), field(X,Y,V,W), (X+Y-V-W) \\ 4 != 0.
:- in_line(K), unit(K,X,Y), unit(K,V,W), field(X,Y,V,W), (Y-X-W+V) \\ 4 != 0.

{ doubled(X,Y) } :- open(X,Y), double.
:- doubled(X,Y), field(X,Y,V,W), not doubled(V,W).
:- unit(K,X,Y), within(K,X,Y,A,B), doubled(A,B).
twice(A,B) :- doubled(X,Y), corner(X,Y,_,A,B), not taken(A,B).
:- twice(X,Y), turn(A,B,C,D), not twice(A*X+B*Y,C*X+D*Y).
#show unit/3. #show twice/2.
"""


def every(asked: AskedSquares) -> set[Told]:
    """All squares of a asked, each once."""
    control = clingo.Control(["--models=0", "--project=show", "--warn=none"])
    control.add("base", [], facts(asked) + BLOCKS + FILLINGS)
    control.ground([("base", [])])
    found: list[Told] = []
    with control.solve(yield_=True) as handle:
        found.extend(told_of(model.symbols(shown=True)) for model in handle)
    designs = set(found)
    assert len(designs) == len(found)
    return designs


def facts(asked: AskedSquares) -> str:
    pinholes = 2 * asked.half_size * (asked.half_size + 1)
    least, most = (share * pinholes for share in asked.solid)
    constants = {
        "n": asked.half_size, "margin": asked.margin, "narrowest": asked.narrowest, "widest": asked.widest,
        "ground": asked.narrowest_ground, "splits": asked.splits,
        "least": -int(-least // 1), "most": int(most),
    }  # fmt: skip
    facts = [f"#const {name} = {value}." for name, value in constants.items()]
    facts += [f"turn({','.join(map(str, matrix))})." for matrix in GENERATORS[asked.symmetry]]
    facts += [f"worked({asked.worked}).", f"corners({asked.corners or 'before'})."]
    facts += [f"stitch({name})." for name in asked.stitches if name in ("cloth", "half", "whole")]
    facts += [f"kind({_word(kind)},{side})." for kind, side in kinds_of(asked.stitches).items()]
    if "double-ground" in asked.stitches:
        facts.append("double.")
    return "\n".join(facts) + "\n"


def kinds_of(stitches: tuple[str, ...]) -> dict[str, int]:
    """The figures among what a brief allows, and their pinholes a side."""
    return {kind: side for name in stitches for kind, side in SIDES.get(name, {}).items()}


def _word(kind: str) -> str:
    return kind.replace("-", "_")


def told_of(symbols: Sequence[clingo.Symbol]) -> Told:
    """A lace from what a program shows of it."""
    blocks, units, doubled = [], [], []
    for each in symbols:
        values = [a.number if a.type == clingo.SymbolType.Number else a.name for a in each.arguments]
        if each.name in ("in", "in_block"):
            blocks.append((values[0], values[1], values[2]))
        elif each.name in ("unit", "middle"):
            units.append((str(values[0]).replace("_", "-"), values[1], values[2]))
        else:
            doubled.append((values[0], values[1]))
    return frozenset(blocks), frozenset(units), frozenset(doubled)
