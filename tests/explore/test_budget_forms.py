"""Budgets of strips, frames, rectangles and edged squares, and of several stamps: pairs by arithmetic alone, designs
within them, and what stands in the way in words.

Pairs of a strip, a frame and a rectangle: one a line of the ground, an edge pair and its passives at both edges (common
practice, no source).
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from asked import STRIPS

from constraints.brief import KNOWING, KNOWN, Brief
from constraints.check import check
from constraints.forms import FORMS, Frame, Rectangle, Strip
from explore.editing.budget.charting import asked_for, chart
from explore.editing.budget.frontier import Verdict
from explore.editing.budget.reasons import reason
from explore.editing.budget.record import to_text
from explore.editing.budget.showing import showing
from explore.editing.budget.sizes import affordable, measure_of
from explore.editing.budget.survey import Survey, survey
from explore.editing.budget.words import heading, table
from explore.reading import built_in, read
from explore.search.frames.workshop import FrameWorkshop, kinds
from explore.storage.study import open_study

Ask = Callable[..., tuple[int, list[str], list[str]]]

BRIEFS = {
    "strip": STRIPS.changed(symmetry="upright-mirror,none", rows=(12, 14), pairs=14, solid=(0.05, 0.6)),
    "frame": Brief.of(form="frame", half_size=(14, 14), half_height=14, pairs=14, solid=(0.05, 0.6)),
    "rectangle": Brief.of(form="rectangle", worked="across", symmetry="none", pairs=22, solid=(0.05, 0.6)),
}


def quiet(words: str, done: int, total: int) -> None:
    assert 0 <= done <= total


@pytest.fixture(scope="module", params=BRIEFS)
def found(request: pytest.FixtureRequest) -> Survey:
    brief = BRIEFS[request.param].changed(stitches=("cloth", "rose", "spider"), effort=0.3)
    most = brief.rules.pairs
    return survey(brief, (), (most - 3, most), (most - 3, most), 1, quiet)


def test_a_measure_more_takes_its_pairs() -> None:
    """Of p passives at each of two edges: c columns have c - 1 lines, a band of b units b, a half-width a 2a."""
    for passives in (1, 2):
        edges = 2 * (1 + passives)
        lines = {"strip": lambda c: c - 1, "frame": lambda b: b, "rectangle": lambda a: 2 * a}
        for name, brief in BRIEFS.items():
            sizes = affordable(brief.changed(passives=passives), brief.rules.pairs + 4)
            assert len(sizes) > 2, name
            assert [each.pairs for each in sizes] == [lines[name](each.measure) + edges for each in sizes]
            assert sizes[-1].pairs in (brief.rules.pairs + 3, brief.rules.pairs + 4)


def test_every_design_is_of_its_size_within_its_budget(found: Survey) -> None:
    designs = [(each.size, design) for each in found.reached for design in each.designs]
    assert designs
    for size, design in designs:
        assert check(design) == []
        assert design.pairs == size.pairs
        form = design.form
        if isinstance(form, Strip):
            assert (form.columns, form.rows in (12, 14)) == (size.measure, True)
        elif isinstance(form, Frame):
            assert (form.band, form.half_width, form.half_height) == (size.measure, 14, 14)
        else:
            assert isinstance(form, Rectangle)
            assert form.half_width == size.measure


def test_fillings_are_found_or_proven_to_find_no_room(found: Survey) -> None:
    verdicts = {name: best.value for name, best in found.budgets[-1].verdicts.items()}
    assert verdicts["rose"] is Verdict.FOUND
    assert all(verdict in (Verdict.FOUND, Verdict.IMPOSSIBLE, Verdict.NOT_FOUND) for verdict in verdicts.values())


def test_what_is_told_names_the_measure_of_the_form(found: Survey) -> None:
    name = found.brief.piece.form
    measure, said = {
        "strip": ("columns", "7\N{EN DASH}11 columns"),
        "frame": ("band", "a band of 6\N{EN DASH}10"),
        "rectangle": ("half-size", "half-size 6\N{EN DASH}9"),
    }[name]
    assert measure_of(found.brief).told == measure
    assert heading(found, found.budgets[-1])[0] == said
    assert json.loads(to_text(found, {}, {}))["measure"] == measure
    assert (
        table(found, {each.size.measure: () for each in found.reached}, dict.fromkeys(found.rows, ""))
        .lines()[0]
        .split()[1]
        == measure
    )
    assert f"a {name}" in asked_for(found)
    assert chart(found).under[0] == f"most: {measure}"


@pytest.mark.parametrize("form", ["frame", "rectangle"])
def test_whatever_a_search_tries_for_so_many_pairs_a_budget_of_them_affords(form: str) -> None:
    brief = Brief.of(form=form, worked=FORMS[form].ways[0], symmetry="suits", stamp="tulip", pairs=20)
    tried = {kind.form for kind in kinds(brief)}
    afforded = {kind.form for size in affordable(brief, 20) for kind in kinds(size.brief)}
    assert len(tried) > 2
    assert tried <= afforded


def test_a_print_is_told_of_the_piece_that_it_lies_on() -> None:
    """Here the kinds of pieces on which the tulip finds no place stand before others."""
    brief = Brief.of(form="rectangle", worked="across", symmetry="suits", stamp="tulip", pairs=16)
    own = FrameWorkshop(brief, (read(built_in("tulip")),))
    laid = own.best_laid([0.0], 3)
    assert laid
    assert len(own.grounds) < len(own.kinds)
    for each in laid:
        assert each.laid.placement in own.stages.places(each.number)
        assert own.grounds[each.number] is own.kinds[each.number]
    assert showing(own.grounds, laid) is not None


def test_a_print_is_looked_for_as_large_as_it_must_be_where_there_is_room_and_known_there() -> None:
    """A search for frames of these pairs finds the tulip known from 10 pitches, on a band of 22."""
    brief = Brief.of(form="frame", symmetry="suits", stamp="tulip", pairs=26, known=KNOWN, own_splits=6)
    own = FrameWorkshop(affordable(brief, 26)[-1].brief, (read(built_in("tulip")),))
    laid = own.best_laid([10.0], 8)
    assert {each.laid.placement.size for each in laid} == {10.0}
    shown = showing(own.grounds, laid)
    assert shown is not None
    assert shown.known == KNOWN
    assert all(each.laid.placement.size < 10.5 for each in own.best_laid([10.5], 1))


def test_a_budget_below_every_size_says_how_much_the_least_takes() -> None:
    brief = BRIEFS["strip"].changed(columns=9, pairs=14)
    done = survey(brief, (), (10, 14), (10, 14), 1, quiet)
    words, near = reason(done, 10)
    assert (words, near) == ("a strip of 9 columns takes 12 pairs; 10 pairs suffice for 7 columns", ())


def test_the_command_surveys_an_edged_square_and_two_stamps(
    ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for words in (
        ["--no-stamp", "--pairs", "12-13", "--symmetry", "half-turn", "--edging", "cloth fan 3"],
        [
            "bee",
            "leaf",
            "--known",
            "no",
            "--pairs",
            "20-20",
            "--symmetry",
            "none",
            "--place",
            "bee=middle,leaf=corners",
        ],
    ):
        status, lines, errors = ask("budget", *words, "--effort", "0.1", "--cores", "1", "--out", "here", "--force")
        assert (status, errors) == (0, []), errors
        assert lines
        study = open_study(Path("here"))
        assert all(check(design) == [] for design in study.designs)
    two = json.loads(Path("here/budget.json").read_text())
    assert [each["name"] for each in two["stamps"]] == ["bee", "leaf"]
    assert two["budgets"][0]["print"]["name"] in ("bee", "leaf")
    assert two["budgets"][0]["print"]["known"] in KNOWING
    assert [each.name for each in study.stamps] == ["bee", "leaf"]
    assert all([one.name for one in design.prints] == ["bee", "leaf"] for design in study.designs)
