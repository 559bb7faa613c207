"""The search keeps its promises whatever the brief: the same squares, apart from each other, all sound."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from telling import least_difference

from constraints.brief import KNOWN, Brief
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text, to_text
from constraints.fillings import ALLOWED, FILLINGS
from constraints.forms import Square
from constraints.square_sizes import Size
from constraints.square_sizes import sizes as sizes_of
from constraints.stamp import Stamp
from constraints.stitches import STITCHES
from constraints.symmetry import SYMMETRIES
from explore.reading import built_in, built_in_names, read
from explore.search import memory
from explore.search.accepting import JobResult
from explore.search.laying.sectors import Place
from explore.search.search import Impossible, search
from explore.search.squares.placing import Placing

TULIP = read(built_in("tulip"))


def found(steps: list[JobResult]) -> list[Design]:
    return [step.design for step in steps if step.design is not None]


def texts(designs: list[Design]) -> list[str]:
    return [to_text(design) for design in designs]


# --- deterministic ---------------------------------------------------------------------------------------

BRIEFS = {
    "a stamp": (
        Brief.of(half_size=(14, 14), count=6, match=0.6, narrowest_ground=1, symmetry="upright-mirror"),
        (TULIP,),
    ),
    "a print to be known": (
        Brief.of(half_size=(15, 15), count=6, known=KNOWN, own_splits=6, symmetry="upright-mirror"),
        (TULIP,),
    ),
    "no stamp, across": (
        Brief.of(half_size=(10, 10), pairs=40, count=6, symmetry="half-turn", worked="across", solid=(0.1, 0.6)),
        (),
    ),
    "two sizes": (Brief.of(half_size=(8, 9), count=6, symmetry="quarter-turn", solid=(0.1, 0.5)), ()),
}


@pytest.fixture(scope="module", params=BRIEFS)
def wish(request: pytest.FixtureRequest) -> tuple[Brief, tuple[Stamp, ...], list[JobResult]]:
    brief, stamps = BRIEFS[request.param]
    return brief, stamps, list(search(brief, *stamps, cores=1))


def test_the_squares_are_those_asked_for(wish: tuple[Brief, tuple[Stamp, ...], list[JobResult]]) -> None:
    brief, stamps, steps = wish
    designs = found(steps)
    assert [design.number for design in designs] == list(range(1, 7))
    assert [step.job for step in steps] == sorted({step.job for step in steps})
    assert all((step.design is None) == bool(step.note) for step in steps)
    for design in designs:
        assert check(design) == []
        assert from_text(to_text(design)) == design
        copies = len(SYMMETRIES[design.symmetry])
        assert design.splits <= max(brief.rules.splits, copies * brief.stamp.own_splits)
        assert len(design.prints) == len(stamps)
        assert Size(design.half_size, design.pitch_mm, design.pairs) in sizes_of(brief)


def test_any_two_squares_are_apart_however_they_are_turned(
    wish: tuple[Brief, tuple[Stamp, ...], list[JobResult]],
) -> None:
    brief, _, steps = wish
    assert least_difference(found(steps)) >= brief.run.apart


def test_the_squares_are_the_same_on_two_cores(wish: tuple[Brief, tuple[Stamp, ...], list[JobResult]]) -> None:
    brief, stamps, steps = wish
    memory.forget()
    assert texts(found(list(search(brief, *stamps, cores=2)))) == texts(found(steps))


def test_three_and_then_three_more_are_six(wish: tuple[Brief, tuple[Stamp, ...], list[JobResult]]) -> None:
    brief, stamps, steps = wish
    first = list(search(brief, *stamps, count=3, cores=1))
    more = search(brief, *stamps, kept=found(first), first_job=first[-1].job + 1, first_number=4, count=3, cores=1)
    assert texts(found(first) + found(list(more))) == texts(found(steps))


def test_what_was_laid_before_is_laid_no_more_and_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Under another share of solid, which laying does not look at, and by cores that did not lay it themselves."""
    brief, stamps = BRIEFS["a print to be known"]
    other = brief.changed(solid=(0.1, 0.55))
    memory.forget()
    fresh = texts(found(list(search(other, *stamps, cores=1))))
    memory.forget()
    laid: list[Place] = []
    lay = Placing.lay
    monkeypatch.setattr(
        Placing, "lay", lambda self, place, patience=1.0: laid.append(place) or lay(self, place, patience)
    )
    list(search(brief, *stamps, cores=1))
    first = len(laid)
    assert texts(found(list(search(other, *stamps, cores=1)))) == fresh
    assert first == len(laid) > 10
    # What laying does look at is laid anew.
    list(islice(search(other.changed(match=brief.rules.match - 0.02), *stamps, cores=1), 1))
    assert len(laid) > first


@pytest.mark.parametrize("cores", [1, 2])
def test_a_square_comes_before_all_places_are_laid(cores: int) -> None:
    brief, stamps = BRIEFS["a print to be known"]
    memory.forget()
    laid: list[tuple[int, int]] = []
    steps = search(brief, *stamps, cores=cores, laying=lambda done, total: laid.append((done, total)))
    assert next(steps).design is not None
    first = len(laid)
    assert found(list(steps))
    assert first <= 3 < laid[-1][0] == len(laid)


def test_another_seed_gives_other_squares() -> None:
    brief = BRIEFS["two sizes"][0].changed(count=2)
    one, other = (found(list(search(brief.changed(seed=seed), cores=1))) for seed in (1, 2))
    assert [s.blocks for s in one] != [s.blocks for s in other]


# --- honest ----------------------------------------------------------------------------------------------


def test_a_brief_without_a_size_is_proven_impossible() -> None:
    with pytest.raises(Impossible, match="pairs"):
        list(search(Brief.of(pairs=1), cores=1))


def test_what_no_square_can_keep_is_proven_impossible_in_her_words() -> None:
    brief = Brief.of(half_size=(6, 6), stitches=("cloth",), solid=(0.9, 1.0))
    with pytest.raises(Impossible, match="solid"):
        list(search(brief, cores=1))


def test_too_little_effort_is_not_called_impossible() -> None:
    # Crowded, so that no composition keeps the rules by itself.
    brief = Brief.of(half_size=(14, 14), symmetry="none", solid=(0.44, 0.445), effort=1e-6, count=1)
    steps = list(islice(search(brief, cores=1), 4))
    assert found(steps) == []
    assert steps
    assert all(step.note for step in steps)


# --- any brief -------------------------------------------------------------------------------------------

STAMPS: dict[str, tuple[Stamp, ...]] = {"": (), **{name: (read(built_in(name)),) for name in built_in_names()}}


@pytest.mark.parametrize("worked", ["round", "across"])
@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_every_symmetry_can_be_worked_either_way(symmetry: str, worked: str) -> None:
    brief = Brief.of(
        pairs=60, half_size=(10, 10), symmetry=symmetry, worked=worked, solid=(0.1, 0.5), count=2, stitches=ALLOWED
    )
    designs = found(list(search(brief, cores=1)))
    assert len(designs) == 2
    for design in designs:
        assert check(design) == []
        assert (design.symmetry, design.worked) == (symmetry, worked)
    assert least_difference(designs) >= brief.run.apart


@st.composite
def briefs(draw: st.DrawFn) -> Brief:
    def one_of(*values: Any) -> Any:
        """The first values are the milder ones: examples shrink towards briefs that can be met."""
        return draw(st.sampled_from(values))

    half_size = draw(st.integers(6, 14))
    worked, passives = one_of("round", "across"), one_of(1, 0, 2)
    least_solid = one_of(0.0, 0.1, 0.2, 0.5)
    stitches = {one_of(*STITCHES), one_of(*ALLOWED), one_of(*FILLINGS), one_of(*ALLOWED)}
    names = tuple(name for name in ALLOWED if name in stitches)
    return Brief.of(
        stamp=one_of("", "", *STAMPS),
        pairs=Square(half_size + one_of(0, 0, 0, 1, -1)).pairs(worked, passives),
        half_size=one_of(None, (half_size, half_size), (half_size - 2, half_size)),
        symmetry=one_of(*SYMMETRIES),
        worked=worked,
        passives=passives,
        stitches=names,
        least=one_of({}, {}, {one_of(*names): one_of(1, 4, 40)}),
        narrowest=one_of(2, 1, 3),
        widest=one_of(16, 6, 3),
        narrowest_ground=one_of(2, 1, 3),
        margin=one_of(2, 1, 3),
        splits=one_of(0, 0, 1, 8),
        solid=(least_solid, least_solid + one_of(0.5, 0.3, 0.05)),
        match=one_of(0.3, 0.65, 0.9),
        stamp_size=one_of(None, None, (4.0, 6.0), (7.5, 7.5)),
        turns=one_of((), (), (0.0,), (30.0, 45.0)),
        copies=one_of(1, 1, 2),
        apart=one_of(0.1, 0.001, 0.3),
        seed=draw(st.integers(0, 2**31 - 1)),
        effort=one_of(0.2, 0.05),
    )


def answered(brief: Brief) -> tuple[list[JobResult], str]:
    """The first few jobs of a brief, and in what words it was proven impossible, if it was."""
    steps: list[JobResult] = []
    try:
        steps.extend(islice(search(brief, *STAMPS[brief.stamp.name], cores=1), 4))
    except Impossible as impossible:
        return steps, str(impossible)
    return steps, ""


@given(briefs())
@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_brief_ends_with_an_honest_answer_or_sound_squares(brief: Brief) -> None:
    steps, proof = answered(brief)
    designs = found(steps)
    assert (steps and not proof) or (proof and not designs)
    assert "\n" not in proof
    for design in designs:
        assert check(design) == []
        assert (design.worked, design.symmetry) == (brief.piece.worked, brief.piece.symmetry)
        assert design.pairs <= brief.rules.pairs
        assert (not design.prints) == (brief.stamp.name == "")
    assert least_difference(designs) >= brief.run.apart
    assert all(step.note and "\n" not in step.note for step in steps if step.design is None)
