"""The check passes what can be worked, and names what is wrong with the rest."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import pytest
from broken import BROKEN
from designs import ALL_EIGHT, GOOD, UPRIGHT, Matrix, made, moved, turned
from hypothesis import given, settings
from hypothesis import strategies as some

from constraints.check import RULES, VALUES, WHOLE, Finding, check
from constraints.design import Block, Design, FieldFilling
from constraints.design_file import from_text, to_text
from constraints.symmetry import SYMMETRIES


@pytest.mark.parametrize("name", GOOD)
def test_a_square_that_can_be_worked_passes(name: str) -> None:
    assert check(GOOD[name]) == []


@pytest.mark.parametrize("name", BROKEN)
def test_each_fault_is_found_under_its_name_and_no_other(name: str) -> None:
    design, rules = BROKEN[name]
    assert {finding.rule for finding in check(design)} == rules


def test_every_rule_is_broken_by_some_square() -> None:
    assert set().union(*(rules for _, rules in BROKEN.values())) == {*RULES, *WHOLE, VALUES}


def test_findings_point_at_the_places() -> None:
    design, _ = BROKEN["beside the edge"]
    assert check(design) == [Finding("margin", "blocks come nearer to the edge than 2 units", ((-15, 0),))]
    assert str(check(design)[0]) == "margin: blocks come nearer to the edge than 2 units: (-15, 0)"


def test_a_key_missing_from_the_brief_limits_nothing() -> None:
    limited = {"margin", "narrowest", "widest", "narrowest ground", "solid", "stitches", "least"}
    for design, rules in BROKEN.values():
        if rules & limited and len(rules) == 1:
            assert check(replace(design, brief={})) == []


def test_the_check_survives_the_way_through_a_file() -> None:
    for design in GOOD.values():
        assert check(from_text(to_text(design))) == []


def test_the_check_and_the_flow_need_no_solver() -> None:
    # Fresh interpreter: what the check imports, and what it must stay independent of.
    code = (
        "import sys, constraints.check, constraints.flow\n"
        "parts = ('ortools', 'constraints.model', 'constraints.rules', 'constraints.formula',"
        " 'constraints.variables', 'constraints.solver')\n"
        "print([m for m in sys.modules if m.startswith(parts)])"
    )
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert result.stdout.strip() == "[]"


# --- turning and mirroring -------------------------------------------------------------------------------


def _keeps(symmetry: str, matrix: Matrix) -> bool:
    """Whether a square of this symmetry still has it (as named) once turned by the matrix."""

    def after(first: Matrix, second: Matrix) -> Matrix:
        (a, b), (c, d) = (moved(column, second) for column in zip(*first, strict=True))
        return ((a, c), (b, d))

    back = next(m for m in ALL_EIGHT if after(matrix, m) == ((1, 0), (0, 1)))
    group = set(SYMMETRIES[symmetry])
    return {after(after(back, m), matrix) for m in group} == group


def _told(design: Design, matrix: Matrix) -> set[tuple[str, str, frozenset[tuple[int, int]]]]:
    """What the check finds, its places moved; of a cycle only that there is one (any one may be told)."""
    return {
        (f.rule, f.message, frozenset(moved(p, matrix) for p in f.pinholes if f.rule != "flow")) for f in check(design)
    }


EVERY = {**GOOD, **{name: design for name, (design, _) in BROKEN.items()}}


@pytest.mark.parametrize("matrix", ALL_EIGHT[1:], ids=str)
def test_turning_or_mirroring_a_square_commutes_with_the_check(matrix: Matrix) -> None:
    """Worked round: all eight, for a mirrored round is the round worked backwards from the other end, and
    splits become merges. Worked across: those that keep the working direction or turn it about."""
    tried = 0
    for design in EVERY.values():
        if design.symmetry not in SYMMETRIES or not _keeps(design.symmetry, matrix):
            continue
        if design.worked == "across" and matrix not in UPRIGHT:
            continue
        found = _told(turned(design, matrix), ((1, 0), (0, 1)))
        assert found == _told(design, matrix)
        # The file of the turned square says the same, where a file can be written at all.
        if {rule for rule, _, _ in found} <= set(RULES) - {"places"}:
            assert _told(from_text(to_text(turned(design, matrix))), ((1, 0), (0, 1))) == found
        tried += 1
    assert tried > 50


# --- anything at all -------------------------------------------------------------------------------------

places = some.lists(some.tuples(some.integers(-7, 7), some.integers(-7, 7)), max_size=12).map(tuple)
fillings = some.builds(
    FieldFilling, some.sampled_from(["rose", "spider-8", "spider-12", "spider-16", "double-ground"]), places
)


@settings(max_examples=150, deadline=None)
@given(
    half_size=some.integers(1, 7),
    worked=some.sampled_from(["round", "across"]),
    symmetry=some.sampled_from(sorted(SYMMETRIES)),
    parts=some.lists(some.builds(Block, some.sampled_from(["cloth", "half"]), places) | fillings, max_size=4),
)
def test_any_square_is_judged_without_failing(
    half_size: int, worked: str, symmetry: str, parts: list[Block | FieldFilling]
) -> None:
    found = check(made(half_size, *parts, worked=worked, symmetry=symmetry))
    assert {finding.rule for finding in found} <= {*RULES, *WHOLE, VALUES}
    assert all(finding.message and "\n" not in str(finding) for finding in found)
    listed = [p for part in parts for p in (part.pinholes if isinstance(part, Block) else part.places)]
    off = {p for p in listed if max(map(abs, p)) > half_size}
    named = {p for finding in found if finding.rule == "places" for p in finding.pinholes}
    assert off <= named


def test_two_pairs_are_the_fewest_that_a_file_may_tell() -> None:
    # One line and one edge pair: the smallest square, without passives.
    smallest = made(1, passives=0)
    assert smallest.pairs == 2
    assert from_text(to_text(smallest)) == smallest
    with pytest.raises(ValueError, match="pairs"):
        from_text(to_text(replace(smallest, pairs=1)))


def test_a_split_and_a_merge_are_shown_at_the_three_places_round_each() -> None:
    # An opening of 3 x 3 pinholes from (-11, -2) down to (-11, 2): holes above and below it have three places of four.
    wrong = replace(GOOD["reversed print"], splits=0)
    [found] = check(wrong)
    assert set(found.pinholes) == {(-11, -4), (-12, -3), (-10, -3), (-11, 4), (-12, 3), (-10, 3)}
