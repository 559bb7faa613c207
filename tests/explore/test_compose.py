"""Composing lays only what can be worked, keeps off the stamp, and fills every field as the rules want it."""

from __future__ import annotations

import networkx
import numpy as np
import pytest

from constraints.brief import Brief
from constraints.check import check
from constraints.fillings import ALLOWED
from constraints.forms import Square
from constraints.lattice import BoolArray
from constraints.layout import fields_of
from constraints.piece import WORKED
from constraints.symmetry import SYMMETRIES
from constraints.variables import Model
from explore.search.attempt import Making, decoded
from explore.search.compose import stitching
from explore.search.compose.canvas import Canvas
from explore.search.compose.plans import PLANS, compose, draw_plan, top_up
from explore.search.compose.stitching import stitched
from explore.search.composing import taste
from explore.search.context import Context
from explore.search.squares import workshop

HALF_SIZE = 16


def lace(symmetry: str, worked: str) -> Context:
    """A square of all stitches, as solid as can be."""
    asked = Brief.of(pairs=60, symmetry=symmetry, worked=worked, stitches=ALLOWED, solid=(0.0, 1.0))
    return Context(Square(HALF_SIZE), worked, symmetry, asked.rules)


def composed(model: Model, seed: int, stamp: BoolArray | None = None) -> Canvas:
    """A composition round a stamp, or on open ground."""
    nothing = np.zeros(len(model.piece), dtype=bool)
    block = nothing if stamp is None else stamp
    canvas = Canvas(model, block.copy(), nothing.copy())
    if stamp is not None:
        canvas.keep_off[canvas.piece.widened(stamp, 2)] = True
    rng = np.random.default_rng(seed)
    plan = draw_plan(rng, seed, HALF_SIZE, model.piece.symmetry, model.rules.narrowest, (0.2, 0.5), HALF_SIZE)
    compose(canvas, plan, rng)
    top_up(canvas, plan, rng)
    return canvas


def places(model: Model, *points: tuple[int, int]) -> BoolArray:
    mask = np.zeros(len(model.piece), dtype=bool)
    mask[[model.piece.index[point] for point in points]] = True
    return mask


def diamond(model: Model, top: tuple[int, int], side: int) -> BoolArray:
    x, y = top
    return places(model, *((x + i - j, y + i + j) for i in range(side) for j in range(side)))


@pytest.mark.parametrize("worked", WORKED)
@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_what_is_composed_can_be_worked_as_it_is(symmetry: str, worked: str) -> None:
    """No solver is needed: a composition with its stitches and fillings keeps every rule, and the check agrees."""
    own = lace(symmetry, worked)
    plain, full = own.blocks, own.model
    for seed in range(3):
        canvas = composed(plain, seed)
        assert canvas.block.any()
        values = full.formula.complete(stitched(full, canvas, np.random.default_rng(seed)))
        assert full.formula.broken(values) == []
        design = decoded(own, values, (), Making(5.0, 1, 1, "", ""))
        assert check(design) == []
        assert {p for block in design.blocks for p in block.pinholes} == {
            p for p, i in plain.piece.index.items() if canvas.block[i]
        }


@pytest.mark.parametrize("symmetry", ["full", "half-turn", "upright-mirror", "none"])
def test_parts_keep_off_the_stamp_and_the_margin_and_repeat_with_the_symmetry(symmetry: str) -> None:
    plain = lace(symmetry, "round").blocks
    stamp = np.zeros(len(plain.piece), dtype=bool)
    stamp[plain.piece.images[:, diamond(plain, (-9, -2), 3)].ravel()] = True
    for seed in range(4):
        canvas = composed(plain, seed, stamp)
        laid = canvas.block & ~stamp
        assert canvas.block[stamp].all()
        assert not (laid & canvas.keep_off).any()
        assert (plain.piece.depth[canvas.block] >= plain.rules.margin).all()
        for image in plain.piece.images:
            assert (canvas.block[image] == canvas.block).all()
        # Every place is of the part that laid it: 0 is the stamp, the others have names.
        assert (canvas.part[stamp] == 0).all()
        assert (canvas.part[laid] > 0).all()
        assert (canvas.part[~canvas.block] == -1).all()
        assert canvas.part.max() < len(canvas.names)


def test_a_part_that_cannot_be_worked_is_not_laid() -> None:
    plain = lace("none", "round").blocks
    canvas = Canvas(plain, diamond(plain, (-9, -2), 3), places(plain, (-8, 9)))
    before = canvas.block.copy()
    refused = {
        "too thin": places(plain, (1, 8), (2, 9), (3, 10), (4, 11), (5, 12)),
        "on the stamp": diamond(plain, (-9, -2), 2),
        "beside the stamp": diamond(plain, (-6, 1), 2),
        "with a notch": diamond(plain, (9, -2), 3) & ~places(plain, (9, 2)),
        "kept off": diamond(plain, (-8, 7), 3),
        "in the margin": diamond(plain, (-14, -1), 3),
        "too much": diamond(plain, (9, -4), 5),
    }
    for name, part in refused.items():
        assert not canvas.add(name, part, most_solid=0.05), name
        assert (canvas.block == before).all()
    assert canvas.add("fine", diamond(plain, (9, -2), 3), most_solid=0.05)
    assert (canvas.block == before | diamond(plain, (9, -2), 3)).all()
    assert canvas.names == ["stamp", "fine"]


def test_room_is_counted_in_steps_from_what_is_taken() -> None:
    plain = lace("none", "round").blocks
    canvas = Canvas(plain, diamond(plain, (0, -1), 2), np.zeros(len(plain.piece), dtype=bool))
    room = canvas.clearance()
    index = plain.piece.index
    # The block reaches to (0, 1); the margin takes the pinholes from 15 units on.
    assert [int(room[index[0, y]]) for y in (1, 3, 5, 7, 9, 11, 13)] == [0, 2, 4, 6, 6, 4, 2]


def test_the_same_seed_composes_the_same_and_every_plan_comes_in_turn() -> None:
    own = lace("none", "round")
    plain, full = own.blocks, own.model
    once, again = (composed(plain, 7) for _ in range(2))
    assert (once.block == again.block).all()
    values = [stitched(full, once, np.random.default_rng(seed)) for seed in (5, 5)]
    assert (values[0] == values[1]).all()
    rng = np.random.default_rng(1)
    drawn = {draw_plan(rng, job, HALF_SIZE, "none", 2, (0.2, 0.5), 8).name for job in range(4 * len(PLANS))}
    assert drawn == set(PLANS)


def test_figures_go_over_fewer_corner_lines_where_there_is_a_choice(monkeypatch: pytest.MonkeyPatch) -> None:
    """There blocks are worked in halves; as many compositions without that preference have more such places."""
    brief = Brief.of(pairs=60, half_size=(16, 16))
    work = workshop.SquareWorkshop(brief, ())

    def links_taken() -> list[int]:
        rounds = (work.compose(number, None, np.random.default_rng(number)).canvas for number in range(16))
        return [int(canvas.block[work.placings[0].links].all(axis=1).sum()) for canvas in rounds]

    preferred = links_taken()
    monkeypatch.setattr(taste, "_SEAM", 0.0)
    anyhow = links_taken()
    assert sum(preferred) < 0.95 * sum(anyhow)
    assert sum(count == 0 for count in preferred) >= sum(count == 0 for count in anyhow)


@pytest.mark.parametrize("symmetry", ["none", "upright-mirror", "full"])
def test_no_figure_is_scattered_in_a_large_field(symmetry: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Figures of one filling stand in groups that a designer sees as one; what stands alone is no more than a few in a
    field that they nearly fill."""
    monkeypatch.setattr(stitching, "RESTING", 0.0)
    groups = 0
    for seed in range(12):
        context = lace(symmetry, "round")
        canvas = composed(context.model, seed, diamond(context.model, (0, -7), 7))
        values = stitched(context.model, canvas, np.random.default_rng(seed))
        field = fields_of(context.piece, canvas.block)
        for sites in context.model.sites.values():
            there = np.flatnonzero(values[sites.chosen])
            for number in np.unique(field[sites.holes[there, 0]]).tolist():
                if (field == number).sum() < 0.08 * len(field):
                    continue
                centres = sites.centres[there[field[sites.holes[there, 0]] == number]]
                apart = np.abs(centres[:, None] - centres).sum(axis=2)
                near = (apart <= 1.5 * apart[apart > 0].min()) & (apart > 0)
                sizes = [len(each) for each in networkx.connected_components(networkx.from_numpy_array(near))]
                assert min(sizes) >= 4
                groups += len(sizes)
    assert groups >= 4


def test_figures_that_she_asks_for_are_laid_wherever_they_find_room() -> None:
    """With so many spiders asked for that no group is left out."""
    asked = Brief.of(pairs=60, symmetry="none", stitches=("cloth", "spider"), least={"spider": 3}, solid=(0.0, 1.0))
    context = Context(Square(5), "round", "none", asked.rules)
    canvas = Canvas(context.model, np.zeros(len(context.piece), dtype=bool), np.zeros(len(context.piece), dtype=bool))
    values = stitched(context.model, canvas, np.random.default_rng(0))
    assert sum(int(values[sites.chosen].sum()) for sites in context.model.sites.values()) >= 1
