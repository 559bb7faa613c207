"""`stampwork pack`: the booklet read back with pypdf, part by part."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest
from asked import Ask, kept_study
from fakes import plain_square

from constraints.brief import Brief
from explore.storage.study import Study

PARTS = ["Cover", "Materials", "Pricking", "Working diagram", "Order of work"]


@pytest.fixture
def study(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Study:
    monkeypatch.chdir(tmp_path)
    return kept_study(tmp_path / "garden-society", Brief.of(stamp=""), [plain_square(7)])


def test_the_booklet_holds_every_paper_in_its_order(ask: Ask, study: Study) -> None:
    status, lines, errors = ask("pack", "garden-society", "7", "--title", "Garden at Dusk")
    assert (status, errors) == (0, [])
    file = study.folder / "papers" / "07-booklet.pdf"
    booklet = pypdf.PdfReader(file)
    assert lines == [f"07: {len(booklet.pages)} pages: garden-society/papers/07-booklet.pdf"]
    marks = [(each.title, booklet.get_destination_page_number(each)) for each in booklet.outline]
    assert [title for title, _ in marks] == PARTS
    words = [booklet.pages[first].extract_text() for _, first in marks]
    told = ("Garden at Dusk", "12 bobbins", "100 mm", "Working diagram", "Order of work")
    assert all(each in text for each, text in zip(told, words, strict=True))
    assert [path.name for path in file.parent.iterdir()] == ["07-booklet.pdf"]


def test_its_pages_are_those_of_the_papers_at_their_own_size(ask: Ask, study: Study) -> None:
    assert ask("pack", "garden-society", "7", "--paper", "a3")[0] == 0
    assert ask("pricking", "garden-society", "7", "--paper", "a3")[0] == 0
    booklet = pypdf.PdfReader(study.folder / "papers" / "07-booklet.pdf")
    alone = pypdf.PdfReader(study.folder / "papers" / "07-pricking.pdf").pages[0]
    first = booklet.get_destination_page_number(booklet.outline[PARTS.index("Pricking")])
    page = booklet.pages[first]
    assert [float(v) for v in page.mediabox] == pytest.approx([float(v) for v in alone.mediabox], abs=0.001)
    assert page.get_contents().get_data() == alone.get_contents().get_data()


def test_the_same_square_makes_the_same_booklet_and_nothing_is_replaced_unasked(ask: Ask, study: Study) -> None:
    for folder in ("one", "two"):
        assert ask("pack", "garden-society", "7", "--out", folder)[0] == 0
    assert Path("one/07-booklet.pdf").read_bytes() == Path("two/07-booklet.pdf").read_bytes()
    status, _, errors = ask("pack", "garden-society", "7", "--out", "one")
    assert status == 2
    assert "--force" in errors[0]
