"""The model: which figures a composition takes. What it chooses keeps every block rule as it is."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from constraints import rulebook
from constraints.encoding import set_true
from constraints.formula import FALSE, gathered
from constraints.lattice import BoolArray, FloatArray, IntArray
from constraints.rules.corners import corners
from constraints.rules.narrowest_ground import narrowest_ground
from constraints.rules.one_worker import one_worker
from constraints.solver import Solver
from constraints.variables import Model
from explore.search.compose.canvas import Canvas
from explore.search.compose.parts import Random
from explore.search.composing.candidates import Candidate, desk_of
from explore.search.composing.manners import Manner
from explore.search.composing.taste import Taste

_RULE = "composition"
# At most so many figures, so many that go all round, and so many pieces in all.
_FIGURES, _RUNNING, _PIECES = 8, 4, 32
# Points for one of what leads, and for each family that has a part.
_LED, _KIND = 800, -60
# Deterministic time; most are proven to be best in half of it.
_EFFORT = 1.0


def chosen(
    canvas: Canvas, every: Sequence[Candidate], manner: Manner, solid: tuple[float, float], effort: float, rng: Random
) -> list[Candidate]:
    """Those of figures that look best together on a canvas, as far as is found; none if none fit, or none of those that
    lead has room.

    solid: least and greatest share of pinholes in blocks. effort multiplies the usual deterministic time.
    """
    if not every:
        return []
    taste = Taste(desk_of(canvas), manner, every)
    liked = taste.of_figures(rng), *taste.of_pairs(rng)
    least, most = _places(canvas, solid)
    leading = [len(each.places) for each in every if manner.liking(each.family) == 2]
    if leading and min(leading) > most:
        return []
    model, own = _model(canvas, every)
    literals, points = _objective(model, own, taste, *liked)
    _limits(model, own, taste, least, most)
    hint = _hint(model, own, taste, points[: len(own)], least, most)
    weights = np.round(10 * points).astype(np.int64)
    answer = Solver(model.formula).maximise(literals, weights, hint, effort * _EFFORT)
    if answer.values is None:
        return []
    return [figure for figure, literal in zip(every, own.tolist(), strict=True) if answer.values[literal]]


def _model(canvas: Canvas, every: Sequence[Candidate]) -> tuple[Model, IntArray]:
    """The block rules on what the print and chosen figures take, and (figures,) what says which are chosen."""
    piece = canvas.piece
    model = rulebook.build(piece, canvas.model.rules, (one_worker, corners, narrowest_ground))
    formula, block = model.formula, model.block
    own = formula.variables(len(every))
    here = np.concatenate([each.places for each in every])
    whose = np.repeat(own, [len(each.places) for each in every])
    formula.clause(_RULE, ~whose, block[here])
    taking = gathered(here, whose, len(piece))
    open_still = ~canvas.block & (block != FALSE)
    formula.clause(_RULE, ~block[open_still], taking[open_still])
    formula.clause(_RULE, block[canvas.block & ~piece.fan])
    # Two figures never touch along a step, so that each keeps its shape.
    for step in range(2):
        beside = piece.neighbours[:, step]
        there = beside >= 0
        formula.at_most_one(_RULE, np.concatenate([taking[there], taking[beside[there]]], axis=1))
    return model, own


def _places(canvas: Canvas, solid: tuple[float, float]) -> tuple[int, int]:
    """The fewest and the most places that figures may take."""
    free = ~canvas.piece.fan
    already, total = int((canvas.block & free).sum()), int(free.sum())
    least, most = solid
    return int(np.ceil(least * total)) - already, int(most * total) - already


def _limits(model: Model, own: IntArray, taste: Taste, least: int, most: int) -> None:
    formula = model.formula
    ones = np.ones(len(own), dtype=np.int64)
    formula.linear(_RULE, own, ones, 1, _FIGURES)
    running = np.array([each.running for each in taste.figures])
    formula.linear(_RULE, own[running], ones[running], 0, _RUNNING)
    formula.linear(_RULE, own, taste.pieces, min(0, int(taste.pieces.min())), _PIECES)
    formula.linear(_RULE, own, taste.blocks.sum(axis=1), least, most)


def _hint(model: Model, own: IntArray, taste: Taste, points: FloatArray, least: int, most: int) -> BoolArray:
    """(size,) where to begin: one that leads, then figures with the most points, one after the other, as long as they
    keep apart."""
    values = np.zeros(model.formula.size, dtype=np.bool_)
    block = taste.desk.print.copy()
    near, taken = np.zeros(len(block), dtype=np.bool_), 0
    order = np.argsort(-points, kind="stable").tolist()
    leading = next((number for number in order if taste.manner.liking(taste.figures[number].family) == 2), order[0])
    for number in [leading, *order]:
        figure = taste.figures[number].places
        if taken < least and taken + len(figure) <= most and not near[figure].any():
            values[own[number]], block[figure], taken = True, True, taken + len(figure)
            near = taste.piece.widened(block)
    set_true(values, model.block[block])
    return model.formula.complete(values)


def _objective(
    model: Model, own: IntArray, taste: Taste, each: FloatArray, first: IntArray, second: IntArray, worth: FloatArray
) -> tuple[IntArray, FloatArray]:
    """Literals, and the points of each. each: (figures,) points of the figures; first, second, worth: pairs of them by
    their numbers, and the points of the two together."""
    formula = model.formula
    families = np.array([each.family for each in taste.figures])
    told = [(own, each)]
    told.append((formula.all_of(_RULE, np.stack([own[first], own[second]], axis=1)), worth))
    leads = [taste.manner.liking(family) == 2 for family in families.tolist()]
    kinds = [(_KIND, families == family) for family in sorted(set(families.tolist()))]
    for points, which in (*taste.answered.values(), *kinds, (_LED, np.array(leads))):
        if which.any():
            told.append((formula.any_of(_RULE, own[which][None, :]), np.array([float(points)])))
    rows, points_lost = taste.empty(own)
    told.append((~formula.any_of(_RULE, rows), points_lost))
    return np.concatenate([each for each, _ in told]), np.concatenate([points for _, points in told])
