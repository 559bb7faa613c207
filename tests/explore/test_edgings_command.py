"""`edgings`: every edging offered holds, takes the pairs of the trade, and leaves the blocks where they are."""

from __future__ import annotations

from pathlib import Path

import pytest
from asked import Ask, kept_study

from constraints.brief import Brief
from constraints.catalogue import CATALOGUE
from constraints.check import check
from constraints.design import Design
from constraints.design_file import from_text
from constraints.working import check as working
from constraints.working.work import work
from explore.editing.edgings.trying import Trying
from explore.search.search import search
from explore.storage.study import Study

SQUARE = Brief.of(pairs=16, count=1)
FRAME = Brief.of(form="frame", pairs=18, count=1)
RECTANGLE = Brief.of(form="rectangle", worked="across", symmetry="upright-mirrors", pairs=24, count=1)
STRIP = Brief.of(form="strip", worked="across", symmetry="suits", pairs=14, count=1, rows=(12, 12))


@pytest.fixture(scope="module")
def pieces() -> list[Design]:
    design = next(step.design for step in search(SQUARE, cores=1) if step.design)
    strip = next(step.design for step in search(STRIP, cores=1, first_number=2) if step.design)
    frame = next(step.design for step in search(FRAME, cores=1, first_number=3) if step.design)
    rectangle = next(step.design for step in search(RECTANGLE, cores=1, first_number=4) if step.design)
    return [design, strip, frame, rectangle]


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pieces: list[Design]) -> Study:
    monkeypatch.chdir(tmp_path)
    return kept_study(tmp_path / "garden-society", SQUARE, pieces)


def test_the_catalogue_holds_footsides_fans_and_scallops() -> None:
    called = [each.called for each in CATALOGUE]
    assert called[:3] == ["footside with 1 passive", "footside with 2 passives", "footside with 3 passives"]
    for stitch in ("cloth", "half"):
        assert [f"{stitch} fan {depth}" in called for depth in range(2, 7)] == [True] * 5
    # The edging of 1886 (Dillmont, fig. 799) has six pairs at the valley of a scallop three deep.
    assert "half scallop 3 with 6 pairs" in called
    assert all(each.headside.period == 2 * each.headside.depth for each in CATALOGUE if each.headside)


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_every_edging_offered_can_be_worked_and_keeps_the_blocks(study: Study, number: int) -> None:
    trying = Trying(study.folder, number)
    fitting = [(wanted, offer) for wanted, offer in trying.all() if offer is not None]
    assert len(fitting) > 10
    for wanted, offer in fitting[::3]:
        assert check(offer.piece) == []
        assert working.faults(work(offer.piece)) == []
        if wanted.headside is not None:
            # One line less than with a plain edge, and its own pairs at the valley; each unit or column one more. A
            # rectangle has two such edges, and grows on both.
            more = wanted.headside.pairs - 1 - trying.piece.passives - 1 + offer.grown
            assert offer.piece.pairs == trying.piece.pairs + (2 if number == 4 else 1) * more
        if number != 2:
            assert {block.pinholes for block in trying.piece.blocks} <= {b.pinholes for b in offer.piece.blocks}


def test_an_edging_is_applied_as_a_new_number(ask: Ask, study: Study) -> None:
    status, lines, errors = ask("edgings", "garden-society", "1")
    assert (status, errors) == (0, [])
    assert lines[0].startswith("edging ")
    assert (study.folder / "edgings-01.png").exists()
    status, lines, _ = ask("edgings", "garden-society", "2", "--apply", "half scallop 3 with 6 pairs")
    assert status == 0
    made = from_text((study.folder / "squares" / "05.json").read_text())
    assert made.form.headside is not None
    assert made.form.headside.pairs == 6
    assert check(made) == []
    status, _, errors = ask("edgings", "garden-society", "1", "--apply", "cloth fan 9")
    assert (status, len(errors)) == (2, 1)
    assert "did you mean cloth fan" in errors[0]
