"""The same questions put to three kinds of solvers: full rules, a hint, and the least match of a laid stamp."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from time import perf_counter

import numpy as np
from others import AnswerSets, Asked, CpSat, Sat

from constraints.brief import Brief, limits, sizes
from constraints.formula import Linear, truth
from constraints.lattice import BoolArray
from constraints.rules.match import match
from constraints.stamp import Stamp
from explore.bench import Bench
from explore.compose.canvas import Canvas
from explore.compose.plans import compose, draw_plan, top_up
from explore.compose.stitching import stitched
from explore.diversity import Collection
from explore.finish import finish
from explore.laying.laid import Laid

WANTED = 24
# Deterministic time for one question to CP-SAT, as a job of the search gives it.
EFFORT = 0.5
Question = tuple[BoolArray, Linear]


def compositions(bench: Bench, laid: list[Laid]) -> Iterator[Question]:
    """What the search asks: a composition round the laid stamp, stitches and fillings chosen."""
    for job in range(1000):
        rng = np.random.default_rng([1, job])
        canvas = _canvas(bench, laid[job % len(laid)])
        brief, half = bench.brief, bench.size.half_size
        taken = int(np.abs(bench.piece.pinholes[canvas.block | canvas.keep_off]).max(initial=0))
        room = half - brief.margin - taken
        plan = draw_plan(rng, job, half, brief.symmetry, brief.narrowest, brief.solid, room)
        compose(canvas, plan, rng)
        top_up(canvas, plan, rng)
        yield stitched(bench.model, canvas, rng), _least_match(bench, laid[job % len(laid)])


def fields(bench: Bench, laid: list[Laid]) -> Iterator[Question]:
    """Harder: a smooth random field round the laid stamp, which keeps no rule by itself."""
    piece, model = bench.piece, bench.model
    for job in range(1000):
        rng = np.random.default_rng([2, job])
        canvas = _canvas(bench, laid[job % len(laid)])
        noise = rng.standard_normal(len(piece))
        for _ in range(3):
            beside = np.where(piece.neighbours >= 0, noise[piece.neighbours], 0.0)
            noise = noise + beside.sum(axis=1)
            noise = noise[piece.images].mean(axis=0)
        solid = float(rng.uniform(*bench.brief.solid))
        block = canvas.block | ((noise > np.quantile(noise, 1 - solid)) & ~canvas.keep_off)
        values = np.zeros(model.formula.size, dtype=bool)
        literal = next(iter(model.stitch.values()))
        real = literal > 0
        values[literal[real]] = block[real]
        yield values, _least_match(bench, laid[job % len(laid)])


SETTINGS: dict[str, Callable[[Bench, list[Laid]], Iterator[Question]]] = {
    "compositions": compositions,
    "rough fields": fields,
}


def compare(half_size: int, symmetry: str, setting: str, stamp: Stamp) -> None:
    """Print one line a solver: squares, questions, milliseconds a square, and the ratio to the best."""
    brief = Brief(half_size=(half_size, half_size), pairs=half_size + 2, symmetry=symmetry)
    bench = Bench(brief, stamp, sizes(brief)[0])
    laid = [bench.lay(place) for place in bench.places]
    laid = [each for each in laid if each.blocking is not None and each.blocking.match >= brief.least_match]
    formula = bench.model.formula
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
        found, asked, took, kept = _run(bench, solver, SETTINGS[setting](bench, laid))
        rows.append((name, found, asked, loading, 1000 * took / max(found, 1), kept))
    best = min(row[4] for row in rows)
    for name, found, asked, loading, each, kept in rows:
        print(
            f"    {name:8} {found:3} squares of {asked:3} questions {each:8.1f} ms a square, {each / best:5.1f} x "
            f"the best; keeps {kept:.0%} of the hint; built in {loading:.2f} s"
        )
    hint, extra = next(SETTINGS[setting](bench, laid))
    _, idle = CpSat(formula, 0.0).solve(formula.complete(hint), extra)
    print(f"    CP-SAT hands over and loads the model anew for each question: {1000 * idle:.1f} ms of its time")


def _run(bench: Bench, solver: Asked, questions: Iterator[Question]) -> tuple[int, int, float, float]:
    """Squares found and apart, questions asked, seconds of solving, share of pinholes as the hint had them."""
    collection = Collection(bench.brief.apart)
    formula = bench.model.formula
    found = asked = 0
    took = 0.0
    kept = []
    for hint, extra in questions:
        values, seconds = solver.solve(formula.complete(hint), extra)
        asked += 1
        took += seconds
        if values is not None:
            alike = truth(values, bench.model.block) == truth(formula.complete(hint), bench.model.block)
            kept.append(float(alike.mean()))
            assert not formula.broken(values)
            assert extra.least <= int(extra.weights @ values[extra.variables])
            told = {"pitch_mm": 5.0, "pairs": bench.size.pairs, "stamp": None, "composition": ""}
            found += collection.takes(finish(bench.model, values, brief=limits(bench.brief), **told))
        if found == WANTED or asked == 8 * WANTED:
            break
    return found, asked, took, float(np.mean(kept)) if kept else 0.0


def _canvas(bench: Bench, laid: Laid) -> Canvas:
    assert laid.blocking is not None
    keep_off = np.zeros(len(bench.piece), dtype=bool)
    keep_off[laid.target.inside] = keep_off[laid.target.near] = True
    return Canvas(bench.blocks, laid.blocking.block.copy(), keep_off)


def _least_match(bench: Bench, laid: Laid) -> Linear:
    return match(bench.model, laid.target, bench.brief.least_match)
