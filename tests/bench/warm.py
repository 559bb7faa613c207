"""The same questions put to three kinds of solvers: full rules, a hint, and the least match of a laid stamp."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from time import perf_counter

import numpy as np
from others import AnswerSets, Asked, CpSat, Sat

from constraints.brief import Brief
from constraints.formula import Linear, truth
from constraints.lattice import BoolArray
from constraints.rules.match import match
from constraints.square_sizes import sizes
from constraints.stamp import Stamp
from explore.search.attempt import Making, decoded
from explore.search.compose.canvas import Canvas
from explore.search.compose.plans import compose, draw_plan, top_up
from explore.search.compose.stitching import stitched
from explore.search.diversity import Collection
from explore.search.laying.laid import PlaceLaid
from explore.search.squares.placing import Placing

WANTED = 24
# Deterministic time for one question to CP-SAT, as a job of the search gives it.
EFFORT = 0.5
Question = tuple[BoolArray, Linear]


def compositions(placing: Placing, laid: list[PlaceLaid]) -> Iterator[Question]:
    """What the search asks: a composition round the laid stamp, stitches and fillings chosen."""
    for job in range(1000):
        rng = np.random.default_rng([1, job])
        canvas = _canvas(placing, laid[job % len(laid)])
        brief, half = placing.brief, placing.size.half_size
        taken = int(np.abs(placing.context.piece.pinholes[canvas.block | canvas.keep_off]).max(initial=0))
        room = half - brief.rules.margin - taken
        plan = draw_plan(rng, job, half, brief.piece.symmetry, brief.rules.narrowest, brief.rules.solid, room)
        compose(canvas, plan, rng)
        top_up(canvas, plan, rng)
        yield stitched(placing.context.model, canvas, rng), _least_match(placing, laid[job % len(laid)])


def fields(placing: Placing, laid: list[PlaceLaid]) -> Iterator[Question]:
    """Harder: a smooth random field round the laid stamp, which keeps no rule by itself."""
    piece, model = placing.context.piece, placing.context.model
    for job in range(1000):
        rng = np.random.default_rng([2, job])
        canvas = _canvas(placing, laid[job % len(laid)])
        noise = rng.standard_normal(len(piece))
        for _ in range(3):
            beside = np.where(piece.neighbours >= 0, noise[piece.neighbours], 0.0)
            noise = noise + beside.sum(axis=1)
            noise = noise[piece.images].mean(axis=0)
        solid = float(rng.uniform(*placing.brief.rules.solid))
        block = canvas.block | ((noise > np.quantile(noise, 1 - solid)) & ~canvas.keep_off)
        values = np.zeros(model.formula.size, dtype=bool)
        literal = next(iter(model.stitch.values()))
        real = literal > 0
        values[literal[real]] = block[real]
        yield values, _least_match(placing, laid[job % len(laid)])


SETTINGS: dict[str, Callable[[Placing, list[PlaceLaid]], Iterator[Question]]] = {
    "compositions": compositions,
    "rough fields": fields,
}


def compare(half_size: int, symmetry: str, setting: str, stamp: Stamp) -> None:
    """Print one line a solver: squares, questions, milliseconds a square, and the ratio to the best."""
    brief = Brief.of(half_size=(half_size, half_size), pairs=half_size + 2, symmetry=symmetry)
    placing = Placing(brief, stamp, sizes(brief)[0])
    laid = [placing.lay(place) for place in placing.places]
    laid = [each for each in laid if each.blocking is not None and each.blocking.match >= brief.rules.match]
    formula = placing.context.model.formula
    print(f"  half-size {half_size}, {symmetry}, from {setting}; {formula.size} variables")
    rows = []
    for name, make in (
        ("CP-SAT", lambda: CpSat(formula, EFFORT)),
        ("CaDiCaL", lambda: Sat(formula)),
        ("clingo", lambda: AnswerSets(formula)),
    ):
        start = perf_counter()
        solver = make()
        loading = perf_counter() - start
        found, asked, took, kept = _run(placing, solver, SETTINGS[setting](placing, laid))
        rows.append((name, found, asked, loading, 1000 * took / max(found, 1), kept))
    best = min(row[4] for row in rows)
    for name, found, asked, loading, each, kept in rows:
        print(
            f"    {name:8} {found:3} squares of {asked:3} questions {each:8.1f} ms a square, {each / best:5.1f} x "
            f"the best; keeps {kept:.0%} of the hint; built in {loading:.2f} s"
        )
    hint, extra = next(SETTINGS[setting](placing, laid))
    _, idle = CpSat(formula, 0.0).solve(formula.complete(hint), extra)
    print(f"    CP-SAT hands over and loads the model anew for each question: {1000 * idle:.1f} ms of its time")


def _run(placing: Placing, solver: Asked, questions: Iterator[Question]) -> tuple[int, int, float, float]:
    """Squares found and apart, questions asked, seconds of solving, share of pinholes as the hint had them."""
    collection = Collection(placing.brief.run.apart)
    formula = placing.context.model.formula
    found = asked = 0
    took = 0.0
    kept = []
    for hint, extra in questions:
        values, seconds = solver.solve(formula.complete(hint), extra)
        asked += 1
        took += seconds
        if values is not None:
            alike = truth(values, placing.context.model.block) == truth(
                formula.complete(hint), placing.context.model.block
            )
            kept.append(float(alike.mean()))
            assert not formula.broken(values)
            assert extra.least <= int(extra.weights @ values[extra.variables])
            found += collection.takes(decoded(placing.context, values, (), Making(5.0, 1, 1, "", "")))
        if found == WANTED or asked == 8 * WANTED:
            break
    return found, asked, took, float(np.mean(kept)) if kept else 0.0


def _canvas(placing: Placing, laid: PlaceLaid) -> Canvas:
    assert laid.blocking is not None
    keep_off = np.zeros(len(placing.context.piece), dtype=bool)
    keep_off[laid.target.inside] = keep_off[laid.target.near] = True
    return Canvas(placing.context.blocks, laid.blocking.block.copy(), keep_off)


def _least_match(placing: Placing, laid: PlaceLaid) -> Linear:
    return match(placing.context.model, laid.target, placing.brief.rules.match)
