"""`stampwork materials`: the table, the page and the swatch, read back from the files."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from asked import Ask, kept_study
from fakes import plain_square

from constraints import forms
from constraints.brief import Brief
from constraints.check import check
from constraints.design import FieldFilling
from constraints.design_file import from_text
from constraints.materials import Allowances, materials
from constraints.working.work import work
from explore.papers.materials import lacking, swatch_of, told
from explore.storage.study import Study

SQUARE = replace(plain_square(7), form=forms.Square(8), pairs=10)


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Study:
    monkeypatch.chdir(tmp_path)
    return kept_study(tmp_path / "garden-society", Brief.of(stamp=""), [SQUARE])


def test_the_table_and_the_page_say_what_the_model_adds_up(ask: Ask, study: Study) -> None:
    status, lines, errors = ask("materials", "garden-society", "7")
    assert (status, errors) == (0, [])
    found = materials(work(SQUARE))
    text = (study.folder / "papers" / "07-materials.txt").read_text()
    page = pypdf.PdfReader(study.folder / "papers" / "07-materials.pdf").pages[0].extract_text()
    metres = math.ceil(found.total_m)
    for words in (f"{found.bobbins} bobbins", f"{metres} m of thread", "24 wraps", "not for small children"):
        assert words in text
        assert words in page
    assert f"Pairs: {found.pairs}, so {found.bobbins} bobbins" in lines


def test_no_length_that_is_wound_or_cut_is_told_shorter_than_it_is() -> None:
    done = work(SQUARE)
    for more in range(400, 500, 7):
        added = Allowances(handling_mm=more)
        found = materials(done, added)
        lines = dict(told(found, added))
        for each in found.thread:
            words = lines[f"On a bobbin, {each.name}"]
            lengths = [1000 * float(length) for length in re.findall(r"([\d.]+) m\b", words)]
            wanted = [each.shortest, each.longest, each.mean] if len(lengths) == 3 else [each.longest]
            # Rounded up to a tenth of a metre, and no further.
            assert all(need <= length < need + 101 for need, length in zip(wanted, lengths, strict=True))
        assert found.total_m <= int(lines["In all"].split()[0]) < found.total_m + 1
        least, most = map(int, lines["Hours"].split(" to "))
        assert least <= found.hours[0] < found.hours[1] <= most


def test_the_swatch_can_be_worked_and_has_the_pitch_and_the_stitches(ask: Ask, study: Study) -> None:
    ask("materials", "garden-society", "7")
    swatch = from_text((study.folder / "papers" / "07-swatch.json").read_text())
    assert check(swatch) == []
    assert (swatch.pitch_mm, swatch.passives, swatch.worked) == (SQUARE.pitch_mm, SQUARE.passives, SQUARE.worked)
    assert swatch == swatch_of(SQUARE, cores=1)


def test_what_the_swatch_is_without_is_told() -> None:
    with_spider = replace(SQUARE, fillings=(FieldFilling("spider-8", ((0, -4),)),))
    assert lacking(SQUARE, with_spider) == "spider"
    assert lacking(with_spider, SQUARE) == lacking(SQUARE, SQUARE) == ""


def test_her_own_figures_are_taken(ask: Ask, study: Study) -> None:
    status, lines, _ = ask("materials", "garden-society", "7", "--handling", "0", "--take-up", "0", "--pace", "50-100")
    assert status == 0
    assert any("50 to 100 crossings an hour" in line and "0 mm a bobbin" in line for line in lines)


def test_nothing_is_replaced_unasked_and_bad_values_are_one_line(ask: Ask, study: Study) -> None:
    assert ask("materials", "garden-society", "7")[0] == 0
    status, _, errors = ask("materials", "garden-society", "7")
    assert (status, len(errors)) == (2, 1)
    assert "--force" in errors[0]
    assert ask("materials", "garden-society", "7", "--force")[0] == 0
    for bad in (("--pace", "fast"), ("--reserve", "much"), ("--handling", "-3")):
        status, _, errors = ask("materials", "garden-society", "7", "--force", *bad)
        assert (status, len(errors)) == (2, 1)
        assert bad[0] in errors[0]
