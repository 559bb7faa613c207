"""Cousins keep what is to be kept, change the share asked, and differ from each other: told from their files alone."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from asked import file_of
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from varied import changed, exact, least_changed, pinholes

from constraints.brief import Brief
from constraints.check import check
from constraints.design import Block, Design
from constraints.design_file import to_text
from constraints.piece import ACROSS, ROUND
from constraints.stamp import Stamp
from constraints.symmetry import SYMMETRIES
from explore.bad_input import BadInput
from explore.editing.varying.cousins import cousins
from explore.editing.varying.kept import Kept, kept
from explore.reading import built_in, read
from explore.search.accepting import JobResult
from explore.search.search import Impossible, search

TULIP = read(built_in("tulip"))
PLAIN = Brief.of(half_size=(12, 12), pairs=60, solid=(0.1, 0.6))
PRINTED = Brief.of(stamp="tulip", half_size=(16, 16), match=0.6, solid=(0.1, 0.6))


def first(brief: Brief, *stamps: Stamp) -> Design:
    return next(step.design for step in search(brief, *stamps, count=1, cores=1) if step.design is not None)


def designs(steps: list[JobResult]) -> list[Design]:
    return [step.design for step in steps if step.design is not None]


@pytest.fixture(scope="module")
def plain() -> Design:
    return first(PLAIN)


@pytest.fixture(scope="module")
def printed() -> Design:
    return first(PRINTED, TULIP)


def none_of(design: Design) -> Kept:
    return kept(design, [])


def sound(chosen: Design, found: list[Design], change: tuple[float, float], least: float) -> None:
    """What must hold of any cousins, recomputed from what their files say."""
    told = [file_of(design) for design in (chosen, *found)]
    for design, each in zip(found, told[1:], strict=True):
        assert check(design) == []
        assert change[0] <= changed(told[0], each) <= change[1]
    for one, other in combinations(told, 2):
        assert least_changed(one, other) >= least


@pytest.mark.parametrize("worked", [ROUND, ACROSS])
@pytest.mark.parametrize("symmetry", SYMMETRIES)
def test_the_share_asked_is_changed_under_every_symmetry(symmetry: str, worked: str) -> None:
    brief = PLAIN.changed(half_size=(10, 10), symmetry=symmetry, worked=worked)
    chosen = first(brief)
    found = designs(list(cousins(chosen, brief, (), none_of(chosen), (0.08, 0.45), count=2, cores=1)))
    assert len(found) == 2
    sound(chosen, found, (0.08, 0.45), 0.08)
    for each in map(file_of, found):
        assert each["symmetry"] == symmetry
        told = exact(each)
        for (a, b), (c, d) in SYMMETRIES[symmetry]:
            moved = {(a * x + b * y, c * x + d * y): words.split(" at ")[0] for (x, y), words in told.items()}
            assert moved == {point: words.split(" at ")[0] for point, words in told.items()}


WHERE = {
    "centre": lambda x, y, n: max(abs(x), abs(y)) <= n / 2,
    "corner": lambda x, y, n: min(abs(x), abs(y)) >= n / 2,
    "edge": lambda x, y, n: max(abs(x), abs(y)) >= 0.75 * n,
}


@pytest.mark.parametrize("bare", [False, True])
@pytest.mark.parametrize("name", WHERE)
def test_kept_places_stay_pinhole_for_pinhole(plain: Design, name: str, bare: bool) -> None:
    """bare: of plain ground alone, which fillings beside the kept part might spill into."""
    chosen = replace(plain, fillings=()) if bare else plain
    found = designs(list(cousins(chosen, PLAIN, (), kept(chosen, [name]), (0.05, 0.4), count=4, cores=1)))
    assert found
    before = exact(file_of(chosen))
    places = [(x, y) for x, y in pinholes(file_of(chosen)) if WHERE[name](x, y, 12)]
    assert places
    for design in found:
        after = exact(file_of(design))
        assert [after[point] for point in places] == [before[point] for point in places]
    sound(chosen, found, (0.05, 0.4), 0.05)


def test_kept_blocks_stay_and_no_others_come(plain: Design) -> None:
    found = designs(list(cousins(plain, PLAIN, (), kept(plain, ["blocks"]), (0.05, 0.6), count=3, cores=1)))
    assert found
    assert all(design.blocks == plain.blocks for design in found)
    sound(plain, found, (0.05, 0.6), 0.05)


def test_kept_fillings_stay_where_they_are() -> None:
    brief = PLAIN.changed(seed=4)
    chosen = next(
        step.design for step in search(brief, count=8, cores=1) if step.design is not None and step.design.fillings
    )
    found = designs(list(cousins(chosen, brief, (), kept(chosen, ["fillings"]), (0.02, 0.6), count=2, cores=1)))
    assert found
    worked = {
        point: words for point, words in exact(file_of(chosen)).items() if not words.startswith(("plain", "block"))
    }
    for design in found:
        after = exact(file_of(design))
        assert all(after[point] == words for point, words in worked.items())


def test_the_print_stays_where_it_lies(printed: Design) -> None:
    found = designs(list(cousins(printed, PRINTED, (TULIP,), none_of(printed), (0.05, 0.3), count=4, cores=1)))
    assert len(found) == 4
    assert printed.prints
    for design in found:
        assert design.prints == printed.prints  # also the match, which the check works out anew
    sound(printed, found, (0.05, 0.3), 0.05)


@pytest.mark.parametrize("looser", ["quarter-turn", "upright-mirror", "none"])
def test_a_looser_symmetry_keeps_every_copy_of_the_print(printed: Design, looser: str) -> None:
    brief = PRINTED.changed(symmetry=looser)
    found = designs(list(cousins(printed, brief, (TULIP,), none_of(printed), (0.05, 0.3), count=2, cores=1)))
    assert found
    assert printed.prints
    for design in found:
        assert design.symmetry == looser
        assert design.prints
        assert design.prints[0].match == pytest.approx(printed.prints[0].match, abs=0.03)
    sound(printed, found, (0.05, 0.3), 0.05)


def test_the_squares_are_the_same_on_any_number_of_cores(printed: Design) -> None:
    runs = [
        [
            to_text(design)
            for design in designs(
                list(cousins(printed, PRINTED, (TULIP,), none_of(printed), (0.05, 0.3), count=5, cores=cores))
            )
        ]
        for cores in (1, 2)
    ]
    assert runs[0] == runs[1]
    assert len(runs[0]) == 5


def test_a_later_run_goes_on_where_the_first_ended(plain: Design) -> None:
    whole = list(cousins(plain, PLAIN, (), none_of(plain), (0.05, 0.3), count=5, cores=1))
    begun = list(cousins(plain, PLAIN, (), none_of(plain), (0.05, 0.3), count=2, cores=1))
    rest = list(
        cousins(
            plain, PLAIN, None, none_of(plain), (0.05, 0.3), kept_before=designs(begun), first_job=begun[-1].job + 1,
            first_number=3, count=3, cores=1,
        )
    )  # fmt: skip
    assert [to_text(each) for each in designs([*begun, *rest])] == [to_text(each) for each in designs(whole)]


def test_keeping_too_much_is_proven_impossible(plain: Design) -> None:
    with pytest.raises(Impossible, match="leaves at most 0% of the pinholes to change, 5% are asked for"):
        list(cousins(plain, PLAIN, (), kept(plain, ["-12,-12:12,12"]), (0.05, 0.3), cores=1))


def test_a_symmetry_that_the_square_has_not_is_refused() -> None:
    brief = PLAIN.changed(solid=(0.0, 1.0))
    lopsided = Block("cloth", ((5, 0), (4, 1), (6, 1), (5, 2)))
    chosen = replace(first(brief), symmetry="none", blocks=(lopsided,), fillings=())
    with pytest.raises(BadInput, match="has not the symmetry full"):
        list(cousins(chosen, brief, (), none_of(chosen), (0.05, 0.3), cores=1))


@settings(max_examples=8, suppress_health_check=list(HealthCheck))
@given(
    ends=st.tuples(*[st.integers(-14, 14)] * 4),
    low=st.floats(0.01, 0.5),
    more=st.floats(0.02, 0.3),
    seed=st.integers(0, 50),
)
def test_any_box_and_change_give_sound_cousins_or_an_honest_end(
    plain: Design, ends: tuple[int, int, int, int], low: float, more: float, seed: int
) -> None:
    brief = PLAIN.changed(seed=seed)
    x0, y0, x1, y1 = ends
    try:
        keep = kept(plain, [f"{x0},{y0}:{x1},{y1}"])
        steps = list(cousins(plain, brief, (), keep, (low, low + more), count=2, cores=1))
    except (BadInput, Impossible) as error:
        refused = str(error)
    else:
        refused = ""
    if refused:
        assert "\n" not in refused
        return
    found = designs(steps)
    assert all((step.design is None) == bool(step.note) for step in steps)
    sound(plain, found, (low, low + more), min(brief.run.apart, low))
    before = exact(file_of(plain))
    for design in found:
        after = exact(file_of(design))
        for x, y in before:
            for a, b in ((x, y), (y, x)):  # the square has full symmetry
                if any(x0 <= p * a <= x1 and y0 <= q * b <= y1 for p in (1, -1) for q in (1, -1)):
                    assert after[x, y] == before[x, y]


def test_a_box_is_kept_with_its_images(plain: Design) -> None:
    mask = kept(plain, ["1,2:3,4"]).block
    points = {(x, y) for x, y in plain.piece().pinholes[mask].tolist()}
    one = {(x, y) for x in range(1, 4) for y in range(2, 5) if (x + y) % 2}
    assert points == {(a * x, b * y) for x, y in one | {(y, x) for x, y in one} for a in (1, -1) for b in (1, -1)}
    assert np.array_equal(mask, kept(plain, ["1,2:3,4", "1,2:3,4"]).filling)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("center", r'keep is "center" \(did you mean centre\?\); allowed: centre, corner'),
        ("3,4:1,2", r"upside down.*try 1,2:3,4"),
        ("-20,0:3,4", r"reaches beyond the square; allowed: x and y from -12 to 12; try -12,0:3,4"),
        ("0,0:0,0", r"where no pinhole lies"),
        ("1,2", "allowed: centre, corner"),
    ],
)
def test_what_cannot_be_kept_is_refused_with_what_can(plain: Design, text: str, message: str) -> None:
    with pytest.raises(BadInput, match=message):
        kept(plain, [text])


@pytest.mark.parametrize(
    "box", [(3, 4, 1, 2), (20, -20, -3, 30), (0, 0, 0, 0), (12, 12, 12, 12), (14, 0, 20, 0), (-12, -12, -12, -12)]
)
def test_the_box_that_is_told_instead_of_one_that_cannot_be_kept_can_be(
    plain: Design, box: tuple[int, int, int, int]
) -> None:
    x0, y0, x1, y1 = box
    with pytest.raises(BadInput, match="try ") as told:
        kept(plain, [f"{x0},{y0}:{x1},{y1}"])
    assert kept(plain, [str(told.value).rpartition("try ")[2]]).block.any()
