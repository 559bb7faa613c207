"""Sheets of rows: every row once and in order, words apart from each other and from the pictures."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pypdf
import pytest
from examples import band, diamond, make
from matplotlib.backends.backend_agg import FigureCanvasAgg
from shapely.geometry import MultiPolygon, Point

from constraints.design import Design, Print
from constraints.stamp import Stamp
from gallery.paper.page import write
from gallery.sheets.rows import SheetRow, page_count, row_sheet

STAMP = Stamp("leaf", MultiPolygon([Point(0, 0).buffer(5)]))
TOLD = [
    "half-size 18\N{EN DASH}22", "110 mm, pitch 5.5\N{EN DASH}6.7 mm", "thread 18\N{EN DASH}22 wraps/cm",
    "match 0.86, detail 0.80", "readable 0.84 at 21", "not found: rose",
    "rose, spider 8", "without the stamp: rose, spiders 8, 12, 16, double ground",
]  # fmt: skip
WHY = "these pairs at a 3-7 mm pitch give at most 98 mm, 120 mm is asked for. " * 3


def designs(first: int) -> list[Design]:
    blocks = [("cloth", diamond(0, 0, 2)), ("half", band(5, 4)), ("whole", diamond(0, -7, 2))]
    stamp = Print("leaf", 7.0, 45.0, (), 0.876)
    made = [make(9, blocks if n % 2 else blocks[1:2], symmetry="none", stamp=stamp, splits=12) for n in range(4)]
    return [design.numbered(first + number) for number, design in enumerate(made)]


def rows(count: int) -> list[SheetRow]:
    """Rows with squares, but for every third, which says why it has none."""
    return [
        SheetRow(f"{16 + n} pairs", TOLD if n % 3 else [], designs(10 * n) if n % 3 else [], "" if n % 3 else WHY)
        for n in range(count)
    ]


@pytest.mark.parametrize("paper", ["a4", "a3", "screen"])
def test_words_neither_overlap_nor_leave_the_page(paper: str) -> None:
    figures = row_sheet(rows(12), title="Leaf " * 40, note="for the exhibition " * 30, paper=paper, stamps=(STAMP,))
    assert len(figures) == page_count(rows(12), paper, [STAMP])
    for figure in figures:
        renderer = FigureCanvasAgg(figure).get_renderer()
        texts = [text for text in figure.axes[0].texts if text.get_text()]
        boxes = [(text.get_text(), text.get_window_extent(renderer)) for text in texts]
        for (one, a), (other, b) in combinations(boxes, 2):
            across, down = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
            assert across <= 0 or down < 0.3 * min(a.height, b.height), (one, other)
        for words, box in boxes:
            assert figure.bbox.x0 < box.x0 < box.x1 < figure.bbox.x1, words
            assert figure.bbox.y0 < box.y0 < box.y1 < figure.bbox.y1, words


def test_every_row_stands_once_in_order_with_all_that_is_told(tmp_path: Path) -> None:
    write(row_sheet(rows(9), title="Leaf", stamps=(STAMP,)), tmp_path / "sheet.pdf")
    text = " ".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "sheet.pdf").pages)
    places = [text.index(f"{16 + n} pairs") for n in range(9)]
    assert places == sorted(places)
    plain = " ".join(text.split())
    for words in TOLD:
        assert plain.count(words) == 6
    assert plain.count("120 mm is asked") == 9


def test_a_caption_leaves_out_what_the_row_tells() -> None:
    other = [replace(design, pitch_mm=4.0, pairs=20) for design in designs(5)]
    (figure,) = row_sheet([SheetRow("16 pairs", [], designs(1)), SheetRow("20 pairs", [], other)], title="t")
    told = [text.get_text() for text in figure.axes[0].texts]
    assert sum("cloth" in words for words in told) == 5  # four captions and the legend
    assert [words for words in told if "pairs" in words or " mm" in words] == ["16 pairs", "20 pairs"]


def test_a_screen_holds_all_rows_on_one_page_and_none_makes_no_page() -> None:
    assert len(row_sheet(rows(14), title="t", paper="screen")) == 1
    assert row_sheet([], title="t") == []
    with pytest.raises(KeyError):
        row_sheet(rows(2), title="t", paper="a7")
