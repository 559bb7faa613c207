"""How she works, told to the papers by options: the same on every paper, and one line where it cannot be."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from asked import Ask, files_of, kept_study
from fakes import plain_square

from constraints.brief import Brief
from constraints.design import Block
from explore.storage.study import Study

DIAMOND = Block("cloth", ((-2, -1), (-3, 0), (-1, 0), (-2, 1)))
PAPERS = ("pricking", "diagram", "work", "materials", "pack")


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Study:
    """A round square with one block, and one worked across."""
    monkeypatch.chdir(tmp_path)
    design = replace(plain_square(1), symmetry="none", blocks=(DIAMOND,))
    across = replace(plain_square(2), worked="across", pairs=2 * design.half_size + 4)
    return kept_study(tmp_path / "garden-society", Brief.of(stamp=""), [design, across])


@pytest.mark.parametrize("paper", PAPERS)
def test_every_paper_takes_corner_pins_and_a_horizontal_start_and_but_for_the_pricking_a_gimp(
    ask: Ask, study: Study, paper: str
) -> None:
    made = {}
    ways = {"plain": [], "other": ["--corner-pins", "--start-line", "horizontal"]}
    if paper != "pricking":
        ways["gimp"] = ["--gimp", "1", "--method", "open"]
    for name, options in ways.items():
        status, _, errors = ask(paper, "garden-society", "1", "--out", name, *options)
        assert (status, [line for line in errors if "swatch" not in line]) == (0, [])
        made[name] = files_of(Path(name))
    assert made["plain"].keys() == made["other"].keys()
    pdf = next(name for name in made["plain"] if name.endswith(".pdf"))
    assert all(each[pdf] != made["plain"][pdf] for name, each in made.items() if name != "plain")


def test_pins_are_four_more_on_every_paper(ask: Ask, study: Study) -> None:
    # Half-size 4: 2 x 4 x 5 pinholes (the Aztec diamond of order 4 has as many cells).
    papers = "pricking", "work", "materials"
    said = [" ".join(ask(paper, "garden-society", "1", "--corner-pins")[1]) for paper in papers]
    assert "44 pins" in said[0]
    assert "44 pins" in said[1]
    assert "Pins: 44 " in said[2]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["diagram", "garden-society", "1", "--start-line", "slanting"], "allowed: suits, corner, horizontal"),
        (["diagram", "garden-society", "1", "--method", "ajar"], "allowed: closed, open"),
        (["work", "garden-society", "1", "--gimp", "one"], "whole numbers with commas between"),
        (["work", "garden-society", "1", "--gimp", "1,2"], "blocks are numbered 1 to 1"),
        (["work", "garden-society", "2", "--gimp", "1"], "there are no blocks"),
        (["pricking", "garden-society", "2", "--corner-pins"], "stand where the footside goes round corners"),
        (["pack", "garden-society", "2", "--start-line", "horizontal"], "only what is worked round has a start line"),
    ],
)
def test_what_cannot_be_is_one_line(ask: Ask, study: Study, arguments: list[str], told: str) -> None:
    status, lines, errors = ask(*arguments)
    assert (status, lines, len(errors)) == (2, [], 1)
    assert told in errors[0]
    assert not (study.folder / "papers").exists()
