"""A survey of budgets from one end to the other: squares, record, table, plot, and every way it may end."""

import json
import os
import re
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

from constraints.brief import AT_ONCE, KNOWN, Brief
from constraints.check import check
from explore.editing.budget.charting import chart
from explore.editing.budget.frontier import Budget, Showing, Verdict
from explore.editing.budget.record import known_from, to_text
from explore.editing.budget.showing import showing
from explore.editing.budget.sizes import rows
from explore.editing.budget.survey import Survey, survey
from explore.editing.budget.words import heading, table
from explore.editing.budget.writing import write
from explore.reading import built_in, read
from explore.search import memory
from explore.search.search import search
from explore.search.workshops import workshop
from explore.storage.study import open_study
from gallery.seeing.knowing import KNOWN_AS, seen_in

Ask = Callable[..., tuple[int, list[str], list[str]]]

BUDGETS, ROWS = (6, 18), (6, 9, 12, 15, 18)
STITCHES = ("cloth", "rose", "spider")
BRIEF = Brief.of(stamp="leaf", pairs=18, symmetry="upright-mirror", stitches=STITCHES, own_splits=6, effort=0.3)
LEAF = read(built_in("leaf"))


def quiet(words: str, done: int, total: int) -> None:
    assert 0 <= done <= total


@pytest.fixture(scope="module")
def found() -> Survey:
    return survey(BRIEF, (LEAF,), BUDGETS, ROWS, 1, quiet)


# --- what it finds -----------------------------------------------------------------------------------------


def test_more_pairs_are_never_worse(found: Survey) -> None:
    assert [budget.pairs for budget in found.budgets] == list(range(6, 19))
    for smaller, larger in pairwise(found.budgets):
        assert smaller.eyes is None or (larger.eyes is not None and larger.eyes.value >= smaller.eyes.value)
        for name, verdict in smaller.verdicts.items():
            assert larger.verdicts[name].value >= verdict.value
    assert found.budgets[-1].eyes is not None


def test_every_square_passes_the_check_within_its_budget(found: Survey) -> None:
    designs = [design for each in found.reached for design in each.designs]
    assert len(designs) >= 6
    for pairs in ROWS:
        shown = found.shown(pairs)
        for design in shown.designs if shown else ():
            assert check(design) == []
            assert design.pairs <= pairs
            assert design.prints
            assert design.prints[0].match >= BRIEF.rules.match


def test_a_print_that_is_known_is_known_in_a_square_of_those_pairs(found: Survey) -> None:
    """What a budget says of its print is what the measure says of a square that carries it."""
    pairs = known_from(found)
    assert pairs is not None
    assert all(
        each.showing is None or each.showing.known not in (KNOWN, AT_ONCE)
        for each in found.reached
        if each.size.pairs < pairs
    )
    at = next(each for each in found.reached if each.size.pairs == pairs)
    brief = at.size.brief.changed(known=KNOWN, solid=(0.0, 1.0))
    designs = [each.design for each in search(brief, LEAF, count=1, cores=1, hasty=True) if each.design is not None]
    assert [seen_in(design).known for design in designs] in ([KNOWN], [AT_ONCE])


def test_the_eyes_of_a_print_follow_its_score() -> None:
    """Logistic: of a score of 0 every second eye names it, of one of 1.0986 three of four (odds of 3)."""
    even, three = (Showing("leaf", score, KNOWN, 10.0, 0.0, "none", 0.9).eyes for score in (0.0, 1.0986))
    assert (even, three) == (0.5, pytest.approx(0.75, abs=1e-4))


def test_where_symmetries_are_left_open_the_best_of_them_is_told() -> None:
    both, one = (BRIEF.changed(symmetry=each) for each in ("upright-mirror,full", "full"))
    several, fewer = (workshop(each.changed(half_size=(16, 16)), LEAF) for each in (both, one))
    shown, alone = (showing(each.grounds, each.best_laid([0.0], 10)) for each in (several, fewer))
    assert shown is not None
    assert alone is not None
    assert shown.score > alone.score
    assert (shown.symmetry, alone.symmetry) == ("upright-mirror", "full")


@pytest.fixture(scope="module")
def fewer() -> Survey:
    """Of two budgets alone, and small ones."""
    return survey(BRIEF, (LEAF,), (8, 9), (8, 9), 1, quiet)


def test_the_same_on_any_number_of_cores(fewer: Survey) -> None:
    memory.forget()
    other = survey(BRIEF, (LEAF,), (8, 9), (8, 9), 2, quiet)
    assert any(each.designs for each in fewer.reached)
    assert other.reached == fewer.reached
    assert to_text(other, {}, {}) == to_text(fewer, {}, {})


def test_figures_of_a_budget_do_not_depend_on_the_range(found: Survey, fewer: Survey) -> None:
    assert fewer.budgets[-1].eyes is not None
    told = {budget.pairs: budget for budget in found.budgets}
    for budget in fewer.budgets:
        of_all = told[budget.pairs]
        assert budget.eyes == of_all.eyes


def test_a_stop_leaves_out_the_budgets_that_were_not_worked_out() -> None:
    def stop(words: str, done: int, total: int) -> None:
        if (words, done) == ("sizes", 6):
            raise KeyboardInterrupt

    told = survey(BRIEF, (LEAF,), BUDGETS, ROWS, 1, stop)
    assert [each.size.measure for each in told.reached] == list(range(1, 7))
    assert (told.budgets[-1].pairs, told.rows) == (8, (6,))
    assert told.left[0].measure == 7
    assert set(told.unasked) == {"rose", "spider-8", "spider-12", "spider-16"}
    assert chart(told).bars == []


# --- what it tells -----------------------------------------------------------------------------------------


def test_the_record_holds_every_figure_and_no_place_or_time(found: Survey) -> None:
    text = to_text(found, {16: (1, 2)}, {6: "why not"})
    data = json.loads(text)
    assert (data["format"], data["version"], data["stamps"]) == (
        "stampwork budget",
        3,
        [{"name": "leaf", "known_alone_pitches": 10.0}],
    )
    assert [each["pairs"] for each in data["budgets"]] == list(range(6, 19))
    assert [each["measure"] for each in data["sizes"]] == list(range(1, 17))
    last = data["sizes"][-1]
    assert (last["pairs"], last["width_mm"], last["wraps_per_cm"]) == (18, [80.0, 80.0], [24.0, 24.0])
    assert last["squares"] == [1, 2]
    assert data["rows"][0]["reason"] == "why not"
    best = data["budgets"][-1]["print"]
    at = data["sizes"][best["measure"] - 1]["print"]
    assert {"measure": best["measure"], **at} == best
    assert data["known_from_pairs"] == known_from(found)
    assert not re.search(r"/|\\|second|elapsed|date|time|cores", text)
    assert str(os.getpid()) not in re.findall(r"\d+", text)


def test_the_table_has_a_line_a_row_and_says_why_one_is_empty(found: Survey) -> None:
    numbers = {each.size.measure: tuple(range(1, 1 + len(each.designs))) for each in found.reached}
    lines = table(found, numbers, {pairs: "" if found.shown(pairs) else f"why {pairs}" for pairs in ROWS}).lines()
    sizes, prints = ["pairs", "half-size", "size", "pitch", "wraps/cm"], ["the print is", "pitches"]
    assert re.split(" {2,}", lines[0]) == [*sizes, *prints, "fillings", "squares"]
    assert [line.split()[0] for line in lines[1:]] == ["6", "9", "12", "15", "18"]
    assert lines[1].endswith("why 6")
    assert "80 mm" in lines[-1]


def test_a_heading_tells_size_pitch_thread_and_fillings(found: Survey) -> None:
    best = found.best_print(found.budget(18))
    assert best is not None
    assert best.known in (KNOWN, AT_ONCE)
    told = heading(found, found.budget(18))
    assert told[:4] == ["up to half-size 16", "80 mm wide", "pitch 5 mm", "thread 24 wraps/cm"]
    assert told[-1] == "rose, spiders 8, 12, 16"
    assert f"{KNOWN_AS[best.known]} ({best.size:g} pitches)" in told
    assert heading(found, Budget(2)) == []


def test_the_plot_states_where_the_best_stands_and_the_first_pairs_of_each_filling(found: Survey) -> None:
    shown = chart(found)
    assert shown.panel is not None
    (stair,) = shown.panel.stairs
    for budget, value, at in zip(found.budgets, stair.values, stair.at, strict=True):
        assert (value, at) == ((None, None) if budget.eyes is None else (budget.eyes.value, budget.eyes.measure))
    assert shown.mark_words == f"known from {known_from(found)} pairs"
    assert [bar.name for bar in shown.bars] == ["rose", *(f"spider of {legs} legs" for legs in (8, 12, 16))]
    for bar, name in zip(shown.bars, found.fillings, strict=True):
        with_it = [each.size.pairs for each in found.reached if each.verdicts.get(name) is Verdict.FOUND]
        assert bar.whole == min(with_it)
        assert bar.words == f"from {bar.whole} pairs"


def test_squares_with_a_stamp_are_kept_with_its_picture(found: Survey, tmp_path: Path) -> None:
    picture = built_in("leaf").read_bytes()
    numbers, reasons = write(found, tmp_path / "leaf", [picture], False, ("lace", "screen"), 1)
    study = open_study(tmp_path / "leaf")
    assert ([each.name for each in study.stamps], study.brief.stamp.name) == (["leaf"], "leaf")
    assert [design.number for design in study.designs] == [n for each in numbers.values() for n in each]
    assert study.picture_bytes() == [picture]
    assert [pairs for pairs, reason in reasons.items() if reason] == [p for p in ROWS if found.shown(p) is None]


def test_rows_follow_the_range() -> None:
    assert rows((6, 18), 3) == ROWS
