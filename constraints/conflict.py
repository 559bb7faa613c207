"""Why no square at all can keep a brief, proven by solving, and how near to it one comes.

The square that is tried has plain edges, also where the brief asks for a headside: the plain one asks less. What a
headside takes, blocks and figures may not have, margins are counted from it, and it is no part of what is solid or is
asked for. (Seen so in solving both for 30 sizes and margins with fans.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from constraints import rulebook
from constraints.brief import Brief
from constraints.corners import CLEAR, looser
from constraints.fillings import Rule
from constraints.forms import Square
from constraints.formula import FALSE, TRUE, truth
from constraints.lattice import IntArray
from constraints.piece import ROUND
from constraints.rules.least import counted, least
from constraints.rules.solid import solid
from constraints.solver import Solver, Status
from constraints.square_sizes import Size
from constraints.variables import Model
from constraints.wording import shown_apart

# Deterministic time for each question.
_EFFORT = 1.5


@dataclass(frozen=True)
class Conflict:
    """words: why, on one line. near: the brief with each limit where it can be met as far as counting goes."""

    words: str
    near: tuple[Brief, ...] = ()


def conflict(brief: Brief, size: Size, effort: float = 1.0) -> Conflict | None:
    """Why no square of this size can keep the brief's rules (the stamp apart), else None.

    None also when the effort does not suffice for a proof: impossible and not found are different answers.
    """
    if _status(brief, size, effort) is not Status.IMPOSSIBLE:
        return None
    facts, near = [], []
    crossing = _other_corners(brief, size, effort)
    if crossing is not None:
        facts.append("blocks would have to cross corner lines" + ("" if brief.rules.corners == CLEAR else " in halves"))
        near.append(crossing)
    for name, most in _most_of_each(brief, size, effort).items():
        facts.append(f"at most {most} of {name} fit, {brief.rules.least[name]} are asked for")
        near.append(brief.changed(least={**brief.rules.least, name: most}))
    reached = _reach_of_solid(brief, size, effort)
    if reached is not None:
        shown_reached, asked = shown_apart(100 * reached, 100 * brief.rules.solid[0])
        facts.append(f"blocks can take at most {shown_reached}% of the pinholes, solid asks for {asked}%")
        steps = 20 if reached >= 0.05 else 100
        lower = math.floor(reached * steps) / steps
        if lower > 0:  # none at all would leave squares without a block
            near.append(brief.changed(solid=(lower, brief.rules.solid[1])))
    start = f"no square of half-size {size.half_size} can keep this brief"
    return Conflict(f"{start}: {'; '.join(facts)}" if facts else start, tuple(near))


def _model(brief: Brief, size: Size, rules: tuple[Rule, ...] = rulebook.RULES) -> Model:
    piece = Square(size.half_size).piece(brief.piece.worked, brief.piece.symmetry)
    return rulebook.build(piece, brief.rules, rules)


def _status(brief: Brief, size: Size, effort: float) -> Status:
    model = _model(brief, size)
    solver = Solver(model.formula)
    answer = solver.solve(np.zeros(model.formula.size, dtype=bool), _EFFORT * effort)
    if answer.status is Status.NOT_FOUND:  # counting arguments need linear reasoning
        answer = solver.prove(_EFFORT * effort)
    return Status.FOUND if answer.status is Status.BEST else answer.status


def _other_corners(brief: Brief, size: Size, effort: float) -> Brief | None:
    """The brief with the next way of crossing corner lines that squares can keep; None if none is found."""
    others = (brief.changed(corners=each) for each in looser(brief.rules.corners) if brief.piece.worked == ROUND)
    return next((each for each in others if _status(each, size, effort) is Status.FOUND), None)


def _most_of_each(brief: Brief, size: Size, effort: float) -> dict[str, int]:
    """How many there can be of everything the brief asks a least number of, where that is too few."""
    facts = {}
    for name, wanted in brief.rules.least.items():
        model = _model(brief.changed(least={}), size)
        reached = _most(model, counted(model, name), effort)
        if reached is not None and reached < wanted:
            facts[name] = reached
    return facts


def _reach_of_solid(brief: Brief, size: Size, effort: float) -> float | None:
    """The greatest share that blocks can take, if the least share asked is beyond it; else None."""
    model = _model(brief, size, tuple(rule for rule in rulebook.RULES if rule not in (solid, least)))
    reached = _most(model, model.block, effort)
    if reached is None or reached >= brief.rules.solid[0] * len(model.piece):
        return None
    return reached / len(model.piece)


def _most(model: Model, literals: IntArray, effort: float) -> int | None:
    """The proven greatest number of true literals; None if it is not proven in the effort."""
    real = literals[(literals != TRUE) & (literals != FALSE)]
    certain = int((literals == TRUE).sum())
    if not len(real):
        return certain
    distinct, weights = np.unique(real, return_counts=True)
    answer = Solver(model.formula).maximise(distinct, weights, None, _EFFORT * effort)
    if answer.status is not Status.BEST or answer.values is None:
        return None
    return certain + int(weights @ truth(answer.values, distinct))
