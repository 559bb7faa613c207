"""Walls of every form: who belongs to a family is told from the files alone, and what a form has not is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest
from asked import STRIPS, file_of
from varied import exact

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Design
from constraints.forms import Form, Frame, Rectangle, Square, Strip
from explore.bad_input import BadInput
from explore.editing.series import pool
from explore.editing.series.family import BORDER, CENTRE, SHARES, STAMP, TRAIL, Family, family
from explore.editing.series.making import choose
from explore.editing.series.order import DENSITY, LOOSENING, ORDERS, PAIRS, SYMMETRY, own_symmetry
from explore.editing.series.trail import longest_trail
from explore.search.search import search

BRIEFS = {
    "strip": STRIPS.changed(symmetry="upright-mirrors", rows=(16, 16), pairs=20, count=1, solid=(0.1, 0.6)),
    "frame": Brief.of(form="frame", half_size=(15, 15), half_height=15, band=10, pairs=20, count=1, solid=(0.1, 0.6)),
    "rectangle": Brief.of(
        form="rectangle", worked="across", symmetry="upright-mirrors", half_size=(9, 9), half_height=12, pairs=30,
        count=1, solid=(0.1, 0.6),
    ),
}  # fmt: skip


@pytest.fixture(scope="module", params=BRIEFS)
def asked(request: pytest.FixtureRequest) -> pool.SeriesRequest:
    """A request for a wall of three that share the longest trail of a piece."""
    brief = BRIEFS[request.param]
    piece = next(step.design for step in search(brief, cores=1) if step.design is not None)
    return pool.SeriesRequest(brief, (), [piece], [piece], family(TRAIL, [piece]), DENSITY, 3)


@pytest.fixture
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pool, "WANTED", 6)


def family_of(share: str, design: Design) -> Family | None:
    """None if there is nothing of this kind to share."""
    try:
        return family(share, [design])
    except BadInput:
        return None


@pytest.mark.usefixtures("small")
def test_every_piece_of_a_wall_has_the_trail_pinhole_for_pinhole(asked: pool.SeriesRequest) -> None:
    chosen = asked.chosen[0]
    members = pool.gather(asked, 1)
    assert len(members) > 2
    before = exact(file_of(chosen))
    trail = {tuple(place) for place in asked.family.figures["pinholes"]}
    rows = chosen.form.repeating.rows if chosen.form.repeating else None
    own = [(x, y) for x, y in before if ((x, y % rows) if rows else (x, y)) in trail]
    assert len(own) >= len(trail)
    for member in members:
        assert check(member.design) == []
        assert member.design.form == chosen.form
        after = exact(file_of(member.design))
        assert [after[place] for place in own] == [before[place] for place in own]
    wall = choose(members, 1, asked.family, DENSITY, 3, 1)
    assert len(wall.designs) == 3
    assert wall.least > 0


@pytest.mark.parametrize("share", [each for each in SHARES if each != STAMP])
def test_a_piece_belongs_to_its_own_family_and_not_to_that_of_other_measures(
    asked: pool.SeriesRequest, share: str
) -> None:
    chosen = asked.chosen[0]
    found = family_of(share, chosen)
    if found is None:
        return
    assert found.holds(chosen)
    grown = chosen.form.grown(2, None)
    assert grown is not None
    assert not found.holds(replace(chosen, form=grown))


def test_walls_by_pairs_go_through_the_sizes_of_a_form_and_never_share_a_part(asked: pool.SeriesRequest) -> None:
    """What a size takes is common practice, no source: a strip a pair a column, a frame one a unit of its band, a
    rectangle two a pitch of its half-width."""
    alike = replace(asked, order=PAIRS, family=replace(asked.family, share=CENTRE, form=None))
    found = [each.brief.piece for each in pool.variants(alike)]
    measures = {"strip": "columns", "frame": "band", "rectangle": "half_size"}
    sizes = [getattr(piece, measures[piece.form]) for piece in found]
    assert len(sizes) > 2
    assert sizes == sorted(set(sizes), reverse=True)
    with pytest.raises(BadInput, match=f"order pairs needs {asked.chosen[0].form.name}s of several sizes, and a"):
        pool.variants(replace(asked, order=PAIRS))


def test_symmetries_along_a_wall_are_those_that_the_form_can_have(asked: pool.SeriesRequest) -> None:
    chosen = asked.chosen[0]
    allowed = chosen.form.symmetries_allowed(chosen.worked)
    names = [each.brief.piece.symmetry for each in pool.variants(replace(asked, order=SYMMETRY))]
    assert names == [name for name in LOOSENING if name in names]
    assert set(names) <= set(allowed)
    assert chosen.symmetry in names
    assert own_symmetry(chosen) in allowed
    assert LOOSENING.index(own_symmetry(chosen)) <= LOOSENING.index(chosen.symmetry)
    assert all(pool.variants(replace(asked, order=order)) for order in ORDERS if order != PAIRS)


def test_a_trail_runs_all_along_a_strip_if_nothing_passes_it() -> None:
    form = Strip(13, 8, 3)
    through = [(x, y) for y in range(24) for x in (5, 6, 7) if (x + y) % 2]
    bare = next(step.design for step in search(BRIEFS["strip"], cores=1) if step.design is not None)
    for gap, closed in (((), True), ((3, 4), False)):
        places = tuple((x, y) for x, y in through if y % 8 not in gap)
        block = replace(bare.blocks[0], pinholes=places)
        found = longest_trail(replace(bare, form=form, symmetry="none", blocks=(block,), fillings=()))
        assert found is not None
        assert found.closed is closed


@pytest.mark.parametrize(
    ("form", "smaller"),
    [
        (Rectangle(9, 12), Rectangle(7, 10)),
        (Frame(15, 15, 10), Frame(13, 13, 8)),
        (Square(9), Square(7)),
        (Strip(13, 8, 2), Strip(11, 8, 2)),
    ],
)
def test_a_form_has_others_of_other_measures(form: Form, smaller: Form) -> None:
    assert form.grown(-2, None) == smaller


def test_a_border_and_a_centre_are_apart(asked: pool.SeriesRequest) -> None:
    chosen = asked.chosen[0]
    border, centre = (family_of(share, chosen) for share in (BORDER, CENTRE))
    if border is not None and centre is not None:
        one, other = ({tuple(each) for each in found.part.pinholes.tolist()} for found in (border, centre))
        assert one.isdisjoint(other)
