"""Why no square at all can keep a brief, proven by solving, and what would mend it.

Each mend that a sentence offers has been solved: with that one change a square exists.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from constraints import model
from constraints.brief import Brief, Size
from constraints.explain import shown
from constraints.formula import FALSE, TRUE, truth
from constraints.lattice import IntArray
from constraints.piece import square
from constraints.rules.least import counted, least
from constraints.rules.solid import solid
from constraints.solver import Solver, Status
from constraints.variables import Lace

# Deterministic time for each question.
_EFFORT = 1.5


@dataclass(frozen=True)
class _Mend:
    """words: what to change, for the sentence. brief: the brief with that change."""

    words: str
    brief: Brief


def conflict(brief: Brief, size: Size, effort: float = 1.0) -> str | None:
    """One line on why no square of this size can keep the brief's rules (the stamp apart), else None.

    None also when the effort does not suffice for a proof: impossible and not found are different answers.
    """
    if _status(brief, size, effort) is not Status.IMPOSSIBLE:
        return None
    facts = _most_of_each(brief, size, effort)
    solid_reached = _reach_of_solid(brief, size, effort)
    loosened = _mends(brief)
    if solid_reached is not None:
        facts.append(f"blocks can take at most {shown(100 * solid_reached)}% of the pinholes, "
                     f"solid asks for {shown(100 * brief.solid[0])}%")
        lower = math.floor(solid_reached * 20) / 20
        loosened.insert(0, _Mend(f"solid from {shown(lower)}", replace(brief, solid=(lower, brief.solid[1]))))
    mends = [mend.words for mend in loosened if _status(mend.brief, size, effort) is Status.FOUND]
    start = f"no square of half-size {size.half_size} can keep this brief"
    said = f": {'; '.join(facts)}" if facts else ""
    helped = f"; what mends it: {' or '.join(mends)}" if mends else "; no single change of a limit mends it"
    return start + said + helped


def _lace(brief: Brief, size: Size) -> Lace:
    return model.lace(square(size.half_size, brief.worked, brief.symmetry), brief)


def _status(brief: Brief, size: Size, effort: float) -> Status:
    lace = _lace(brief, size)
    solver = Solver(lace.formula)
    answer = solver.solve(np.zeros(lace.formula.size, dtype=bool), _EFFORT * effort)
    if answer.status is Status.NOT_FOUND:  # counting arguments need linear reasoning
        answer = solver.prove(_EFFORT * effort)
    return Status.FOUND if answer.status is Status.BEST else answer.status


def _mends(brief: Brief) -> list[_Mend]:
    """Single changes that loosen a limit, mildest first."""
    mends = [
        _Mend(f"no least number of {name}", replace(brief, least={n: c for n, c in brief.least.items() if n != name}))
        for name in brief.least
    ]
    for narrower in range(brief.narrowest - 1, 0, -1):
        mends.append(_Mend(f"narrowest {narrower}", replace(brief, narrowest=narrower)))
    for narrower in range(brief.narrowest_ground - 1, 0, -1):
        mends.append(_Mend(f"narrowest_ground {narrower}", replace(brief, narrowest_ground=narrower)))
    for less in range(brief.margin - 1, 0, -1):
        mends.append(_Mend(f"margin {less}", replace(brief, margin=less)))
    for splits in (8, 16, 32):
        if splits > brief.splits:
            mends.append(_Mend(f"splits {splits}", replace(brief, splits=splits)))
    if brief.symmetry != "none":
        mends.append(_Mend("symmetry none", replace(brief, symmetry="none")))
    return mends


def _most_of_each(brief: Brief, size: Size, effort: float) -> list[str]:
    """How many there can be of everything the brief asks a least number of, where that is too few."""
    facts = []
    for name, wanted in brief.least.items():
        lace = _lace(replace(brief, least={}), size)
        reached = _most(lace, counted(lace, name), effort)
        if reached is not None and reached < wanted:
            facts.append(f"at most {reached} of {name} fit, {wanted} are asked for")
    return facts


def _reach_of_solid(brief: Brief, size: Size, effort: float) -> float | None:
    """The greatest share that blocks can take, if the least share asked is beyond it; else None."""
    rules = tuple(rule for rule in model.RULES if rule not in (solid, least))
    lace = model.lace(square(size.half_size, brief.worked, brief.symmetry), brief, rules)
    reached = _most(lace, lace.block, effort)
    if reached is None or reached >= brief.solid[0] * len(lace.piece):
        return None
    return reached / len(lace.piece)


def _most(lace: Lace, literals: IntArray, effort: float) -> int | None:
    """The proven greatest number of true literals; None if it is not proven in the effort."""
    real = literals[(literals != TRUE) & (literals != FALSE)]
    certain = int((literals == TRUE).sum())
    if not len(real):
        return certain
    distinct, weights = np.unique(real, return_counts=True)
    answer = Solver(lace.formula).maximise(distinct, weights, None, _EFFORT * effort)
    if answer.status is not Status.BEST or answer.values is None:
        return None
    return certain + int(weights @ truth(answer.values, distinct))
