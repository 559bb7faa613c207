"""Sheets in a study: every square is on one, in every format, and no page of an old sheet stays behind."""

from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from fakes import petal, plain_square
from PIL import Image

from constraints.brief import Brief
from explore.commands import shared
from explore.storage.sheets import write_sheets
from explore.storage.study import create
from gallery.looks.named import LOOKS
from gallery.paper.page import PAPERS

NamesOf = Callable[[str, str], list[str]]


@pytest.fixture
def names_of(tmp_path: Path) -> NamesOf:
    study = create(tmp_path, Brief.of(stamp="petal", match=0.65), (petal(),), (b"<svg/>",))
    for number in range(1, 26):
        study = study.keep(plain_square(number), job=number)

    def written(look: str, paper: str) -> list[str]:
        return [path.name for path in write_sheets(study, look, paper)]

    return written


def test_pages_beyond_the_first_have_pictures_too(names_of: NamesOf, tmp_path: Path) -> None:
    # 24 squares fill a page; the PDF is counted and the PNG opened by libraries that did not write them.
    assert names_of("drawing", "a4") == ["sheet.png", "sheet-2.png", "sheet.svg", "sheet-2.svg", "sheet.pdf"]
    assert len(pypdf.PdfReader(tmp_path / "sheet.pdf").pages) == 2
    with Image.open(tmp_path / "sheet-2.png") as picture:
        assert picture.height > picture.width
    assert {path.name for path in tmp_path.iterdir() if "sheet" in path.name} == set(names_of("drawing", "a4"))


def test_pages_of_an_earlier_sheet_do_not_stay(names_of: NamesOf, tmp_path: Path) -> None:
    names_of("drawing", "a4")
    (tmp_path / "sheet-of-mine.png").write_text("hers")
    assert names_of("lace", "screen") == ["sheet.png", "sheet.svg", "sheet.pdf"]
    assert not (tmp_path / "sheet-2.png").exists()
    assert (tmp_path / "sheet-of-mine.png").exists()


def test_the_command_line_offers_the_looks_and_papers_there_are() -> None:
    assert sorted(shared.LOOK.names) == sorted(LOOKS)
    assert sorted(shared.PAPER.names) == sorted([*PAPERS, "screen"])
