"""`stampwork show`: sizes measured in the files by other readers, and what it refuses."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pytest
from asked import Ask, kept_study
from fakes import plain_square
from PIL import Image
from strips import strip

from constraints.brief import Brief
from constraints.forms import Strip
from explore.storage.study import Study


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Study:
    monkeypatch.chdir(tmp_path)
    return kept_study(tmp_path / "garden-society", Brief.of(stamp=""), [plain_square(7)])


def test_both_looks_are_written_at_the_size_asked_for(ask: Ask, study: Study) -> None:
    status, lines, errors = ask("show", "garden-society", "7", "--size", "60mm", "--plain")
    assert (status, len(lines), errors) == (0, 2, [])
    for look in ("drawing", "lace"):
        file = study.folder / "papers" / f"07-{look}"
        box = pypdf.PdfReader(file.with_suffix(".pdf")).pages[0].mediabox
        assert float(box.width) == float(box.height) == pytest.approx((60 + 16) / 25.4 * 72, abs=0.1)
        assert ElementTree.parse(file.with_suffix(".svg")).getroot().get("width") == "60mm"
        with Image.open(file.with_suffix(".png")) as picture:
            assert picture.width == picture.height


@pytest.mark.parametrize(("repeats", "share"), [(4, 14.8 / 49.8), (40, 1 / 8)])
def test_a_strip_is_shown_on_a_page_of_its_own_shape(
    ask: Ask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, repeats: int, share: float
) -> None:
    # 12 units wide and 12 rows a repeat, less one unit, with 1.4 units beside it; a very long one is an eighth wide.
    monkeypatch.chdir(tmp_path)
    kept_study(tmp_path / "edgings", Brief.of(stamp=""), [strip(Strip(13, 12, repeats), passives=1)])
    assert ask("show", "edgings", "1", "--look", "drawing", "--size", "120mm", "--plain")[0] == 0
    file = tmp_path / "edgings" / "papers" / "01-drawing"
    box = pypdf.PdfReader(file.with_suffix(".pdf")).pages[0].mediabox
    wide, high = (float(each) / 72 * 25.4 - 16 for each in (box.width, box.height))
    assert (wide, high) == pytest.approx((120 * share, 120), abs=0.1)
    root = ElementTree.parse(file.with_suffix(".svg")).getroot()
    measured = [float((root.get(side) or "").removesuffix("mm")) for side in ("width", "height")]
    assert measured == pytest.approx([120 * share, 120], abs=0.1)
    # Facts need some width, and break into lines on it.
    assert ask("show", "edgings", "1", "--look", "drawing", "--size", "120mm", "--force")[0] == 0
    page = pypdf.PdfReader(file.with_suffix(".pdf")).pages[0]
    assert float(page.mediabox.width) / 72 * 25.4 == pytest.approx(80 + 16, abs=0.1)
    assert f"{repeats} repeats" in page.extract_text()


def test_the_facts_stand_below_unless_she_wants_it_plain(ask: Ask, study: Study) -> None:
    for given, told in (((), True), (("--plain", "--force"), False)):
        assert ask("show", "garden-society", "7", "--look", "lace", *given)[0] == 0
        words = pypdf.PdfReader(study.folder / "papers" / "07-lace.pdf").pages[0].extract_text()
        assert ("No. 7" in words and "6 pairs" in words) == told


def test_what_cannot_be_taken_is_one_line(ask: Ask, study: Study) -> None:
    for bad in (("7", "--look", "silk"), ("7", "--size", "2mm"), ("8",)):
        status, _, errors = ask("show", "garden-society", *bad)
        assert (status, len(errors)) == (2, 1)
    ask("show", "garden-society", "7", "--look", "lace")
    status, _, errors = ask("show", "garden-society", "7")
    assert status == 2
    assert "--force" in errors[0]
    assert not (study.folder / "papers" / "07-drawing.png").exists()


def test_threads_are_coloured_by_the_pairs_as_they_are_hung(ask: Ask, study: Study) -> None:
    asked = ("--look", "lace", "--colour", "2a=crimson", "--colour", "3=#4169e1")
    status, _, errors = ask("show", "garden-society", "7", *asked)
    assert (status, errors) == (0, [])
    papers = study.folder / "papers"
    drawn = (papers / "07-lace.svg").read_text()
    assert "#dc143c" in drawn
    assert "#4169e1" in drawn
    words = pypdf.PdfReader(papers / "07-lace.pdf").pages[0].extract_text()
    assert "Coloured: 2a crimson, 3 #4169e1" in words
    layers = ElementTree.fromstring(drawn).findall("{http://www.w3.org/2000/svg}g")
    assert [layer.get("id") for layer in layers] == ["lace"]


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("99a=crimson", "pairs are 1 to 6 as they are hung; the nearest is 6"),
        ("2c=crimson", "a pair has the threads a and b; the nearest is 2b=crimson"),
        ("crimson", 'is "crimson"; allowed: a pair as it is hung'),
        ("2a=crimsn", "did you mean crimson?"),
        ("2a=#12", "is no colour"),
    ],
)
def test_a_thread_that_cannot_be_coloured_is_one_line_before_anything_is_written(
    ask: Ask, study: Study, asked: str, told: str
) -> None:
    status, _, errors = ask("show", "garden-society", "7", "--colour", asked)
    assert (status, len(errors)) == (2, 1)
    assert told in errors[0]
    assert not (study.folder / "papers").exists()
